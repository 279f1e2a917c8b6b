"""The site's rules as fields, each declared once; what a depot file says beside them stands with its reader."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from app.decision.domain import former
from app.decision.domain.limits import Approval
from app.decision.fields.field import Field, Sort, named
from app.decision.fields.reading import Table, Unreadable, as_tables, read_table, require, scaled, text, words_of
from app.decision.fields.sorts import CALORIES, COUNT, TEXT, TIME, VOLTS, YES_NO, choice, some


def _approval_or_yes(value: object) -> Approval | None:
    if value is False:
        return None
    if isinstance(value, Mapping):
        return read_approval({"key": "dielectric_exempt_00_0", **value}, "dielectric_exempt_00_0")
    raise Unreadable("not-an-approval")


def read_approval(table: Table, place: str) -> Approval:
    """Who approved what, and why: all three are needed."""
    require(table, ("key", "approved_by", "reason"), place)
    read: dict[str, Any] = read_table(table, {"key": text, "approved_by": text, "reason": text}, {}, place)
    return Approval(**read)


def _approvals(value: object) -> tuple[Approval, ...]:
    return tuple(read_approval(item, "site approvals") for item in as_tables(value, "site", "approvals"))


def _confirmed(value: object) -> frozenset[str] | None:
    if value == "all":
        return None
    return frozenset(former.FIGURES.get(figure, figure) for figure in words_of()(value))


FIELDS = named(
    (
        Field(key="name", sort=TEXT),
        Field(key="margin_percent", sort=Sort("percent", scaled(2, most=50), 2, "%"), attribute="margin_bp"),
        Field(key="warning_days", sort=COUNT),
        Field(key="tip_profile", sort=choice("gs38", "iec")),
        Field(key="altitude_m", sort=Sort("altitude", scaled(0, least=-500, most=20_000), 0, "m")),
        Field(key="clearance_table", sort=choice("cautious", "astm-f496")),
        Field(key="figures_required", sort=YES_NO),
        Field(key="dielectric_exempt_00_0", sort=Sort("approval", _approval_or_yes)),
        Field(key="without_protectors_reading", sort=choice("stricter", "us-osha-137")),
        Field(key="second_person_isolate", sort=YES_NO),
        Field(key="second_person_measure", sort=YES_NO),
        Field(key="confirmed_in_print", sort=Sort("figures", _confirmed)),
        Field(key="approvals", sort=Sort("approvals", _approvals)),
        Field(key="labs", sort=some()),
        Field(key="technicians_issue", sort=YES_NO, is_offered=False),
        Field(key="day_begins", sort=TIME, is_offered=False),
        Field(key="job_days", sort=COUNT, is_offered=False),
        Field(key="ceiling_v", sort=VOLTS, is_offered=False),
        Field(key="works_alone", sort=YES_NO, is_offered=False),
        Field(key="place", sort=choice("dry", "wet"), is_offered=False),
        Field(key="incident_energy_cal", sort=CALORIES, is_offered=False),
        Field(key="cutting", sort=YES_NO, is_offered=False),
    )
)
