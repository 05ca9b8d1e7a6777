"""The pieces of the invented shop, each a table of its own. All people and places are made up."""

from webapp.invented.pieces import bookcase, cabinet, desk, hall_table, stools, to_come, tray
from webapp.invented.script import Piece

PIECES: tuple[Piece, ...] = (
    hall_table.PIECE,
    stools.PIECE,
    cabinet.PIECE,
    desk.PIECE,
    tray.PIECE,
    to_come.JEWELLERY,
    bookcase.PIECE,
    to_come.BLANKETS,
)
