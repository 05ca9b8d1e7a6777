"""An elm bookcase, being milled: a clock is running on it, and its shelves want to come out of their clamps."""

from webapp.invented.script import LONG, Amount, Bill, Cut, Live, Note, Piece, Shot, Stage, Step

GLUE, VARNISH = "yellow PVA", "wiping varnish"

PIECE = Piece(
    "bookcase",
    "Elm bookcase",
    "elm",
    "in the making",
    begun=12,
    client="Oskar Windlow",
    contact="oskar@example.org",
    note="Three shelves for tall books: 33 cm clear each. The elm came down in his own garden.",
    due=40,
    price=2100,
    shots=(Shot("bookcase sketch", "Plinth 60 mm, no doors.", days=0.03, cover=True),),
    steps=(
        Step("cut", "Cut the elm to rough length", "break down", 60, 75,
             shots=(Shot("bookcase boards", "His tree, two years under a roof.", 0.2),),
             notes=(Note("Wood moisture 9.6 %, the thick end 10.1. It may stay in the shop a week longer.", 0.5, "read"),)),
        Step("rough", "Rough mill, left 4 mm thick", "rough mill", 90, 120, ("cut",),
             notes=(Note("Grain goes every way. Light cuts, new knives halfway.", 0.6),)),
        Step("rest", "Stack in stickers to rest", "rest", 10, 12, ("rough",), own=(("rested", 96),)),
        Step("mill-shelves", "Final mill the shelf boards", "final mill", 50, 60, ("rest: rested",), "shelves"),
        Step("mill-backs", "Mill the back boards", "mill", 40, 45, ("rest: rested",), "back"),
        Step("mill-sides", "Final mill the sides", "final mill", 110, 42, ("rest: rested",), "case", low=90, high=160,
             live=Live(34), shots=(Shot("bookcase sides", "Sides and a spare, one face done.", 0.9),)),
        Step("glue-shelves", "Glue up the shelves", "glue-up", 40, None, ("mill-shelves",), "shelves", GLUE,
             holds=((LONG, 4),), assembly=7, live=Live(150, 106, clamped=109, tended=(("scrape", 66),)),
             shots=(Shot("bookcase shelves", "Two of the three, four clamps.", 0.98),)),
        Step("plane-shelves", "Plane the shelves flat", "level", 60, None, ("glue-shelves: ready to plane",), "shelves"),
        Step("mark-sides", "Mark out the housings", "mark out", 30, None, ("mill-sides",), "case"),
        Step("housings", "Cut the housings", "joinery", 90, None, ("mark-sides",), "case", count=8, low=70, high=140),
        Step("back-joints", "Rabbet the back boards", "rabbet", 45, None, ("mill-backs",), "back", count=7),
        Step("fit", "Dry fit the case", "dry fit", 40, None, ("housings", "plane-shelves"), "case"),
        Step("glue-case", "Glue up the case", "glue-up", 60, None, ("fit",), "case", GLUE, holds=((LONG, 8),), assembly=12),
        Step("level", "Level the joints", "level", 40, None, ("glue-case: out of clamps",), "case"),
        Step("sand", "Sand case and back", "sand", 110, None, ("level", "back-joints"), "finish"),
        Step("coat-1", "Wiping varnish, coat 1", "coat", 50, None, ("sand",), "finish", VARNISH),
        Step("coat-2", "Wiping varnish, coat 2", "coat", 45, None, (), "finish", VARNISH, "coat-1"),
        Step("back", "Fit the back", "fit hardware", 45, None, ("coat-2: light use",), "back"),
        Step("deliver", "Deliver", "deliver", 90, None, ("back",)),
    ),
    cuts=(
        Cut("Side", 2, "22 x 260 x 1090", "7/8 x 10 1/4 x 42 7/8"),
        Cut("Shelf, top and bottom", 4, "22 x 248 x 790", "7/8 x 9 3/4 x 31 1/8"),
        Cut("Back board", 7, "12 x 118 x 1060", "1/2 x 4 5/8 x 41 3/4"),
        Cut("Plinth", 2, "20 x 60 x 776", "13/16 x 2 3/8 x 30 1/2"),
    ),
    bills=(
        Bill("other", "Sawing and drying of his own elm", Amount("0.11", "m³", "420"), Amount("46", "bd ft", "2.10"),
             "the sawmill on the hill"),
        Bill("glue and finish", "Wiping varnish", Amount("1", "tin", "31.00"), None, "Brass & Brush", 4),
    ),
    stages=(Stage("With the order", 40, 2), Stage("When the case is glued", 30), Stage("On delivery", 30)),
    hand_over=(("coat-2", "light use"),),
)  # fmt: skip
