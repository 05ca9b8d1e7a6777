"""A cherry writing desk: its base in clamps right now, its top resting, its drawers to come."""

from webapp.invented.script import HELPER, LONG, SHORT, Amount, Bill, Cut, Live, Note, Piece, Shot, Stage, Step

GLUE, OIL = "yellow PVA", "oil-varnish blend"

TOP = (
    Step("joint", "Joint the edges and dry fit the top", "dry fit", 60, 70, ("mill",), "top",
         shots=(Shot("desk layout", "Five boards, heart side up, order kept by the triangle."),)),
    Step("glue-top", "Glue up the top", "glue-up", 40, 44, ("joint",), "top", GLUE, holds=((LONG, 6),), assembly=8,
         ended=102, notes=(Note("Cauls waxed. All beads even but for a starved bit at the left end of B."),),
         shots=(Shot("desk panel", "In six clamps."), Shot("desk beads", "Squeeze-out, all along.", 0.7))),
    Step("plane-top", "Plane the top flat", "level", 80, None, ("glue-top: ready to plane",), "top"),
    Step("size-top", "Cut the top to size and ease its edges", "cut", 45, None, ("plane-top",), "top"),
)  # fmt: skip

BASE = (
    Step("mark", "Mark out legs and rails", "mark out", 40, 40, ("mill",), "base",
         shots=(Shot("desk legs", "Mortises marked from one leg to the next."),)),
    Step("mortises", "Cut the mortises", "mortise", 150, 170, ("mark",), "base", count=10),
    Step("tenons", "Cut and fit the tenons", "joinery", 160, 205, ("mortises",), "base", count=10, low=130, high=240),
    Step("taper", "Taper the legs", "shape", 60, 50, ("tenons",), "base", count=4),
    Step("sand-base", "Sand what cannot be reached later", "sand", 45, 50, ("taper",), "base", by=HELPER),
    Step("ends", "Glue the two ends", "glue-up", 30, 34, ("sand-base",), "base", GLUE, holds=((SHORT, 4),)),
    Step("rails", "Glue the long rails between the ends", "glue-up", 35, None, ("ends: out of clamps",), "base", GLUE,
         holds=((LONG, 4),), own=(("out of clamps", 1.5),), assembly=8, live=Live(78, 38, clamped=42),
         notes=(Note("Diagonals equal to half a millimetre.", 0.95, "sized"),),
         shots=(Shot("desk base", "Long rails in clamps.", cover=True),)),
    Step("level-base", "Level the top of the base", "level", 30, None, ("rails: out of clamps",), "base"),
)  # fmt: skip

DRAWERS = (
    Step("mill-drawers", "Mill the drawer parts", "mill", 60, 70, ("mill",), "drawers"),
    Step("size-drawers", "Fit the fronts to their openings", "cut", 40, None, ("mill-drawers", "rails"), "drawers",
         count=2),
    Step("dovetails", "Cut the dovetails", "dovetail", 180, None, ("mill-drawers",), "drawers", count=8,
         low=150, high=260),
    Step("grooves", "Groove for the bottoms", "groove", 20, None, ("dovetails",), "drawers"),
    Step("glue-drawers", "Glue up the drawers", "glue-up", 40, None, ("grooves", "size-drawers"), "drawers", GLUE,
         holds=((SHORT, 4),), count=2),
    Step("fit-drawers", "Fit the drawers", "fit drawers", 90, None, ("glue-drawers: out of clamps", "level-base"),
         "drawers", count=2),
)  # fmt: skip

FINISH = (
    Step("sand", "Sand the whole desk", "sand", 120, None, ("size-top", "fit-drawers"), "finish"),
    Step("coat-1", "Oil, coat 1", "coat", 45, None, ("sand",), "finish", OIL),
    Step("coat-2", "Oil, coat 2", "coat", 35, None, (), "finish", OIL, "coat-1"),
    Step("coat-3", "Oil, coat 3", "coat", 35, None, (), "finish", OIL, "coat-2"),
    Step("fit-top", "Fasten the top, fit the knobs", "fit hardware", 60, None, ("coat-3: light use",)),
    Step("deliver", "Deliver", "deliver", 120, None, ("fit-top",)),
)  # fmt: skip

PIECE = Piece(
    "desk",
    "Cherry writing desk",
    "cherry",
    "in the making",
    begun=30,
    client="Marle Pennow",
    contact="marle@example.org",
    note="Writes by hand, so no cable holes. Two shallow drawers, knobs of walnut. Sun from the left.",
    due=33,
    price=3200,
    weight=2,
    notes=(Note("Knee height asked for twice: {610} under the rail.", 0.02),),
    shots=(Shot("desk sketch", "Signed with the order.", days=0.02),),
    steps=(
        Step("design", "Draw it full size", "design", 90, 110),
        Step("cut", "Cut the cherry to rough length", "break down", 60, 60, ("design",), days=2,
             shots=(Shot("desk boards", "Two logs, one colour.", 0.1),),
             notes=(Note("Wood moisture 8.4 %. Sapwood on two boards goes to the inside.", 0.3, "read"),)),
        Step("rough", "Rough mill, left thick", "rough mill", 80, 95, ("cut",)),
        Step("rest", "Stack in stickers to rest", "rest", 10, 10, ("rough",), own=(("rested", 96),)),
        Step("mill", "Final mill", "final mill", 110, 130, ("rest: rested",),
             notes=(Note("One board cupped again: turned, heart side down, and left for a drawer."),)),
        *BASE[:6],
        *TOP,
        *BASE[6:],
        *DRAWERS,
        *FINISH,
    ),
    cuts=(
        Cut("Top board", 5, "24 x 122 x 1260", "15/16 x 4 13/16 x 49 5/8"),
        Cut("Leg", 4, "48 x 48 x 716", "1 7/8 x 1 7/8 x 28 3/16"),
        Cut("Long rail", 1, "22 x 110 x 1158", "7/8 x 4 5/16 x 45 5/8", "behind; two thin ones in front"),
        Cut("Front rail", 2, "22 x 16 x 1158", "7/8 x 5/8 x 45 5/8"),
        Cut("End rail", 2, "22 x 110 x 518", "7/8 x 4 5/16 x 20 3/8"),
        Cut("Drawer front", 2, "20 x 76 x 534", "13/16 x 3 x 21"),
        Cut("Drawer side", 4, "12 x 76 x 480", "1/2 x 3 x 18 7/8"),
    ),
    bills=(
        Bill("wood", "Cherry, 30 mm", Amount("0.088", "m³", "2850"), Amount("36.5", "bd ft", "10.50"),
             "the sawmill on the hill", 2, sizes=("30 mm", "5/4")),
        Bill("wood", "Cherry, 52 mm, for the legs", Amount("0.016", "m³", "3100"), Amount("7", "bd ft", "12.25"),
             "the sawmill on the hill", 2, sizes=("52 mm", "8/4")),
        Bill("glue and finish", "Yellow PVA", Amount("1", "bottle", "9.80"), None, "Brass & Brush", 20),
    ),
    stages=(Stage("With the order", 40, 1), Stage("When the base stands", 30), Stage("On delivery", 30)),
    hand_over=(("coat-3", "light use"),),
)  # fmt: skip
