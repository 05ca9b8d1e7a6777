"""Pieces that are not agreed yet: one quoted with samples, one only asked for."""

from webapp.invented.script import Amount, Bill, Cut, Note, Piece, Shot, Stage, Step

GLUE, SHELLAC = "yellow PVA", "shellac"

JEWELLERY = Piece(
    "jewellery",
    "Pear jewellery chest",
    "pear",
    "quoted",
    begun=23,
    client="Teodor Brandle",
    contact="teodor@example.org",
    note="Three drawers lined with felt, secret fourth one if it can be had for the same money. It cannot.",
    due=75,
    price=1240,
    notes=(
        Note("For an anniversary. Wants the colour of number 2, without the shine.", 6),
        Note("Quote sent, good for six weeks.", 8),
    ),
    shots=(
        Shot("chest sketch", "Sketch for the quote.", days=1.0, cover=True),
        Shot("chest samples", "1 soap, 2 shellac, 3 oil. Number 2 it is.", days=5.0),
    ),
    steps=(
        Step("samples", "Make three samples", "design", 60, 75, days=3, remembered=True),
        Step("mill", "Mill the case and drawer parts", "mill", 120),
        Step("case", "Mitre and spline the case", "joinery", 150, None, ("mill",), "case", low=120, high=210),
        Step("glue", "Glue up the case", "glue-up", 40, None, ("case",), "case", GLUE),
        Step("drawers", "Dovetail the drawers", "dovetail", 300, None, ("mill",), "drawers", count=12,
             low=240, high=420),
        Step("fit", "Fit the drawers", "fit drawers", 120, None, ("drawers", "glue: out of clamps"), "drawers",
             count=3),
        Step("sand", "Sand to 320", "sand", 75, None, ("fit",), "finish"),
        Step("coat-1", "Shellac, coat 1", "coat", 40, None, ("sand",), "finish", SHELLAC),
        Step("coat-2", "Shellac, coat 2", "coat", 35, None, (), "finish", SHELLAC, "coat-1"),
        Step("coat-3", "Shellac, coat 3", "coat", 35, None, (), "finish", SHELLAC, "coat-2"),
        Step("line", "Line the drawers", "fit hardware", 60, None, ("coat-3: light use",), "drawers"),
    ),
    cuts=(
        Cut("Case side", 2, "12 x 220 x 200", "1/2 x 8 5/8 x 7 7/8"),
        Cut("Case top and bottom", 2, "12 x 220 x 320", "1/2 x 8 5/8 x 12 5/8"),
        Cut("Drawer front", 3, "12 x 72 x 294", "1/2 x 2 13/16 x 11 9/16", "{72}, {54} and {42} high"),
        Cut("Lid", 1, "14 x 232 x 332", "9/16 x 9 1/8 x 13 1/16"),
    ),
    bills=(
        Bill("wood", "Pear for the samples", Amount("1", "pc", "12.00"), None, "the sawmill on the hill", 2),
    ),
    stages=(Stage("With the order", 50), Stage("On handing over", 50)),
)  # fmt: skip

BLANKETS = Piece(
    "blankets",
    "Oak blanket chest",
    "white oak",
    "enquiry",
    begun=5,
    client="The Hollins sisters",
    contact="will ring again on Saturday",
    note="For the foot of a stair. About a metre long, must go up a winding stair of {720}.",
    notes=(
        Note("Two of them came by. Like the oak cabinet they saw at their neighbour's.", 0.0),
        Note("Said what it might cost, between and between. They did not faint.", 0.06),
    ),
    shots=(Shot("blanket sketch", "Drawn while they watched.", days=0.05, cover=True),),
)
