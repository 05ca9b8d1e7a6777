"""The form that puts a file in."""

from collections.abc import Mapping
from typing import Any, BinaryIO, cast

from werkzeug.datastructures import FileStorage
from wtforms import FileField
from wtforms.validators import ValidationError

from webapp.web.forms import Form

NOTHING: Mapping[str, FileStorage] = {}


class ImportForm(Form):
    file = FileField("The file", render_kw={"accept": ".json,.zip,application/json,application/zip"})

    def __init__(self, form: Any = None, files: Mapping[str, FileStorage] = NOTHING) -> None:
        super().__init__(form)
        self._sent = files.get("file")

    def validate_file(self, _field: FileField) -> None:
        if self.sent() is None:
            raise ValidationError("Choose the file that was taken out: it ends with .json or .zip.")

    def sent(self) -> BinaryIO | None:
        """Return what was sent, or none; a browser that chose nothing sends a file without a name."""
        found = self._sent
        return cast(BinaryIO, found.stream) if found is not None and found.filename else None
