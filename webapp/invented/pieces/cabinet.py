"""An oak cabinet for a wall, with a client and still cared for."""

from webapp.invented.script import HELPER, LONG, SHORT, Amount, Bill, Cut, Note, Piece, Shot, Stage, Step

GLUE, OIL = "yellow PVA", "hardwax oil"

CASE = (
    Step("mark", "Mark out the dovetails", "mark out", 40, 45, ("mill",), "case"),
    Step("tails", "Saw and chop the tails", "dovetail", 110, 150, ("mark",), "case", count=4),
    Step("pins", "Saw and chop the pins", "dovetail", 130, 175, ("tails",), "case", count=4,
         notes=(Note("Second corner gapped on the inside: pins sawn on the line instead of beside it.", 0.5),),
         shots=(Shot("cabinet corner", "The last corner, a way apart.", 0.95),)),
    Step("grooves", "Groove the case for back and shelves", "groove", 45, 50, ("pins",), "case"),
    Step("glue-case", "Glue up the case", "glue-up", 45, 52, ("grooves",), "case", GLUE, holds=((LONG, 6),), assembly=9,
         notes=(Note("Open time 10 min, needed 9. Next time the two ends first, then the rest."),)),
    Step("level-case", "Plane the joints flush", "level", 45, 40, ("glue-case: out of clamps",), "case"),
)  # fmt: skip

DOOR = (
    Step("door-joints", "Cut the joints of the door frame", "joinery", 110, 130, ("mill",), "door"),
    Step("panel", "Raise the panel and oil it", "shape", 60, 75, ("mill",), "door",
         notes=(Note("Panel {4} narrower than groove to groove: it will grow in summer."),)),
    Step("glue-door", "Glue the frame, the panel loose", "glue-up", 30, 34, ("door-joints", "panel"), "door", GLUE,
         holds=((SHORT, 4),), shots=(Shot("cabinet door", "Door in clamps, flat to the eye."),)),
    Step("level-door", "Level the door joints", "level", 25, 28, ("glue-door: out of clamps",), "door",
         early="Last hour before the holiday, the joints are closed and I only take shavings."),
    Step("hang", "Hang the door and fit the catch", "fit doors", 80, 115, ("level-door", "level-case"), "door",
         low=60, high=140, notes=(Note("Gap {2} at the top, {1.5} at the lock side.", 1.0, "sized"),)),
)  # fmt: skip

PIECE = Piece(
    "cabinet",
    "Oak wall cabinet",
    "oak",
    "aftercare",
    begun=112,
    client="Runa Ashby-Lund",
    contact="runa@example.org",
    note="Hangs beside the stove, so it is dry there in winter. Door hinged on the left.",
    due_after=36,
    price=1650,
    notes=(Note("The wall is plastered laths: a French cleat over two studs, {406} apart.", 0.02),
           Note("She rang: the door closes as on the first day. To be looked at after a season of heating.", 75)),
    steps=(
        Step("cut", "Cut the oak to rough length", "break down", 40, 40,
             shots=(Shot("cabinet boards", "Oak, quarter-sawn where there was any.", 0.2),)),
        Step("rough", "Rough mill", "rough mill", 60, 65, ("cut",)),
        Step("rest", "Stack in stickers to rest", "rest", 10, 10, ("rough",), own=(("rested", 96),)),
        Step("mill", "Final mill", "final mill", 90, 105, ("rest: rested",),
             notes=(Note("One side cupped {1.5} over its width while it rested. Good that it did it now."),)),
        *CASE,
        *DOOR,
        Step("sand", "Sand inside and out", "sand", 80, 110, ("hang",), "finish", by=HELPER),
        Step("coat-1", "Hardwax oil, coat 1", "coat", 40, 45, ("sand",), "finish", OIL),
        Step("coat-2", "Hardwax oil, coat 2", "coat", 30, 28, (), "finish", OIL, "coat-1"),
        Step("shelves", "Fit the shelf pins", "fit hardware", 30, 35, ("coat-2: light use",), "case",
             shots=(Shot("cabinet open", "Two shelves, pins every {32}."),)),
        Step("deliver", "Deliver and hang it", "deliver", 120, 150, ("shelves",), days=3,
             notes=(Note("Second stud was not where the first said it would be. Cleat {60} longer."),),
             shots=(Shot("cabinet", "On its wall.", cover=True),)),
    ),
    cuts=(
        Cut("Side", 2, "18 x 210 x 620", "11/16 x 8 1/4 x 24 3/8"),
        Cut("Top and bottom", 2, "18 x 210 x 460", "11/16 x 8 1/4 x 18 1/8"),
        Cut("Shelf", 2, "16 x 190 x 422", "5/8 x 7 1/2 x 16 5/8"),
        Cut("Door stile", 2, "20 x 52 x 616", "13/16 x 2 1/16 x 24 1/4"),
        Cut("Door rail", 2, "20 x 52 x 400", "13/16 x 2 1/16 x 15 3/4", "with tenons of {22}"),
        Cut("Door panel", 1, "12 x 366 x 526", "1/2 x 14 3/8 x 20 3/4"),
    ),
    bills=(
        Bill("wood", "Oak, 27 mm", Amount("0.042", "m³", "2380"), Amount("18", "bd ft", "9.25"),
             "the sawmill on the hill", sizes=("27 mm", "4/4")),
        Bill("hardware", "Butt hinges, brass, 50 mm", Amount("1", "pair", "14.80"), Amount("1", "pair", "13.50"),
             "Brass & Brush", 6),
        Bill("hardware", "Shelf pins and catch", Amount("9", "pcs", "0.95"), None, "Brass & Brush", 6),
        Bill("glue and finish", "Hardwax oil", Amount("0.375", "l", "44.00"), Amount("0.4", "qt", "42.00"),
             "Brass & Brush", 10),
    ),
    stages=(Stage("With the order", 40, 1), Stage("When the case is glued", 30, 30),
            Stage("On delivery", 30, 12, from_delivery=True)),
    hand_over=(("coat-2", "light use"),),
)  # fmt: skip
