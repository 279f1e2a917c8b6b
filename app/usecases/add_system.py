"""Add a system, or a circuit of one; the same code again is its next revision."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from app.decision.case.world import read_circuit
from app.decision.domain.electrical_test import Note
from app.decision.domain.errors import BadInput
from app.decision.domain.voltage import CELL_MAX_MV, CELL_MIN_MV, Circuit, working
from app.decision.fields.reading import Table, as_tables, read_table, text
from app.decision.judging.answers import Saved
from app.register.journal import SITE_BOOK
from app.register.reads import register
from app.register.reads.out import open_issues
from app.register.unit import Unit
from app.register.writes.rows import circuit_row
from app.usecases.books import the_site
from app.usecases.desk import Desk
from app.usecases.entering import known_code

_SYSTEM = {"code": text, "name": text, "circuits": lambda value: value}


def add_system(desk: Desk, by: str, table: Table) -> Saved:
    """Add one system, with circuits where the table has some."""
    with desk.write(by, books=the_site) as unit:
        code, circuits = put_system(unit, table)
        told = [note for circuit in circuits for note in _told(unit, code, circuit)]
        return Saved(tuple(unit.names), (*told, *_out_on(unit, code, circuits)))


def add_circuit(desk: Desk, by: str, system: str, table: Table) -> Saved:
    """Add one circuit to a system that is there."""
    with desk.write(by, books=the_site) as unit:
        known_code(unit.read(register.systems_kept), system, "store.unknown-system")
        circuit = put_circuit(unit, system, table)
        return Saved(tuple(unit.names), (*_told(unit, system, circuit), *_out_on(unit, system, [circuit])))


def put_system(unit: Unit, table: Table) -> tuple[str, list[Circuit]]:
    """Write one system and its circuits; answers its code and them."""
    read = read_table(table, _SYSTEM, {}, "system")
    if "code" not in read:
        raise BadInput("case.key-missing", place="system", thing="code")
    code = str(read["code"])
    revision = unit.read(lambda connection: register.newest_revision(connection, "system", code=code)) + 1
    row = {"code": code, "revision": revision, "name": str(read.get("name", code))}
    unit.add(SITE_BOOK, "system", code, row)
    put: dict[str, Circuit] = {}
    for circuit in as_tables(read.get("circuits", []), f"system {code}", "circuits"):
        name = put_circuit(unit, code, circuit)
        if name.key in put:
            raise BadInput("depot.twice", place=f"system {code}", thing=name.key)
        put[name.key] = name
    return code, list(put.values())


def _told(unit: Unit, system: str, circuit: Circuit) -> Iterator[Note]:
    """What to say of a circuit just written."""
    name = f"{system}.{circuit.key}"
    if (
        unit.read(lambda connection: register.newest_revision(connection, "circuit", system=system, key=circuit.key))
        > 1
    ):
        yield Note("saved.replaced", {"circuit": name})
    yield _working_note(name, circuit)
    best, reading = working(circuit), circuit.reading_mv
    if best is not None and reading is not None and reading > best.mv:
        yield Note("saved.reading-contradicts", {"circuit": name, "reading_v": reading / 1000})


def _out_on(unit: Unit, system: str, circuits: Iterable[Circuit]) -> Iterator[Note]:
    """Who went out on the figures these circuits had before, and is not back."""
    keys = [circuit.key for circuit in circuits]
    for issue in unit.read(lambda connection: open_issues(connection, system, keys)):
        yield Note(
            "saved.open-issue",
            {"entry": str(issue.entry), "person": issue.person, "until": issue.until, "pieces": issue.pieces},
        )


def _working_note(name: str, circuit: Circuit) -> Note:
    highest = working(circuit)
    if highest is None:
        return Note("saved.working-unknown", {"circuit": name})
    return Note("saved.working", {"circuit": name, "working_v": highest.mv / 1000, "origin": highest.origin})


def _plausible(circuit: Circuit) -> None:
    """BadInput for a maximum of one cell outside what any cell of its chemistry has: a slipped decimal point."""
    cells = circuit.cells
    if cells is None or cells.max_mv is None:
        return
    least = CELL_MIN_MV.get(cells.chemistry, 0)
    most = max(CELL_MAX_MV["unknown-lithium"], CELL_MAX_MV[cells.chemistry])
    if not least <= cells.max_mv <= most:
        raise BadInput(
            "circuit.cell-implausible", place=circuit.key, thing=f"{cells.max_mv / 1000:g}", chemistry=cells.chemistry,
            least=least / 1000, most=most / 1000,
        )  # fmt: skip


def put_circuit(unit: Unit, system: str, table: Table) -> Circuit:
    """Write one circuit; BadInput for a cell voltage no such cell has."""
    circuit = read_circuit(table, f"system {system} circuit")
    _plausible(circuit)
    revision = (
        unit.read(lambda connection: register.newest_revision(connection, "circuit", system=system, key=circuit.key))
        + 1
    )
    unit.add(SITE_BOOK, "circuit", system, circuit_row(system, circuit, revision))
    return circuit


def _revision(unit: Unit, system: str, circuit: Circuit) -> int:
    key = {"system": system, "key": circuit.key}
    return unit.read(lambda connection: register.newest_revision(connection, "circuit", **key))
