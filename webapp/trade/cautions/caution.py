"""What a caution is: a few words, two or three sentences, the limits that bind here and there, and who says so.

A caution reminds; it teaches no trade and replaces no law. It names the limits of both sides of the Atlantic where they
differ, and gives way to the label, the local code and whoever is licensed for the work.

Not modelled: which rules bind a shop, what a machine needs, first aid.
"""

from dataclasses import dataclass

from webapp.trade.sources import READ

FOLLOW = "Follow the label, local codes and licensed practice."
US = "United States"
UK = "United Kingdom"
EU = "European Union"
PLACES = (US, UK, EU)


@dataclass(frozen=True, slots=True)
class Limit:
    """What binds, or is advised, in one place; `how` it is known is one of `sources.HOW_KNOWN`."""

    place: str
    says: str
    source: str
    how: str = READ


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: its key, a few words to head it, what to do, where the facts come from, and limits by place."""

    key: str
    title: str
    advice: str
    source: str
    limits: tuple[Limit, ...] = ()

    @property
    def text(self) -> str:
        """Return the caution as it is shown: the advice, and what goes before it."""
        return f"{self.advice} {FOLLOW}"
