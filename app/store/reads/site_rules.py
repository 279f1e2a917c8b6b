"""The site's rules as they stand now; read without the database library, because a first list needs nothing else."""

from __future__ import annotations

import json
from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct

from app.domain.case.world import read_site
from app.domain.register import Depot
from app.store.driver import fetched

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection

DEFAULT_RULE_SETS = ("us-osha-137",)


class SiteRuleKept(Struct, frozen=True):
    """One site rule as it stands: value as plain TOML-like data, None once it is back as shipped."""

    key: str
    value: object
    approved_by: str | None
    reason: str | None
    entry: int


def site_rules_kept(connection: Connection) -> dict[str, SiteRuleKept]:
    """Every site rule ever set, by key, in its newest revision."""
    rows = fetched(
        connection,
        "SELECT s.key, s.value, s.approved_by, s.reason, s.entry FROM site_rule AS s WHERE s.revision = "
        "(SELECT max(t.revision) FROM site_rule AS t WHERE t.key = s.key) ORDER BY s.key",
    )
    return {
        key: SiteRuleKept(key, None if value is None else json.loads(value), approved_by, reason, entry)
        for key, value, approved_by, reason, entry in rows
    }


def site_table(connection: Connection) -> dict[str, object]:
    """The site's rules as the worked-case format writes them, approvals included."""
    kept = site_rules_kept(connection)
    table: dict[str, object] = {one.key: one.value for one in kept.values() if one.value is not None}
    approvals = [
        {"key": one.key, "approved_by": one.approved_by, "reason": one.reason}
        for one in kept.values()
        if one.value is not None and one.approved_by
    ]
    if approvals:
        table["approvals"] = approvals
    return table


def depot_rules(connection: Connection) -> Depot:
    """Site rules, rule sets, zone and the demo's day; no people, no systems."""
    table = site_table(connection)
    rule_sets = table.get("rule_sets", DEFAULT_RULE_SETS)
    assert isinstance(rule_sets, (list, tuple))
    demo_day = table.get("demo_day")
    return Depot(
        site=read_site({key: value for key, value in table.items() if key != "demo_day"}, "site rules"),
        rule_sets=tuple(str(one) for one in rule_sets),
        timezone=str(table.get("timezone", "")),
        demo_day=None if demo_day is None else date.fromisoformat(str(demo_day)),
    )
