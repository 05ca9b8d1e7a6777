"""The form that puts a file in."""

from typing import Any, BinaryIO, cast

from werkzeug.datastructures import FileStorage
from wtforms import FileField
from wtforms.validators import ValidationError

from webapp.web.forms import Form, with_files


class ImportForm(Form):
    file = FileField("The file", render_kw={"accept": ".json,.zip,application/json,application/zip"})

    def __init__(self, form: Any = None, files: Any = None) -> None:
        super().__init__(with_files(form, files, "file"))

    def validate_file(self, _field: FileField) -> None:
        if self.sent() is None:
            raise ValidationError("Choose the file that was taken out: it ends with .json or .zip.")

    def sent(self) -> BinaryIO | None:
        """Return what was sent, or none; a browser that chose nothing sends a file without a name."""
        found = self.file.data
        return cast(BinaryIO, found.stream) if isinstance(found, FileStorage) and found.filename else None
