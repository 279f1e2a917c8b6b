"""What a chain offers at a category (volts), or the current it may carry (amperes): the weakest member's."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from app.decision.domain.chain import Member
from app.decision.domain.errors import BadInput
from app.decision.fields.pieces import FIELDS
from app.decision.fields.reading import as_tables, one_of, read_table
from app.decision.fields.words import CATEGORIES
from app.decision.judging.calculation import Answer, Calculation, Law

_MEMBER = {key: FIELDS[key].sort.read for key in ("marks", "marks_cap_off", "caps", "current_a", "code", "kind")}


def work(ask: Mapping[str, object], law: Law) -> Answer:
    """0 V where the chain offers nothing; BadInput where a mark or a current is not known."""
    del law
    tables = as_tables(ask.get("members", []), "ask", "members")
    members: list[dict[str, Any]] = [read_table(table, _MEMBER, {}, "members") for table in tables]
    if not members:
        raise BadInput("calculation.figure-missing", thing="members")
    if ask.get("quantity", "voltage") == "current":
        amperes = [member.get("current_a") for member in members]
        known = [ma for ma in amperes if ma is not None]
        if len(known) < len(amperes):
            raise BadInput("calculation.figure-missing", thing="current_a")
        return Answer(min(known) / 1000, "A")
    category = str(ask.get("category", "III"))
    offered = [_offer(member, category) for member in members]
    return Answer(min(offered) / 1000, "V")


def _offer(member: Mapping[str, Any], category: str) -> int:
    code, marks = str(member.get("code", "")), member.get("marks")
    offered = Member(code, marks, member.get("marks_cap_off"), member.get("caps")).offer(category)
    if offered is None:
        raise BadInput("calculation.figure-missing", thing="marks")
    return offered


CALCULATION = Calculation(
    "chain-offers",
    {
        "members": lambda value: value,
        "category": one_of(*CATEGORIES),
        "quantity": one_of("voltage", "current"),
    },
    work,
)
