"""How long a joint stays in clamps, by kind of joint and glue.

The clamps of a glue's label are for a plain edge joint. A bent lamination pulls at its glue from the first minute and
stays on the form overnight; a mitre is half end grain; hide glue may be rubbed or hammered and then needs no clamp;
some glues are wrong for a joint at any time. Hours are for the temperature the glue's figures are for, and follow its
rule for the cold. Where sources differ the longer time is used.

Not modelled: pressure, and joints that hold themselves by their shape.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from webapp.trade.products.families import agreed, families_of, family
from webapp.trade.products.figures import GLUE, OUT_OF_CLAMPS, Figure, practice
from webapp.trade.sources import BOTTLE, COLD_DOUBLES, GLUE_TABLE, VENEER_PRESS, WARM_UREA

EDGE = "edge"
MORTISE = "mortise and tenon"
MITRE = "mitre"
LAMINATION = "bent lamination"
VENEER = "veneer"
JOINTS = (EDGE, MORTISE, MITRE, LAMINATION, VENEER)


class JointError(ValueError):
    """A kind of joint that is not in the list, or a finish where a glue was meant; the text says which."""


@dataclass(frozen=True, slots=True)
class Clamping:
    """How long a joint stays in clamps: `hours`, or None where that glue is wrong for it; what is known; what to"
    " mind."""

    joint: str
    hours: float | None
    known: tuple[Figure, ...]
    mind: str = ""


def _for(*hours: float, source: Figure | None = None, case: str = "") -> tuple[Figure, ...]:
    own = practice(OUT_OF_CLAMPS, hours[0], hours[-1], "h", case)
    return (source, own) if source else (own,)


_TABLE_HALF = Figure(OUT_OF_CLAMPS, 30, 30, "min", GLUE_TABLE, "joints that bear nothing yet")
_LABEL_HALF = Figure(OUT_OF_CLAMPS, 30, None, "min", BOTTLE, "joints that bear nothing yet, not strained for a day")
_PVA_HOUR = Figure(OUT_OF_CLAMPS, 1, 1, "h", COLD_DOUBLES)
_RUBBED = Figure(OUT_OF_CLAMPS, 0, 0, "h", GLUE_TABLE, "rubbed joints only")
_LIQUID_HIDE = Figure(OUT_OF_CLAMPS, 12, 12, "h", GLUE_TABLE, "longer when damp")
_NO_PRESSURE = Figure(OUT_OF_CLAMPS, 0, 0, "h", GLUE_TABLE, "no pressure needed, but held still it must be")
_BOTH_FACES = "Both faces in one go, then a day on sticks."
_UREA = Figure(OUT_OF_CLAMPS, 8, 12, "h", WARM_UREA, "8 h at 90 °F, 10 to 12 h at room temperature")
_UREA_PRESS = Figure(OUT_OF_CLAMPS, 10, 12, "h", VENEER_PRESS, "at room temperature; about 8 h at 90 °F")
_CREEPS = "It creeps under a load that stays: a thicker bend of it opens again. Urea, epoxy or PU hold the curve."
_WRONG = "Not for this joint: it stays soft or brittle, or sets before the parts are home."

_PVA = {
    EDGE: Clamping(EDGE, 1, (_PVA_HOUR, _TABLE_HALF, _LABEL_HALF)),
    MORTISE: Clamping(MORTISE, 1, (_PVA_HOUR, *_for(0.5, 1))),
    MITRE: Clamping(MITRE, 2, _for(1, 2), "End grain drinks the glue: size it first, and mind that it is weak."),
    LAMINATION: Clamping(LAMINATION, 24, _for(12, 24, case="overnight on the form"), _CREEPS),
    VENEER: Clamping(VENEER, 4, _for(1, 4, case="cold press"), _BOTH_FACES),
}
_LIQUID = {
    EDGE: Clamping(EDGE, 12, (_LIQUID_HIDE,)),
    MORTISE: Clamping(MORTISE, 12, (_LIQUID_HIDE,)),
    MITRE: Clamping(MITRE, 24, (_LIQUID_HIDE, *_for(12, 24))),
    LAMINATION: Clamping(LAMINATION, 24, _for(24), "Only where it stays dry and cool."),
    VENEER: Clamping(VENEER, 24, _for(12, 24)),
}
_HOT = {
    EDGE: Clamping(EDGE, 12, (_RUBBED, *_for(12, case="clamped")), "Rubbed to and fro until it holds, it needs none."),
    MORTISE: Clamping(MORTISE, 12, _for(12)),
    MITRE: Clamping(MITRE, 12, (_RUBBED, *_for(12, case="clamped"))),
    LAMINATION: Clamping(LAMINATION, None, (), _WRONG),
    VENEER: Clamping(VENEER, 24, _for(0, 24, case="none when hammered, overnight under cauls")),
}
_UF = {
    EDGE: Clamping(EDGE, 8, (_UREA,)),
    MORTISE: Clamping(MORTISE, 8, (_UREA,)),
    MITRE: Clamping(MITRE, 8, (_UREA,)),
    LAMINATION: Clamping(LAMINATION, 12, (_UREA, *_for(8, 12, case="at 90 °F, on the form"))),
    VENEER: Clamping(VENEER, 8, (_UREA, _UREA_PRESS), _BOTH_FACES),
}
_PU = {
    EDGE: Clamping(EDGE, 4, _for(1, 4)),
    MORTISE: Clamping(MORTISE, 4, _for(1, 4), "Foam fills a gap without holding it."),
    MITRE: Clamping(MITRE, 4, _for(1, 4)),
    LAMINATION: Clamping(LAMINATION, 12, _for(6, 12, case="on the form")),
    VENEER: Clamping(VENEER, 6, _for(4, 6, case="a vacuum bag takes the damp it needs: moisten one face")),
}
_EPOXY = {
    EDGE: Clamping(EDGE, 24, (_NO_PRESSURE, *_for(6, 24))),
    MORTISE: Clamping(MORTISE, 24, (_NO_PRESSURE, *_for(6, 24))),
    MITRE: Clamping(MITRE, 24, (_NO_PRESSURE, *_for(6, 24))),
    LAMINATION: Clamping(LAMINATION, 24, _for(12, 24, case="on the form")),
    VENEER: Clamping(VENEER, 24, _for(12, 24)),
}
_CONTACT = {joint: Clamping(joint, None, (), _WRONG) for joint in JOINTS} | {
    VENEER: Clamping(VENEER, 0, _for(0), "Pressed hard with an edge, not rolled. For backed veneer and laminate only.")
}
_CA = {joint: Clamping(joint, None, (), _WRONG) for joint in JOINTS} | {
    MITRE: Clamping(MITRE, 1 / 60, _for(0, 1 / 60, case="held by hand"), "For small trim that bears nothing.")
}

_BY_GLUE: Mapping[str, Mapping[str, Clamping]] = MappingProxyType(
    {
        **dict.fromkeys(("yellow PVA", "water-resistant PVA", "waterproof PVA", "white PVA"), _PVA),
        "liquid hide glue": _LIQUID,
        "hot hide glue": _HOT,
        "UF powder glue": _UF,
        "PU glue": _PU,
        "slow epoxy": _EPOXY,
        "contact cement": _CONTACT,
        "CA glue": _CA,
    }
)


def clamping(glue: str, joint: str) -> Clamping:
    """Return how long a joint stays in clamps.

    Takes:   the name of a glue in `families.GLUES`, or another name for it; one of JOINTS.
    Returns: a Clamping, hours at the temperature that the glue's figures are for; hours None: that glue is wrong here.
    Raises:  FamilyError for a name that is not known; JointError for a finish, or a joint that is not in the list.
    Source:  each Clamping carries its figures.

    >>> clamping("yellow PVA", "bent lamination").hours, clamping("epoxy", "edge").hours
    (24, 24)
    """
    table = _BY_GLUE.get(family(glue).name)
    if table is None:
        raise JointError(f"“{glue}” is a finish. Which glue holds the joint?")
    if joint not in table:
        raise JointError(f"There is no joint “{joint}” in the list. There are {', '.join(JOINTS)}.")
    return table[joint]


def clampings(name: str, kind: str = "") -> tuple[Clamping, ...]:
    """Return how long each kind of joint stays in clamps with a product of a shop.

    Takes:   what the product is called; the family it says it is of, as `families_of`.
    Returns: a Clamping for each of JOINTS; none where no glue is known, or the glues that it may be do not agree.
    Raises:  nothing.
    Source:  each Clamping carries its figures.

    >>> [one.hours for one in clampings("our own glue", "pva")], clampings("our own glue", "hide glue")
    ([1, 1, 2, 24, 4], ())
    """
    glues = [one.name for one in families_of(name, kind) if one.use == GLUE]
    return agreed(tuple(clamping(glue, joint) for joint in JOINTS) for glue in glues) or ()
