"""A walnut tray whose last coat of oil is curing."""

from webapp.invented.script import SHORT, Amount, Bill, Cut, Moisture, Note, Piece, Shot, Stage, Step

GLUE, OIL = "yellow PVA", "oil-varnish blend"

PIECE = Piece(
    "tray",
    "Walnut serving tray",
    "black walnut",
    "in the making",
    begun=21,
    client="Bo Tallow",
    contact="bo@example.org, or knock",
    note="A wedding present. Must carry six glasses and a jug: {520} by {340} inside the kitchen hatch.",
    due=7,
    price=480,
    consumables=8,
    steps=(
        Step("mill", "Mill the sides and the bottom", "mill", 60, 65,
             notes=(Note("From the offcuts of a sideboard, dry for two years.", 0.2),)),
        Step("tails", "Cut the dovetails", "dovetail", 100, 125, ("mill",), count=4,
             shots=(Shot("tray corner", "Three tails a corner.", 0.9),)),
        Step("slots", "Cut and ease the hand slots", "shape", 45, 50, ("tails",)),
        Step("groove", "Groove for the bottom", "groove", 15, 15, ("slots",)),
        Step("fit", "Dry fit", "dry fit", 20, 25, ("groove",), shots=(Shot("tray dry", "Together, dry."),)),
        Step("glue", "Glue up", "glue-up", 25, 28, ("fit",), "", GLUE, holds=((SHORT, 4),), assembly=6),
        Step("level", "Plane the corners flush", "level", 25, 20, ("glue: out of clamps",)),
        Step("sand", "Sand to 240", "sand", 40, 60, ("level",)),
        Step("coat-1", "Oil, coat 1", "coat", 20, 22, ("sand",), "finish", OIL,
             shots=(Shot("tray oil", "The bottom, first coat.", 0.5),)),
        Step("coat-2", "Oil, coat 2", "coat", 15, 15, (), "finish", OIL, "coat-1",
             notes=(Note("Bleed-out from the pores after an hour, wiped twice."),)),
        Step("coat-3", "Oil, coat 3", "coat", 15, 14, (), "finish", OIL, "coat-2", ended=23,
             shots=(Shot("tray wet", "The last coat.", cover=True),)),
        Step("feet", "Glue on the cork feet", "fit hardware", 15, None, ("coat-3: light use",)),
        Step("pack", "Pack", "pack", 15, None, ("feet",)),
        Step("hand-over", "Hand it over", "deliver", 10, None, ("pack",)),
    ),
    cuts=(
        Cut("Long side", 2, "12 x 48 x 520", "1/2 x 1 7/8 x 20 1/2"),
        Cut("End", 2, "12 x 62 x 340", "1/2 x 2 7/16 x 13 3/8", "with the slot"),
        Cut("Bottom", 1, "9 x 326 x 506", "3/8 x 12 7/8 x 19 7/8", "loose in its groove, {2} play across"),
    ),
    bills=(
        Bill("wood", "Walnut offcuts, by weight", Amount("3.2", "kg", "9.50"), Amount("4.5", "bd ft", "11.00"),
             "from the shelf", read=(Moisture(0.1, 8.3),)),
        Bill("hardware", "Cork feet", Amount("4", "pcs", "0.60"), None, "Brass & Brush", 8),
        Bill("glue and finish", "Wiping oil", Amount("0.15", "l", "28.50"), Amount("0.15", "qt", "24.00"),
             "Brass & Brush", 8),
    ),
    stages=(Stage("With the order", 50, 1), Stage("On handing over", 50)),
    hand_over=(("coat-3", "light use"),),
)  # fmt: skip
