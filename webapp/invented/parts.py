"""From the tables to rows: the parts of a piece and its sizes, in the units of the shop."""

from webapp.builds.keys import key_for
from webapp.builds.models import Build, Part, Size
from webapp.invented.script import US, Piece
from webapp.invented.script import Size as Wanted
from webapp.invented.stand import Stand
from webapp.trade import lengths
from webapp.trade.lengths import Length


def length_of(stand: Stand, metric: str, us: str) -> Length:
    """Return the one of two lengths that is in the shop's unit, as it would be typed there."""
    unit = stand.shop.length_unit
    return lengths.read(us if unit == US else metric, unit)


def size_key(name: str) -> str:
    """Return the key of a size: the names of a piece's sizes differ."""
    return key_for(name, ())


def parts(stand: Stand, build: Build, piece: Piece) -> list[Part]:
    """Return the rows of a piece's parts."""
    unit = stand.shop.length_unit
    rows = []
    for number, cut in enumerate(piece.cuts, 1):
        part = Part(
            shop_id=build.shop_id,
            build_id=build.id,
            position=number,
            name=cut.name,
            count=cut.count,
            wood=piece.wood,
            cut=cut.sawn,
            note=stand.said(cut.note),
        )
        for name, text in zip(("thickness", "width", "length"), cut.sizes(unit), strict=True):
            size = lengths.read(text, unit)
            setattr(part, f"{name}_typed", size.entered)
            setattr(part, f"{name}_nm", size.nanometres)
        rows.append(part)
    return rows


def sizes(stand: Stand, build: Build, piece: Piece) -> list[Size]:
    """Return the rows of what a piece should measure."""
    return [_size(stand, build, number, wanted) for number, wanted in enumerate(piece.sizes, 1)]


def _size(stand: Stand, build: Build, number: int, wanted: Wanted) -> Size:
    target, off = length_of(stand, wanted.metric, wanted.us), length_of(stand, *wanted.off)
    return Size(
        shop_id=build.shop_id,
        build_id=build.id,
        position=number,
        key=size_key(wanted.name),
        name=wanted.name,
        part=wanted.part,
        target_typed=target.entered,
        target_nm=target.nanometres,
        tolerance_typed=off.entered,
        tolerance_nm=off.nanometres,
        goes_into=size_key(wanted.into) if wanted.into else "",
        fit=wanted.fit,
    )
