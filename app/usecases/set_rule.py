"""Set a site rule: tighter freely, looser only by a named approver with a reason; or put it back as shipped."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec
from msgspec import Struct

from app.decision.case.site import read_site
from app.decision.domain.electrical_test import Note
from app.decision.domain.errors import BadInput
from app.decision.domain.limits import RuleSet
from app.decision.domain.register import Depot
from app.decision.fields.reading import nearest
from app.decision.fields.site import FIELDS as SITE
from app.decision.judging.answers import Saved
from app.decision.judging.catalogues import catalogues, rule_sets_of
from app.decision.judging.figures_known import figures_of
from app.decision.judging.looser import EXEMPTION, hold_to_offers, unoffered_rules
from app.register.canonical import canonical
from app.register.journal import SITE_BOOK
from app.register.reads import register, site_rules
from app.register.reads.lines import Line
from app.register.reads.site_rules import CONFIRMED
from app.register.unit import Unit
from app.usecases.books import the_site
from app.usecases.desk import Desk
from app.usecases.entering import known_code
from app.usecases.said_before import status_line

#: what can be set: the rules something is decided by, and what a depot file says of the site beside them
RULES = (
    *(field.key for field in SITE.values() if field.is_offered and field.key not in ("approvals", CONFIRMED)),
    "timezone",
    "rule_sets",
)


def set_rule(
    desk: Desk, by: str, rules: Mapping[str, object], approved_by: str | None = None, reason: str | None = None
) -> Saved:
    """Set rules by key; a value of None puts a rule back as shipped. All of them or none.

    What the same person has set so before is left standing; BadInput where that is all of it.
    """
    with desk.write(by, books=the_site) as unit:
        if approved_by is not None:
            known_code(unit.read(register.people_kept), approved_by, "store.unknown-person")
        stand: list[Line] = []
        before = unit.read(site_rules.depot_rules)
        for key, value in rules.items():
            if key == CONFIRMED:
                raise BadInput("rules.confirm-apart", thing=key)
            wanted = (key, *_approved(unit, key, value, approved_by, reason))
            check_rule(*wanted)
            stood = status_line(unit, "site_rule", key, rule_row(*wanted))
            if stood is not None:
                stand.append(stood)
                continue
            put_rule(unit, *wanted)
        if stand and not unit.names:
            raise BadInput("entry.stands", thing=", ".join(rules), entry=[str(line.name) for line in stand])
        return Saved(tuple(unit.names), notices(hold_against(unit, before=before), rules))


def _approved(
    unit: Unit, key: str, value: object, approved_by: str | None, reason: str | None
) -> tuple[object, str | None, str | None]:  # fmt: skip
    """Value, approver and reason as they are kept: the exemption carries both in its value, however they were given."""
    if key != EXEMPTION or not value:
        return value, approved_by, reason
    if value in (True, "approved") and approved_by and reason:
        return {"approved_by": approved_by, "reason": reason}, None, None
    if value in (True, "approved"):
        raise BadInput("rules.looser-without-approver", thing=key)
    if isinstance(value, Mapping) and "approved_by" in value:
        known_code(unit.read(register.people_kept), str(value["approved_by"]), "store.unknown-person")
    return value, None, None


def notices(depot: Depot, rules: Iterable[str]) -> tuple[Note, ...]:
    """What the sets just chosen cannot serve."""
    if "rule_sets" not in rules:
        return ()
    return tuple(Note(notice, {"set": chosen.title}) for chosen in rule_sets_of(depot) for notice in chosen.notices)


def put_rule(unit: Unit, key: str, value: object, approved_by: str | None, reason: str | None) -> None:
    """Write one rule's next revision; BadInput for a key nobody knows or a value its reader cannot take."""
    check_rule(key, value, approved_by, reason)
    revision = unit.read(lambda connection: register.newest_revision(connection, "site_rule", key=key)) + 1
    unit.add(SITE_BOOK, "site_rule", key, {**rule_row(key, value, approved_by, reason), "revision": revision})


def rule_row(key: str, value: object, approved_by: str | None, reason: str | None) -> dict[str, object]:
    """One rule as its row says it, but for the revision."""
    stored = None if value is None else canonical(plain(value))
    return {"key": key, "value": stored, "approved_by": approved_by, "reason": reason}


def check_rule(key: str, value: object, approved_by: str | None, reason: str | None) -> None:
    """BadInput for a key nobody knows, a value its reader cannot take, an approval by halves."""
    if key not in RULES:
        raise BadInput("site.unknown-rule", thing=key, nearest=nearest(key, RULES))
    if value is not None:
        read_site({key: value}, "site rules")
    if (approved_by is None) != (reason is None):
        raise BadInput("site.approver-and-reason", thing=key)


def plain(value: object) -> object:
    """A value as it is kept: lists of plain things, days as ISO text."""
    return msgspec.to_builtins(value)


def hold_against(unit: Unit, *, before: Depot | None = None, file: str = "") -> Depot:
    """The rules as they now are; BadInput where one is looser than shipped and not offered, or without an approver.

    `before`: as they were, to tell a set that takes an offer away from a rule nobody offered; `file`: that sets them.
    """
    depot = unit.read(site_rules.depot_rules)
    rule_sets, house = rule_sets_of(depot), catalogues().house
    if before is not None:
        _takes_no_offer(before, depot, unoffered_rules(depot.site, house, rule_sets), rule_sets)
    hold_to_offers(depot.site, house, rule_sets, file)
    return depot


def _takes_no_offer(before: Depot, now: Depot, unoffered: Iterable[str], rule_sets: Iterable[RuleSet]) -> None:
    """BadInput where a set of before offered a rule that stands as it stood, and no set of now does."""
    for key in unoffered:
        others = [rule_set.title for rule_set in rule_sets_of(before) if key in rule_set.offers]
        if others and getattr(before.site, key) == getattr(now.site, key):
            titles = tuple(rule_set.title for rule_set in rule_sets)
            raise BadInput("rules.set-takes-offer", thing=key, sets=titles, others=tuple(others))


class RulesNow(Struct, frozen=True):
    """The rules as they stand, the sets they go with, and how many figures of those are confirmed or still wait."""

    kept: tuple[site_rules.SiteRuleKept, ...]
    rule_sets: tuple[RuleSet, ...]
    confirmed: int
    waiting: int


def rules_now(desk: Desk) -> RulesNow:
    """The rules as they stand; figures confirmed in print have a list of their own."""
    kept = desk.ask(site_rules.site_rules_kept).values()
    seen = desk.ask(site_rules.confirmations)
    rule_sets = rule_sets_of(desk.ask(site_rules.depot_rules))
    from_memory = [figure.key for figure in figures_of(rule_sets) if figure.is_from_memory]
    confirmed = len([key for key in from_memory if key in seen])
    rules = tuple(rule for rule in kept if not rule.key.startswith(CONFIRMED))
    return RulesNow(rules, rule_sets, confirmed, len(from_memory) - confirmed)
