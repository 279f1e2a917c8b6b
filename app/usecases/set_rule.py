"""Set a site rule: tighter freely, looser only by a named approver with a reason; or put it back as shipped."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from app.domain.case.reading import nearest
from app.domain.case.world import SITE, read_site
from app.domain.errors import BadInput
from app.domain.limits import SiteRules
from app.judging.answers import Saved
from app.judging.catalogues import catalogues, rule_sets_of
from app.judging.looser import EXEMPTION, looser_rules, unoffered_rules
from app.store.canonical import canonical
from app.store.journal import SITE_BOOK
from app.store.reads import register, site_rules
from app.store.reads.lines import Line
from app.store.unit import Unit
from app.usecases.desk import Desk
from app.usecases.entering import known_code
from app.usecases.said_before import standing_line

NOT_HERE = ("approvals", "demo_day")


def set_rule(
    desk: Desk, by: str, rules: Mapping[str, object], approved_by: str | None = None, reason: str | None = None
) -> Saved:
    """Set rules by key; a value of None puts a rule back as shipped. All of them or none.

    What the same person has set so before is left standing; BadInput where that is all of it.
    """
    with desk.write(by) as unit:
        if approved_by is not None:
            known_code(unit.read(register.people_kept), approved_by, "store.unknown-person")
        stand: list[Line] = []
        for key, value in rules.items():
            check_rule(key, value, approved_by, reason)
            stood = standing_line(unit, "site_rule", key, rule_row(key, value, approved_by, reason))
            if stood is not None:
                stand.append(stood)
                continue
            put_rule(unit, key, value, approved_by, reason)
        if stand and not unit.names:
            raise BadInput("entry.stands", thing=", ".join(rules), entry=", ".join(str(one.name) for one in stand))
        hold_against(unit)
        return Saved(tuple(unit.names))


def put_rule(unit: Unit, key: str, value: object, approved_by: str | None, reason: str | None) -> None:
    """Write one rule's next revision; BadInput for a key nobody knows or a value its reader cannot take."""
    check_rule(key, value, approved_by, reason)
    revision = unit.read(lambda connection: register.site_rule_revision(connection, key)) + 1
    unit.add(SITE_BOOK, "site_rule", key, {**rule_row(key, value, approved_by, reason), "revision": revision})


def rule_row(key: str, value: object, approved_by: str | None, reason: str | None) -> dict[str, object]:
    """One rule as its row says it, but for the revision."""
    said = None if value is None else canonical(plain(value))
    return {"key": key, "value": said, "approved_by": approved_by, "reason": reason}


def check_rule(key: str, value: object, approved_by: str | None, reason: str | None) -> None:
    """BadInput for a key nobody knows, a value its reader cannot take, an approval by halves."""
    if key not in SITE or key in NOT_HERE:
        raise BadInput(
            "site.unknown-rule", thing=key, nearest=nearest(key, [one for one in SITE if one not in NOT_HERE])
        )
    if value is not None:
        read_site({key: value}, "site rules")
    if key == "confirmed_in_print" and value and value != "all":
        _known_figures(value, reason)
    elif (approved_by is None) != (reason is None):
        raise BadInput("site.approver-and-reason", thing=key)


def _known_figures(value: object, document: str | None) -> None:
    """BadInput for a figure that stands nowhere, or a confirmation that names no document."""
    known = catalogues()
    figures = {limit.key for one in known.rule_sets.values() for limit in one.limits.values()}
    figures |= {limit.key for limit in known.house.limits.values()}
    assert isinstance(value, (list, tuple))
    for one in value:
        if one not in figures:
            raise BadInput("rules.unknown-figure", thing=str(one), nearest=nearest(str(one), figures))
    if document is None:
        raise BadInput("rules.confirm-document", thing="confirmed_in_print")


def plain(value: object) -> object:
    """A value as it is kept: lists of plain things, days as ISO text."""
    return msgspec.to_builtins(value)


def hold_against(unit: Unit) -> SiteRules:
    """The rules as they now are; BadInput where one is looser than shipped without an approver, or a set unknown."""
    depot = unit.read(lambda connection: register.depot_without_kit(connection, (), ()))
    rule_sets = rule_sets_of(depot)
    house = catalogues().house
    for key in unoffered_rules(depot.site, house, rule_sets):
        raise BadInput("rules.looser-not-offered", thing=key, sets=", ".join(one.title for one in rule_sets))
    for key in looser_rules(depot.site, house):
        if key != EXEMPTION and depot.site.approver(key) is None:
            raise BadInput("rules.looser-without-approver", thing=key)
    return depot.site


def rules_now(desk: Desk) -> tuple[list[site_rules.SiteRuleKept], list[str]]:
    """The rules as they stand, and the titles of the rule sets."""
    kept = desk.ask(site_rules.site_rules_kept)
    depot = desk.ask(lambda connection: register.depot_without_kit(connection, (), ()))
    return list(kept.values()), [one.title for one in rule_sets_of(depot)]
