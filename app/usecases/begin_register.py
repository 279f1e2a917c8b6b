"""Begin a register: the first person, the rule set and margin, the crib, what a depot file and a sheet bring."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from app.decision.domain.record import ElectricalTest
from app.decision.domain.register import Depot
from app.decision.fields.reading import as_tables
from app.decision.judging.answers import Saved
from app.decision.judging.catalogues import facts_on, rule_sets_of
from app.decision.judging.status import waits_for_certificate
from app.intake.register_sheet import SheetRow
from app.usecases.add_crib import add_crib
from app.usecases.add_person import add_person
from app.usecases.confirm_certificates import confirm_certificates
from app.usecases.desk import Desk
from app.usecases.load_register import load_depot, load_sheet
from app.usecases.set_rule import set_rule


class Beginning(Struct, frozen=True, kw_only=True):
    """What a register begins with. `margin_percent` None leaves the house margin; `depot` is a depot file's table."""

    by: str
    name: str = ""
    role_words: str = ""
    rule_set: str
    margin_percent: int | None = None
    crib: str = ""
    depot: Mapping[str, object] | None = None
    rows: tuple[SheetRow, ...] = ()
    seen: tuple[str, ...] = ()


def waiting_for_certificates(
    rows: Iterable[SheetRow], rule_set: str, depot: Depot | None, on: date
) -> tuple[tuple[str, ElectricalTest], ...]:
    """Pieces of a sheet whose test would count if somebody had seen its certificate: code, and that test.

    `rule_set` "" stands for the house's own until one is chosen; of `depot` the site rules are asked.
    """
    site = depot or Depot()
    pieces = tuple(row.piece for row in rows)
    rule_sets = rule_sets_of(replace(site, rule_sets=(rule_set,)) if rule_set else site)
    facts = facts_on(on, site.site, rule_sets, *pieces)
    waiting = ((piece.code, waits_for_certificate(facts, piece)) for piece in pieces)
    return tuple((code, judged.test) for code, judged in waiting if judged is not None)


def begin_register(desk: Desk, beginning: Beginning) -> list[Saved]:
    """Enter it all in an empty register; the caller makes the file, and takes it away where this fails."""
    by = beginning.by
    done: list[Saved] = []
    document = _under(beginning.depot or {}, beginning.rule_set)
    if by in {person.get("code") for person in as_tables(document.get("people", []), "", "people")}:
        done.append(load_depot(desk, by, document))
    else:
        person = {"code": by, "name": beginning.name, "role_words": beginning.role_words}
        done.append(add_person(desk, by, {key: value for key, value in person.items() if value}))
        if document:
            done.append(load_depot(desk, by, document))
    rules: dict[str, object] = {"rule_sets": [beginning.rule_set]}
    if beginning.margin_percent is not None:
        rules["margin_percent"] = beginning.margin_percent
    if rules["rule_sets"] != list(_set_already(document)) or beginning.margin_percent is not None:
        done.append(set_rule(desk, by, rules))
    # Before the sheet: rows that name no crib go to the one there is.
    if beginning.crib:
        done.append(add_crib(desk, by, beginning.crib))
    if beginning.rows:
        done.append(load_sheet(desk, by, beginning.rows))
    if beginning.seen:
        done.append(confirm_certificates(desk, by, beginning.seen))
    return done


def _under(document: Mapping[str, object], rule_set: str) -> Mapping[str, object]:
    """The depot file's table with the rule set chosen here: what it loosens is held against that one."""
    site = document.get("site")
    if not isinstance(site, Mapping):
        return document
    return {**document, "site": {**site, "rule_sets": [rule_set]}}


def _set_already(document: Mapping[str, object]) -> tuple[str, ...]:
    site = document.get("site", {})
    keys = site.get("rule_sets", ()) if isinstance(site, Mapping) else ()
    return tuple(str(key) for key in keys) if isinstance(keys, (list, tuple)) else ()
