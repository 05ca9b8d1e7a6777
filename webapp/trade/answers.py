"""When a stage is reached, and how sure that is: glue follows a rule in the cold, water and oil follow none we know."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from webapp.trade.climate import History
from webapp.trade.clock import LONGEST_WAIT
from webapp.trade.cure import Paced, Rule, paced_ends
from webapp.trade.pace import LOOSE


@dataclass(frozen=True, slots=True)
class Answer:
    """When a stage is reached, and how sure that is. `coldest` is the lowest °C of the wait, None where not known."""

    end: int | None
    rule: Rule
    rated_at: float | None
    coldest: float | None

    @property
    def is_to_be_tested(self) -> bool:
        """Whether it was colder than the label's figures are for, and nobody knows how much longer that takes."""
        if self.rule is not Rule.UNKNOWN or self.rated_at is None or self.coldest is None:
            return False
        return self.coldest < self.rated_at - LOOSE


def answers(
    began: int,
    stages: Sequence[Paced],
    history: History,
    reached: Mapping[str, int] | None = None,
    now: int | None = None,
) -> dict[str, Answer]:
    """Return when each stage of a wait is reached and how sure that is.

    Takes:   when the wait began; its stages; the air of the room; what was tested; now.
    Returns: an answer for each stage, in the order given. What was tested is not to be tested.
    Raises:  nothing.
    Source:  the shop document, rule 3; that no rule is known for water and oil: common practice, no source.

    >>> from webapp.trade.cure import Stage, paced
    >>> from webapp.trade.pace import Pace
    >>> told = answers(0, paced([Stage("next coat", 2)], pace=Pace(rated_at=21.0)), History.constant(14.0))["next coat"]
    >>> told.end, told.rule.value, told.is_to_be_tested
    (120, 'no known rule: test it', True)
    """
    told = reached or {}
    found: dict[str, Answer] = {}
    for one, end in zip(stages, paced_ends(began, stages, reached, now, history).values(), strict=True):
        is_tested = one.name in told and (now is None or told[one.name] <= now)
        coldest = None if is_tested else history.coldest(began, end if end is not None else began + LONGEST_WAIT)
        found[one.name] = Answer(end, one.rule, one.pace.rated_at, coldest)
    return found
