"""What the headroom picture is told: the figures of a decision, never computed again here."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Status(Enum):
    """How a bar stands to the line."""

    REACHES = "reaches"
    SHORT = "short"
    UNKNOWN = "unknown"
    NOT_COMPARED = "not-compared"


@dataclass(frozen=True, slots=True)
class Member:
    """One part of a measuring chain: what it offers in mV for this supply and category, None when that is unknown."""

    code: str
    label: str
    offers_mv: int | None


@dataclass(frozen=True, slots=True)
class Bar:
    """One piece of the kit, or the whole measuring chain; `label` is the kind in words.

    `offers_mv` is None when the rating is unknown. `shortest` is the code of the member that limits the chain; None
    where there is no chain or none can be named. ValueError: a figure under 0, or a shortest that is no member.
    """

    code: str
    label: str
    offers_mv: int | None
    is_chain: bool = False
    members: tuple[Member, ...] = ()
    shortest: str | None = None

    def __post_init__(self) -> None:
        """Refuse what no decision can hold."""
        figures = [self.offers_mv, *(member.offers_mv for member in self.members)]
        if any(figure is not None and figure < 0 for figure in figures):
            message = f"{self.code}: what a piece offers cannot be under 0 V"
            raise ValueError(message)
        if self.shortest is not None and self.shortest not in {member.code for member in self.members}:
            message = f"{self.code}: the shortest member {self.shortest} is not in the chain"
            raise ValueError(message)


@dataclass(frozen=True, slots=True)
class Headroom:
    """The question and its bars. `required_mv` is rounded up to a whole mV by the caller, None when it is unknown.

    `margin_percent` is text such as "10 %". ValueError: a required voltage of 0 or less, or one under the working one.
    """

    system: str
    circuit: str
    supply: str
    working_mv: int | None
    required_mv: int | None
    margin_percent: str
    bars: tuple[Bar, ...]
    caution: str

    def __post_init__(self) -> None:
        """Refuse figures that would draw a line where none belongs."""
        if self.required_mv is not None and self.required_mv <= 0:
            message = "a required voltage is above 0 V; an unknown one is None"
            raise ValueError(message)
        if self.working_mv is not None and self.working_mv < 0:
            message = "a working voltage is not under 0 V; an unknown one is None"
            raise ValueError(message)
        if self.working_mv is not None and self.required_mv is not None and self.working_mv > self.required_mv:
            message = "the required voltage is not under the working voltage"
            raise ValueError(message)

    def status(self, bar: Bar) -> Status:
        """How the bar stands to the line; without a figure on either side nothing reaches it."""
        if bar.offers_mv is None:
            return Status.UNKNOWN
        if self.required_mv is None:
            return Status.NOT_COMPARED
        return Status.REACHES if bar.offers_mv >= self.required_mv else Status.SHORT

    def figures_mv(self) -> tuple[int, ...]:
        """Every figure the axis has to hold."""
        offers = [bar.offers_mv for bar in self.bars]
        offers += [member.offers_mv for bar in self.bars for member in bar.members]
        return tuple(mv for mv in (self.working_mv, self.required_mv, *offers) if mv is not None)
