"""What a window must know of a register before anything is asked: the day, who is known, which cribs there are."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from msgspec import Struct

from app.decision.domain.register import System
from app.register.engine import Connection
from app.register.reads import register
from app.usecases.desk import Desk


class AboutHere(Struct, frozen=True):
    """`people`: code -> "P03 name, what they do"; `crib`: the only one there is, "" where there are several."""

    today: date
    is_demo: bool
    people: Mapping[str, str]
    systems: Mapping[str, System]
    cribs: tuple[str, ...]
    crib: str
    warning_days: int


def about_here(desk: Desk) -> AboutHere:
    """One look at the site's book."""

    def read(connection: Connection) -> AboutHere:
        depot = register.depot_without_kit(connection)
        names, roles = register.names_kept(connection), register.role_words(connection)
        people = {code: _said(code, names.get(code, ""), roles.get(code, "")) for code in sorted(depot.people)}
        cribs = tuple(register.cribs(connection))
        return AboutHere(
            desk.today(), desk.demo_day is not None, people, depot.systems, cribs, cribs[0] if len(cribs) == 1 else "",
            depot.site.warning_days,
        )  # fmt: skip

    return desk.ask(read)


def _said(code: str, name: str, role: str) -> str:
    return ", ".join(part for part in (f"{code} {name}".strip(), role) if part)
