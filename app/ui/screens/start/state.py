"""What beginning a register asks, shows and says before anything is made. No toolkit here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from app.compose import BadRow, SheetRows
from app.domain.limits import HousePolicy, RuleSet
from app.domain.record import ElectricalTest
from app.domain.voltage import Cells, Circuit, required
from app.judging.catalogues import catalogues
from app.usecases.begin_register import Beginning
from app.words.saying import number, say

ENDING = ".cuffdate"
# A battery made up for the example; the figures that come of it are worked out.
_EXAMPLE = Circuit(key="example", supply="isolated-dc", cells=Cells(96, "nmc", 4200))


@dataclass
class BeginState:
    """Everything filled in so far; nothing is made before it has been looked over."""

    folder: Path = Path()
    file_name: str = ""
    code: str = ""
    name: str = ""
    role_words: str = ""
    rule_set: str = ""
    margin_percent: int | None = None
    crib: str = ""
    sheet: Path | None = None
    rows: SheetRows | None = None
    leaves_out: bool = False
    depot: Path | None = None
    document: Mapping[str, object] | None = None
    seen: tuple[str, ...] = ()

    @property
    def path(self) -> Path:
        """Where the register goes."""
        name = self.file_name.strip()
        return self.folder / (name if name.endswith(ENDING) else f"{name}{ENDING}")

    def missing(self) -> list[str]:
        """What has to be filled in or decided before anything is made."""
        asked = (
            ("file", self.file_name), ("code", self.code), ("rule-set", self.rule_set),
            ("crib", self.crib or self.rows),
        )  # fmt: skip
        found = [say(f"start.missing.{key}", {}) for key, value in asked if not value]
        if self.bad and not self.leaves_out:
            found.append(say("start.missing.bad-rows", {"count": len(self.bad)}))
        return found

    @property
    def bad(self) -> tuple[BadRow, ...]:
        """Rows of the sheet that cannot be used."""
        return () if self.rows is None else self.rows.bad

    def to_be_seen(self) -> tuple[str, ...]:
        """Pieces of the sheet whose tests count only after somebody has seen the certificate."""
        if self.rows is None:
            return ()
        return tuple(
            row.piece.code for row in self.rows.good
            if any(isinstance(one, ElectricalTest) and one.evidence == "sheet-only" for one in row.piece.records)
        )  # fmt: skip

    def review(self) -> list[str]:
        """What will be entered, line by line."""
        margin = say("start.review.house-margin", {}) if self.margin_percent is None else f"{self.margin_percent} %"
        lines = [
            say("start.review.file", {"file": str(self.path)}),
            say("start.review.person", {"code": self.code, "name": self.name or "-"}),
            say("start.review.rules", {"set": _title(self.rule_set), "margin": margin}),
        ]
        if self.document is not None:
            lines.append(say("start.review.depot", {"file": "" if self.depot is None else self.depot.name}))
        good = 0 if self.rows is None else len(self.rows.good)
        key = "start.review.sheet" if self.rows is not None else "start.review.empty"
        lines.append(say(key, {"good": good, "bad": len(self.bad), "seen": len(self.seen), "crib": self.crib}))
        return lines

    def beginning(self) -> Beginning:
        """The same as what is entered."""
        return Beginning(
            by=self.code, name=self.name, role_words=self.role_words, rule_set=self.rule_set,
            margin_percent=self.margin_percent, crib=self.crib, depot=self.document,
            rows=() if self.rows is None else self.rows.good, seen=self.seen,
        )  # fmt: skip


def _title(key: str) -> str:
    known = catalogues().rule_sets
    return known[key].title if key in known else key


def sets_offered() -> list[tuple[str, str]]:
    """The rule sets this version has, key and title."""
    return [(one.key, one.title) for one in catalogues().rule_sets.values()]


def about_set(key: str) -> str:
    """What a rule set is, and what it cannot do."""
    known: Mapping[str, RuleSet] = catalogues().rule_sets
    if key not in known:
        return say("start.set-choose", {})
    return say("start.set", {"title": known[key].title, "edition": known[key].edition, "kinds": len(known[key].covers)})


def margin_example() -> str:
    """The house margin on an invented battery, worked out and not written down."""
    house: HousePolicy = catalogues().house
    needed = required(_EXAMPLE, house.margin_bp)
    assert needed is not None
    return say(
        "start.margin-example",
        {
            "cells": number(house.margin_bp["cells"] / 100), "boosted": number(house.margin_bp["boosted"] / 100),
            "plate": number(house.margin_bp["plate"] / 100), "maker": number(house.margin_bp["maker"] / 100),
            "working_v": needed.mv / 1000, "required_v": needed.volts,
        },
    )  # fmt: skip


def most_margin() -> int:
    """The largest margin a site may set, percent; the smallest it may set here is the house's own."""
    return 50


def least_margin() -> int:
    """The house margin that no site rule lowers without an approver, percent."""
    return max(catalogues().house.margin_bp.values()) // 100
