"""Sending photos, what is said of one, and the time they were taken."""

from collections.abc import Iterable, Sequence
from datetime import timedelta
from typing import Any, BinaryIO

from werkzeug.datastructures import FileStorage
from wtforms import BooleanField, MultipleFileField, SelectField, TextAreaField
from wtforms.validators import ValidationError

from webapp.builds.models import Operation
from webapp.photos.models import Photo
from webapp.photos.moments import by_camera
from webapp.trade.numerals import read_decimal
from webapp.web.fields import MomentField, ReadField
from webapp.web.forms import Form, longest, with_files

MOST = 100
ACCEPTED = "image/jpeg,image/png,image/webp"  # phones turn HEIC into JPEG by themselves when it is not among these
LONGEST_HOURS = 60 * 366 * 24


class PhotosForm(Form):
    photos = MultipleFileField("Photos", render_kw={"accept": ACCEPTED})
    caption = TextAreaField("What they show", [longest(2000)], description="A note for all of them. May stay empty.")
    cover = BooleanField("The first one is the picture of the build")

    def __init__(self, form: Any = None, files: Any = None) -> None:
        super().__init__(with_files(form, files, "photos"))

    def validate_photos(self, _field: MultipleFileField) -> None:
        count = len(self.chosen())
        if not count:
            raise ValidationError("Choose at least one photo.")
        if count > MOST:
            raise ValidationError(f"{count} files were chosen, and at most {MOST} go at once. None was stored yet.")

    def chosen(self) -> list[tuple[str, BinaryIO]]:
        """Return (name, file) of each; a browser that chose nothing sends one without a name."""
        files = [file for file in self.photos.data or () if isinstance(file, FileStorage) and file.filename]
        return [(str(file.filename), file.stream) for file in files]  # type: ignore[misc]


class PhotoForm(Form):
    caption = TextAreaField("What it shows", [longest(2000)])
    operation = SelectField("Belongs to")

    def __init__(self, *args: Any, operations: Iterable[Operation], **values: Any) -> None:
        super().__init__(*args, **values)
        self.operation.choices = [("", "the build as a whole"), *((str(one.id), one.name) for one in operations)]


class HoursField(ReadField):
    """A span in hours, forward or back, exact to four places."""

    def read(self, text: str) -> timedelta:
        hours = read_decimal(text.lower().removeprefix("+").removesuffix("h"), negative=True)
        if abs(hours) > LONGEST_HOURS:
            raise ValueError("At most 60 years.")
        return timedelta(hours=float(hours))

    def show(self, value: Any) -> str:
        return f"{value / timedelta(hours=1):g}"


class ShiftForm(Form):
    """How far the camera's clock was off: in hours, or by when the first photo was really taken."""

    first = MomentField("The first one was really taken at")
    hours = HoursField("Or: hours to add", description="-1 takes an hour away; 5.5 adds five and a half.")

    def span(self, photos: Sequence[Photo]) -> timedelta | None:
        """Return by how much to move the camera's times; none while neither is given."""
        if self.first.data:
            moved: timedelta = self.first.data - by_camera(photos[0])
            return moved
        return self.hours.data if isinstance(self.hours.data, timedelta) else None

    def validate_hours(self, field: HoursField) -> None:
        if (field.data is None) == (self.first.data is None) and not self.first.errors:
            raise ValidationError("Give one of the two.")
