"""Pictures for tests, made here: with position, comment and clock, as phones send them."""

from io import BytesIO

from PIL import Image, ImageDraw

from webapp.web import images

GPS = 0x8825


def scene(width: int = 400, height: int = 300) -> Image.Image:
    """A picture with a red corner at the top left, so that a wrong turn shows."""
    found = Image.linear_gradient("L").resize((width, height)).convert("RGB")
    ImageDraw.Draw(found).rectangle((0, 0, width // 4, height // 4), fill="red")
    return found


def sent(picture: Image.Image, kind: str = "JPEG", **options: object) -> BytesIO:
    out = BytesIO()
    picture.save(out, kind, **options)
    out.seek(0)
    return out


def phone_exif(orientation: int = 1, taken: str = "", offset: str = "") -> Image.Exif:
    exif = Image.Exif()
    exif[images.ORIENTATION] = orientation
    exif[0x010F] = "CAMERA-MAKER"
    exif.get_ifd(GPS).update({1: "N", 2: (40.0, 44.0, 55.0), 3: "W", 4: (73.0, 59.0, 11.0)})
    if taken:
        exif.get_ifd(images.EXIF)[0x9003] = taken
    if offset:
        exif.get_ifd(images.EXIF)[0x9011] = offset
    return exif
