"""What a request may carry: a form that cannot be read is said to be so, and one too large is not read at all.

Left to itself, the framework takes a broken form for an empty one, which then looks like a form without its token; and
it reads a form without files into memory however long it is.
"""

from io import BytesIO
from typing import IO, Any

from flask import Request as FlaskRequest
from werkzeug.exceptions import BadRequest, RequestEntityTooLarge
from werkzeug.formparser import FormDataParser
from werkzeug.utils import cached_property

PIECE = 64 * 1024


class Forms(FormDataParser):
    """Reads forms, strictly and within the limits of the app."""

    def __init__(self, *args: Any, **values: Any) -> None:
        super().__init__(*args, **{**values, "silent": False})

    def parse(self, *args: Any, **values: Any) -> Any:
        try:
            return super().parse(*args, **values)
        except ValueError as error:
            raise BadRequest from error

    def _parse_urlencoded(self, stream: IO[bytes], mimetype: str, length: int | None, options: dict[str, str]) -> Any:
        content = self._whole(stream)
        if self.max_form_parts is not None and content.count(b"&") >= self.max_form_parts:
            raise RequestEntityTooLarge
        return super()._parse_urlencoded(BytesIO(content), mimetype, length, options)

    def _parse_multipart(self, *args: Any) -> Any:
        """Leave out what was sent without a name: nothing asks for it, and everything counts on names being text."""
        stream, form, files = super()._parse_multipart(*args)
        named = self.cls([(name, value) for name, value in form.items(multi=True) if name is not None])
        if None in files:
            for file in files.getlist(None):  # type: ignore[call-overload]  # the parser has none for a name
                file.close()
            files = self.cls([(name, file) for name, file in files.items(multi=True) if name is not None])
        return stream, named, files

    def _whole(self, stream: IO[bytes]) -> bytes:
        """Return what was sent, read in pieces so that nothing beyond the limit is kept."""
        content = bytearray()
        while piece := stream.read(PIECE):
            content += piece
            if self.max_form_memory_size is not None and len(content) > self.max_form_memory_size:
                raise RequestEntityTooLarge
        return bytes(content)


class Request(FlaskRequest):
    """A request whose form is read by these rules, and whose address is text whatever bytes stand in it."""

    form_data_parser_class = Forms

    @cached_property
    def full_path(self) -> str:
        return f"{self.path}?{self.query_string.decode(errors='replace')}"
