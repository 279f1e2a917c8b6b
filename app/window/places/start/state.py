"""What beginning a register asks, shows and says before anything is made. No toolkit here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from app.compose import BadRow, DepotFile, SheetRows
from app.decision.case.site import read_site
from app.decision.domain.errors import BadInput
from app.decision.domain.limits import HousePolicy, RuleSet
from app.decision.domain.record import ElectricalTest
from app.decision.domain.register import Depot
from app.decision.domain.voltage import Cells, Circuit, required
from app.decision.judging.catalogues import catalogues
from app.intake.register_sheet import SheetRow
from app.usecases.begin_register import Beginning
from app.words.saying import listed, number, say

ENDING = ".cuffdate"
# What some file system or other does not take in a name, and what would make it another folder.
_NO_NAME = frozenset('/\\:*?"<>|')
MOST_SAID = 40
# A battery made up for the example; the figures that come of it are worked out.
_EXAMPLE = Circuit(key="example", supply="isolated-dc", cells=Cells(96, "nmc", 4200))


@dataclass
class BeginState:
    """Everything filled in so far; nothing is made before it has been looked over.

    `refused_where`: why no register can be made at `path`, in words, "" where one can.
    """

    folder: Path = Path()
    file_name: str = ""
    refused_where: str = ""
    code: str = ""
    name: str = ""
    role_words: str = ""
    rule_set: str = ""
    margin_percent: int | None = None
    crib: str = ""
    sheet: Path | None = None
    encoding: str | None = None
    rows: SheetRows | None = None
    leaves_out: bool = False
    depot: Path | None = None
    brought: DepotFile | None = None
    seen: tuple[str, ...] = ()

    @property
    def path(self) -> Path:
        """Where the register goes."""
        name = self.file_name.strip()
        return self.folder / (name if name.endswith(ENDING) else f"{name}{ENDING}")

    @property
    def is_begun(self) -> bool:
        """Whether anything would be lost if this were thrown away."""
        return any((self.file_name, self.code, self.name, self.role_words, self.crib, self.rows, self.brought))

    def missing(self) -> list[str]:
        """What has to be filled in or decided before anything is made."""
        asked = (
            ("file", self.file_name), ("code", self.code), ("rule-set", self.rule_set),
            ("crib", self.crib or self.rows),
        )  # fmt: skip
        words = [say(f"start.missing.{key}", {}) for key, value in asked if not value]
        if self.file_name and self.refused_where:
            words.append(say("start.missing.other-place", {}))
        if self.bad and not self.leaves_out:
            words.append(say("start.missing.bad-rows", {"count": self.bad_rows}))
        return words

    @property
    def bad(self) -> tuple[BadRow, ...]:
        """What is wrong with the sheet's rows; a row may be named twice."""
        return () if self.rows is None else self.rows.bad

    @property
    def bad_rows(self) -> int:
        """How many rows cannot be used."""
        return len({(row.sheet, row.row) for row in self.bad})

    @property
    def good(self) -> tuple[SheetRow, ...]:
        """The rows that can be loaded."""
        return () if self.rows is None else self.rows.good

    def sheet_words(self) -> str:
        """How a sheet was read."""
        name = "" if self.sheet is None else self.sheet.name
        return say("start.sheet-read", {"file": name, "count": len(self.good), "bad": self.bad_rows})

    def depot_words(self) -> str:
        """What a depot file brings."""
        document = self.document or {}
        listed_of = {key: document.get(key) for key in ("people", "systems")}
        counted = {key: len(entries) for key, entries in listed_of.items() if isinstance(entries, list)}
        name = "" if self.depot is None else self.depot.name
        return say("start.depot-read", {"file": name, "people": 0, "systems": 0, **counted})

    def bad_said(self) -> str:
        """What cannot be used and why, "" where all can."""
        return "\n".join([say("start.bad", {}), *self.bad_words()]) if self.bad else ""

    def bad_words(self) -> list[str]:
        """What is wrong, row by row, as far as anybody reads; all of it goes into the sheet of rows left out."""
        lines = [f"\u2022 {row.says}" for row in self.bad[:MOST_SAID]]
        more = len(self.bad) - MOST_SAID
        return [*lines, say("start.bad-more", {"count": more})] if more > 0 else lines

    def crib_words(self) -> str:
        """Which cribs the sheet's rows go to."""
        named = sorted({row.crib for row in self.good if row.crib})
        bare = sum(not row.crib for row in self.good)
        parts = [say("start.cribs-named", {"cribs": listed(named)})] if named else []
        if bare:
            parts.append(say("start.cribs-bare", {"count": bare, "crib": self.crib or say("start.crib-first", {})}))
        return " ".join(parts)

    @property
    def document(self) -> Mapping[str, object] | None:
        """The depot file's table."""
        return None if self.brought is None else self.brought.document

    def review(self) -> list[str]:
        """What will be entered, line by line, as far as it is filled in."""
        lines: list[str] = []
        if self.file_name:
            lines.append(say("start.review.file", {"file": str(self.path)}))
        if self.code:
            person = ", ".join(part for part in (f"{self.code} {self.name}".strip(), self.role_words) if part)
            lines.append(say("start.review.person", {"person": person}))
        if self.rule_set:
            lines.append(say("start.review.rules", {"set": _title(self.rule_set), "margin": self._margin()}))
        if self.document is not None:
            lines.append(say("start.review.depot", {"file": "" if self.depot is None else self.depot.name}))
        if self.rows is not None:
            counted = {"good": len(self.good), "bad": self.bad_rows, "seen": len(self.seen)}
            lines += [say("start.review.sheet", counted), self.crib_words()]
        elif self.crib:
            lines.append(say("start.review.empty", {"crib": self.crib}))
        return lines

    def _margin(self) -> str:
        if self.margin_percent is not None:
            return say("start.review.own-margin", {"margin": self.margin_percent})
        site = {} if self.document is None else self.document.get("site", {})
        if isinstance(site, Mapping) and "margin_percent" in site:
            return say("start.review.file-margin", {"margin": str(site["margin_percent"])})
        return say("start.review.house-margin", {})

    def beginning(self) -> Beginning:
        """The same as what is entered."""
        return Beginning(
            by=self.code, name=self.name, role_words=self.role_words, rule_set=self.rule_set,
            margin_percent=self.margin_percent, crib=self.crib, depot=self.document, rows=self.good, seen=self.seen,
        )  # fmt: skip


_ON_CERTIFICATES = {"start.seen-lab": "lab", "start.seen-certificate": "certificate"}


def certificate_words(code: str, test: ElectricalTest) -> str:
    """A test as its certificate names it: day, laboratory and number, as far as the sheet tells them."""
    values = {"code": code, "day": str(test.on or ""), "lab": test.lab, "certificate": test.certificate}
    parts = [say("start.seen-one", values)]
    parts += [say(key, values) for key, known in _ON_CERTIFICATES.items() if values[known]]
    return ", ".join(parts)


def day_of_test(row: SheetRow) -> str:
    """The day of the latest electrical test a row tells of, "" where it tells of none."""
    days = [str(test.on) for test in row.piece.records if isinstance(test, ElectricalTest) and test.on is not None]
    return max(days, default="")


def check_file_name(written: str) -> None:
    """BadInput for a name that would be no name of a file, or one in another folder."""
    barred = sorted(_NO_NAME & set(written))
    if barred or written.strip(". ") == "" or written.startswith(ENDING):
        raise BadInput("start.no-file-name", thing=" ".join(barred) or written)


def _title(key: str) -> str:
    known = catalogues().rule_sets
    return known[key].title if key in known else key


def sets_offered() -> list[tuple[str, str]]:
    """The rule sets this version has, key and title; the house's own default is named as such and not chosen."""
    house = Depot().rule_sets
    return [
        (rule_set.key, say("start.set-house", {"title": rule_set.title}) if rule_set.key in house else rule_set.title)
        for rule_set in catalogues().rule_sets.values()
    ]


def about_set(key: str) -> str:
    """What a rule set is for, what it leaves to house policy, and what it says nothing of."""
    known: Mapping[str, RuleSet] = catalogues().rule_sets
    if key not in known:
        return say("start.set-choose", {})
    chosen, house = known[key], catalogues().house
    covered = tuple(kind for kind, rules in chosen.covers.items() if rules)
    kinds = catalogues().kinds
    # House policy asks its own of goods with a class too, but what they stand only a set can say.
    neither = tuple(kind for kind in kinds if kind not in covered and kinds[kind].is_classed)
    others = tuple(kind for kind in house.covers if kind not in covered and kind not in neither)
    named = tuple(dict.fromkeys((chosen.title, chosen.edition)))
    parts = [say("start.set", {"set": ", ".join(named), "covered": covered, "others": others})]
    if neither:
        parts.append(say("start.set-neither", {"neither": neither}))
    return " ".join(parts)


def cannot_serve(key: str) -> str:
    """What nothing can be issued for under a rule set; empty where it says so of nothing."""
    known: Mapping[str, RuleSet] = catalogues().rule_sets
    return " ".join(say(notice, {"set": known[key].title}) for notice in known[key].notices) if key in known else ""


def margin_example() -> str:
    """The house margin on an invented battery, worked out and not written down."""
    house: HousePolicy = catalogues().house
    needed = required(_EXAMPLE, house.margin_bp)
    assert needed is not None
    assert _EXAMPLE.cells is not None
    assert _EXAMPLE.cells.series is not None
    return say(
        "start.margin-example",
        {
            "cells": number(house.margin_bp["cells"] / 100), "boosted": number(house.margin_bp["boosted"] / 100),
            "plate": number(house.margin_bp["plate"] / 100), "maker": number(house.margin_bp["maker"] / 100),
            "working_v": needed.mv / 1000, "required_v": needed.volts, "count": _EXAMPLE.cells.series,
            "cell_v": number(needed.mv / 1000 / _EXAMPLE.cells.series),
        },
    )  # fmt: skip


def most_margin() -> int:
    """The largest margin the reader of site rules takes, percent."""
    return next(percent for percent in range(100, -1, -1) if _is_taken(percent))


def _is_taken(percent: int) -> bool:
    try:
        read_site({"margin_percent": percent}, "site")
    except BadInput:
        return False
    return True


def least_margin() -> int:
    """The house margin that no site rule lowers without an approver, percent."""
    return max(catalogues().house.margin_bp.values()) // 100
