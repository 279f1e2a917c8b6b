"""Load what others wrote: the crib's sheet, the depot file, the day's checks. Good rows in one transaction, or none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from app.decision.domain.entries import Entry
from app.decision.domain.errors import BadInput
from app.decision.domain.register import Check
from app.decision.fields.reading import Table, as_tables, nearest
from app.decision.judging.answers import Saved
from app.intake.register_sheet import SheetRow
from app.register.journal import SITE_BOOK
from app.register.reads import pieces, register
from app.register.reads.names import taken_codes
from app.register.reads.pieces import WHATS
from app.register.reads.site_rules import CONFIRMED
from app.register.unit import Unit
from app.usecases.add_person import put_person
from app.usecases.add_piece import crib_for, put_pieces
from app.usecases.add_system import put_system
from app.usecases.books import of_crib, of_pieces, the_site
from app.usecases.confirm_figures import put_confirmations
from app.usecases.desk import Desk
from app.usecases.entering import enter, known_code, on_day
from app.usecases.log_check import LOGGED
from app.usecases.set_rule import hold_against, notices, put_rule

CHECKS = (*LOGGED, "electrical-test")


def taken(desk: Desk, rows: Iterable[SheetRow]) -> dict[str, str]:
    """Which of these codes are in the register already: code as written -> the piece there."""
    codes = [row.piece.code for row in rows]
    return desk.ask(lambda connection: taken_codes(connection, codes))


def load_sheet(desk: Desk, by: str, rows: Iterable[SheetRow]) -> Saved:
    """Write all these rows in one transaction; cribs they name are set up. BadInput for a code that is taken."""
    good = list(rows)
    with desk.write(by, books=of_crib(*{row.crib for row in good})) as unit:
        there = unit.read(lambda connection: taken_codes(connection, [row.piece.code for row in good]))
        for code, other in there.items():
            raise BadInput("piece.taken", thing=code, other=other)
        _each_once(good)
        cribs = {name: crib_for(unit, name, may_be_new=True) for name in sorted({row.crib for row in good})}
        put_pieces(desk, unit, [(row.piece, cribs[row.crib]) for row in good])
        return Saved(tuple(unit.names))


def _each_once(rows: Iterable[SheetRow]) -> None:
    """BadInput for two rows of one code, in whatever capitals: the reader of sheets names both, and so does this."""
    seen: dict[str, SheetRow] = {}
    for row in rows:
        other = seen.setdefault(row.piece.code.casefold(), row)
        if other is not row:
            raise BadInput(
                "load.twice", place=f"{row.place.sheet} {row.place.row}", thing=row.piece.code, other=other.piece.code,
                row=other.place.row or 0,
            )  # fmt: skip


def load_depot(desk: Desk, by: str, document: Table, file: str = "") -> Saved:
    """Site rules, people and systems of a depot file, all or nothing; in an empty register `by` stands in the file.

    `file`: its name, for what is refused of it.
    """
    with desk.write(by, books=the_site, setting_up=True) as unit:
        people = as_tables(document.get("people", []), "", "people")
        if not unit.read(register.people_kept) and by not in {person.get("code") for person in people}:
            raise BadInput("by.not-in-file", thing=by)
        for person in people:
            put_person(unit, person)
        for system in as_tables(document.get("systems", []), "", "systems"):
            put_system(unit, system)
        site = document.get("site", {})
        assert isinstance(site, Mapping)
        _put_site(desk, unit, site, file)
        return Saved(tuple(unit.names), notices(hold_against(unit, file=file), site))


def _put_site(desk: Desk, unit: Unit, site: Table, file: str) -> None:
    approvals = {
        str(approval["key"]): (str(approval["approved_by"]), str(approval["reason"]))
        for approval in as_tables(site.get("approvals", []), "site", "approvals")
    }
    for key, value in site.items():
        # The demo's day is set by whoever builds the demo and by nobody's file: it closes the register to entries.
        if key == CONFIRMED:
            _confirm(desk, unit, value, approvals.get(key), file)
        elif key not in ("approvals", "demo_day"):
            put_rule(unit, key, value, *approvals.get(key, (None, None)))


def _confirm(desk: Desk, unit: Unit, figures: object, approval: tuple[str, str] | None, file: str) -> None:
    """Figures a file lists as confirmed: by whom and against which document its approvals say."""
    if not figures:
        return
    if approval is None or not isinstance(figures, (list, tuple)):
        key = "site.confirmed-all" if figures == "all" else "site.confirmed-by-nobody"
        raise BadInput(key, file=file, place="site", thing=CONFIRMED)
    by, document = approval
    try:
        known_code(unit.read(register.people_kept), by, "store.unknown-person")
        put_confirmations(unit, by, map(str, figures), document, desk.today())
    except BadInput as fault:
        fault.file, fault.place = file, "site"
        raise


def load_checks(desk: Desk, by: str, checks: Iterable[Check]) -> Saved:
    """The day's checks as entries, all or nothing; BadInput for anything that has an act of its own to enter it by."""
    entered = list(checks)
    for check in entered:
        if (what := WHATS[type(check.record)]) not in CHECKS:
            raise BadInput("checks.not-a-check", thing=check.piece, what=what, known=tuple(CHECKS))
    with desk.write(by, books=of_pieces({check.piece for check in entered})) as unit:
        codes = list(dict.fromkeys(check.piece for check in entered))
        kept = unit.read(lambda connection: pieces.pieces(connection, codes))
        for check in entered:
            if check.piece not in kept:
                raise BadInput("checks.unknown-piece", thing=check.piece, nearest=nearest(check.piece, kept))
            piece, record = kept[check.piece], on_day(desk, check.record)
            name = enter(unit, piece, record)
            # The next check of this piece is held against this one too: a line that stands twice is named.
            kept[check.piece] = piece.with_entries([Entry(name=name, record=record)])
        return Saved(tuple(unit.names))


def close_to_entries(desk: Desk, by: str, day: date) -> Saved:
    """Give the register its own day: from now on it is a demo and takes no entries."""
    with desk.write(by, books=the_site) as unit:
        row = {"key": "demo_day", "revision": 1, "value": f'"{day.isoformat()}"'}
        unit.add(SITE_BOOK, "site_rule", "demo_day", row)
        return Saved(tuple(unit.names))
