"""Add a system, or a circuit of one; the same code again is its next revision."""

from __future__ import annotations

from app.domain.case.reading import Table, as_tables, read_table, text
from app.domain.case.world import read_circuit
from app.domain.electrical_test import Note
from app.domain.errors import BadInput
from app.domain.voltage import CELL_MAX_MV, CELL_MIN_MV, Circuit, working
from app.judging.answers import Saved
from app.store.journal import SITE_BOOK
from app.store.reads import register
from app.store.unit import Unit
from app.store.writes.rows import circuit_row
from app.usecases.desk import Desk
from app.usecases.entering import known_code

_SYSTEM = {"code": text, "name": text, "circuits": lambda value: value}


def add_system(desk: Desk, by: str, table: Table) -> Saved:
    """Add one system, with circuits where the table has some."""
    with desk.write(by) as unit:
        put_system(unit, table)
        return Saved(tuple(unit.names))


def add_circuit(desk: Desk, by: str, system: str, table: Table) -> Saved:
    """Add one circuit to a system that is there."""
    with desk.write(by) as unit:
        known_code(unit.read(register.systems_kept), system, "store.unknown-system")
        key = str(table.get("key", ""))
        is_there = unit.read(lambda connection: register.circuit_revision(connection, system, key)) > 0
        circuit = put_circuit(unit, system, table)
        told = [Note("saved.replaced", {"circuit": f"{system}.{key}"})] if is_there else []
        return Saved(tuple(unit.names), (*told, _working_note(f"{system}.{key}", circuit)))


def put_system(unit: Unit, table: Table) -> None:
    """Write one system and its circuits."""
    read = read_table(table, _SYSTEM, {}, "system")
    if "code" not in read:
        raise BadInput("case.key-missing", place="system", thing="code")
    code = str(read["code"])
    revision = unit.read(lambda connection: register.system_revision(connection, code)) + 1
    row = {"code": code, "revision": revision, "name": str(read.get("name", code))}
    unit.add(SITE_BOOK, "system", code, row)
    keys: set[str] = set()
    for circuit in as_tables(read.get("circuits", []), f"system {code}", "circuits"):
        key = put_circuit(unit, code, circuit).key
        if key in keys:
            raise BadInput("depot.twice", place=f"system {code}", thing=key)
        keys.add(key)


def _working_note(name: str, circuit: Circuit) -> Note:
    found = working(circuit)
    if found is None:
        return Note("saved.working-unknown", {"circuit": name})
    return Note("saved.working", {"circuit": name, "working_v": found.mv / 1000, "origin": found.origin})


def _plausible(circuit: Circuit) -> None:
    """BadInput for a maximum of one cell outside what any cell of its chemistry has: a slipped decimal point."""
    cells = circuit.cells
    if cells is None or cells.max_mv is None:
        return
    least, most = CELL_MIN_MV[cells.chemistry], max(CELL_MAX_MV["unknown-lithium"], CELL_MAX_MV[cells.chemistry])
    if not least <= cells.max_mv <= most:
        raise BadInput(
            "circuit.cell-implausible", place=circuit.key, thing=f"{cells.max_mv / 1000:g}", chemistry=cells.chemistry,
            least=least / 1000, most=most / 1000,
        )  # fmt: skip


def put_circuit(unit: Unit, system: str, table: Table) -> Circuit:
    """Write one circuit; BadInput for a cell voltage no such cell has."""
    circuit = read_circuit(table, f"system {system} circuit")
    _plausible(circuit)
    revision = unit.read(lambda connection: register.circuit_revision(connection, system, circuit.key)) + 1
    unit.add(SITE_BOOK, "circuit", system, circuit_row(system, circuit, revision))
    return circuit
