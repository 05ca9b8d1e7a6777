"""A checker of printed plans: every rule of the shop document again, from the JSON alone.

It shares no code with the planner, and imports none. It judges whether a plan keeps the rules, not whether it is a good
one: an operation may start later than it could (`dawdles` tells which do), an order may be a bad one. Where the
document leaves something open (a rounding, what is flagged beside the main thing) either is right.

The rules are in `checking`, a file a group: `shape` (output), `people` (1), `weather` (3, 4), `things` (5), `dust` (6),
`recoat` (7), `follow` (8), `finish` (9), `begun` (10), `order` (2, 11), `flags` (which
may stand where), `reasons` (`because`).
"""

from collections.abc import Callable, Collection, Iterator

from tests.planning.checking import (
    begun,
    dust,
    finish,
    flags,
    follow,
    order,
    people,
    reasons,
    recoat,
    shape,
    things,
    weather,
)
from tests.planning.checking.dawdles import dawdling
from tests.planning.checking.facts import Facts
from tests.planning.checking.times import Json
from tests.planning.checking.times import cut as minute

__all__ = ["RULES", "broken", "dawdles", "minute", "violations"]

RULES: dict[str, Callable[[Facts], Iterator[str]]] = {
    "people": people.faults,
    "weather": weather.faults,
    "things": things.faults,
    "dust": dust.faults,
    "recoat": recoat.faults,
    "follow": follow.faults,
    "finish": finish.faults,
    "begun": begun.faults,
    "order": order.faults,
    "flags": flags.faults,
    "reasons": reasons.faults,
}


def violations(document: Json, plan: Json, without: Collection[str] = ()) -> list[str]:
    """Everything in which a plan breaks the rules, each a sentence that begins with the path in the plan.

    `without` names groups of rules that are not asked. A plan of a wrong shape is asked nothing else.
    """
    wrong = shape.faults(document, plan)
    if wrong:
        return wrong
    facts = Facts(document, plan)
    return [f"{said}." for name, rule in RULES.items() if name not in without for said in rule(facts)]


broken = violations


def dawdles(document: Json, plan: Json, minutes: int = 1) -> list[str]:
    """Operations that could have started in one of the last so many open minutes before they do, all else still.

    Takes a plan without violations. With the default it asks for the minute that `because` is about: what is named here
    should say `plan`, and nothing else should.
    """
    return list(dawdling(Facts(document, plan), minutes))
