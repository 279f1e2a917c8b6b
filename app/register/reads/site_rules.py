"""The site's rules as they stand now; read without the database library, because a first list needs nothing else."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING

from msgspec import Struct, json

from app.decision.case.site import read_site
from app.decision.domain.register import Depot
from app.register.texts import CONFIRMED_FIGURES, SITE_RULES, asked

if TYPE_CHECKING:
    from sqlalchemy.engine import Connection

DEFAULT_RULE_SETS = ("us-osha-137",)
CONFIRMED = "confirmed_in_print"
# A figure confirmed in print has a row of its own under this and its key, so that no other confirmation drops it.
OF_A_FIGURE = f"{CONFIRMED}/"


class SiteRuleKept(Struct, frozen=True):
    """One site rule as it stands: value as plain TOML-like data, None once it is back as shipped."""

    key: str
    value: object
    approved_by: str | None
    reason: str | None
    entry: int


class Confirmation(Struct, frozen=True):
    """Who saw one figure in which document, by which entry of the site's book, entered at `at` (UTC).

    `on`: the day it was seen; None where it stands in a list of an earlier form, which tells no day of its own.
    """

    figure: str
    by: str
    on: date | None
    document: str
    entry: int
    at: datetime


def confirmations(connection: Connection) -> dict[str, Confirmation]:
    """The figures confirmed in print as they now stand, by key; a figure's own row beats a list of the earlier form."""
    rows = asked(connection, CONFIRMED_FIGURES, f"{CONFIRMED.replace('_', '~_')}%")
    confirmed: dict[str, Confirmation] = {}
    for key, value, approved_by, reason, entry, actor, at in rows:
        stated = None if value is None else json.decode(value)
        figure = key.removeprefix(OF_A_FIGURE)
        if key != CONFIRMED and stated is None:
            confirmed.pop(figure, None)
            continue
        on = None if key == CONFIRMED else date.fromisoformat(str(stated))
        for confirmed_key in _listed(stated) if key == CONFIRMED else (figure,):
            confirmed[confirmed_key] = Confirmation(
                confirmed_key, approved_by or actor, on, reason or "", entry, datetime.fromisoformat(at)
            )  # fmt: skip
    return confirmed


def _listed(value: object) -> tuple[str, ...]:
    # "all" is a word of worked cases: in a register it confirms nothing, because no one saw every figure.
    return tuple(map(str, value)) if isinstance(value, list) else ()


def site_rules_kept(connection: Connection) -> dict[str, SiteRuleKept]:
    """Every site rule ever set, by key, in its newest revision."""
    return {
        key: SiteRuleKept(key, None if value is None else json.decode(value), approved_by, reason, entry)
        for key, value, approved_by, reason, entry in asked(connection, SITE_RULES)
    }


def site_table(connection: Connection) -> dict[str, object]:
    """The site's rules as the worked-case format writes them, approvals and figures confirmed in print included."""
    kept = [rule for rule in site_rules_kept(connection).values() if rule.value is not None]
    rules = [rule for rule in kept if not rule.key.startswith(CONFIRMED)]
    table: dict[str, object] = {rule.key: rule.value for rule in rules}
    if len(rules) < len(kept):
        table[CONFIRMED] = list(confirmations(connection))
    approvals = [
        {"key": rule.key, "approved_by": rule.approved_by, "reason": rule.reason} for rule in rules if rule.approved_by
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
        rule_sets=tuple(str(key) for key in rule_sets),
        timezone=str(table.get("timezone", "")),
        demo_day=None if demo_day is None else date.fromisoformat(str(demo_day)),
    )
