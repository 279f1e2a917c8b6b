"""What was judged as the tables of a worked case: what anybody can read, judge again and hold against another copy.

The inverse of the readers beside it: the same keys, figures in the units of their names, exactly as many decimals as
they have.
"""

from __future__ import annotations

from functools import cache

import msgspec

from app.decision.domain.entries import AnyEntry
from app.decision.domain.facts import Facts
from app.decision.domain.limits import SiteRules
from app.decision.domain.piece import Person, Piece
from app.decision.domain.record import AnyRecord, ElectricalTest, Issue
from app.decision.domain.voltage import Circuit
from app.decision.fields.circuits import PLAIN
from app.decision.fields.field import Field, known, plain, scaled, volts
from app.decision.fields.pieces import FIELDS
from app.decision.fields.records import OF_ALL, SORTS, WHATS
from app.decision.fields.site import FIELDS as SITE

Table = dict[str, object]
#: what the register knows and the format has no key for
_NOT_KEYS: dict[type, tuple[str, ...]] = {ElectricalTest: ("confirmed_seen",), Issue: ("to",)}
_PIECE = {field.name: field for field in FIELDS.values()}
_RECORD: dict[type, dict[str, Field]] = {
    sort.make: {field.name: field for field in (*OF_ALL.values(), *sort.fields.values())} for sort in SORTS.values()
}


@cache
def _fields(kind: type[msgspec.Struct]) -> tuple[msgspec.structs.FieldInfo, ...]:
    # Worked out by the library anew each time, and asked for every record of every decision.
    return msgspec.structs.fields(kind)


def inputs(facts: Facts) -> Table:
    """What one decision is made from, in the keys of a worked case: sets, days, site, job, people, pieces.

    Certificates confirmed as seen have no key of their own in the format: such a test is written as judged.
    """
    return {
        "rule_sets": [rule_set.key for rule_set in facts.rule_sets], "on": facts.on, "until": facts.until,
        "site": site_table(facts.site), "job": _job(facts),
        "person": None if facts.person is None else _person(facts.person),
        "second": None if facts.second is None else _person(facts.second),
        "pieces": [piece_table(piece) for piece in facts.pieces],
    }  # fmt: skip


def piece_table(piece: Piece) -> Table:
    """One piece with its records."""
    table: Table = {}
    for info in _fields(Piece):
        field, value = _PIECE.get(info.name), getattr(piece, info.name)
        if field is not None and value is not None and value not in ((), ""):
            table[field.key] = field.sort.write(value)
    if not piece.is_lost:
        del table["lost"]
    return {**table, "records": [record_table(record) for record in piece.records]}


def record_keys(record: AnyEntry) -> Table:
    """One entry in the keys of the format, what stands as shipped left out; not every entry is a record of a case."""
    make = type(record)
    table: Table = {"what": WHATS.get(make, "entry of the register")}
    for info in _fields(make):
        value = getattr(record, info.name)
        if value is None or value in ((), info.default) or info.name in _NOT_KEYS.get(make, ()):
            continue
        field = _RECORD.get(make, {}).get(info.name)
        table[info.name if field is None else field.key] = plain(value) if field is None else field.sort.write(value)
    return table


def record_table(record: AnyRecord) -> Table:
    """One record as a case needs it."""
    table = record_keys(record)
    if getattr(record, "confirmed_seen", False) and table.get("result") == "passed":
        # Somebody has seen the certificate: the format says that by a result without evidence to be judged.
        table.pop("evidence", None)
    if table["what"] == "inspection" and "defects" not in table:
        table["defects"] = []
    return table


def _person(person: Person) -> Table:
    return known(
        {
            "code": person.code, "roles": list(person.roles) or None, "scopes": list(person.scopes),
            "valid_until": person.valid_until,
            "glove_sizes": [scaled(size, 2) for size in person.glove_sizes_c],
        }
    )  # fmt: skip


def _job(facts: Facts) -> Table:
    job = facts.job
    return known(
        {
            "task": None if job.task is None else job.task.key,
            "circuits": [circuit_table(one) for one in job.circuits],
            "without_protectors": job.without_protectors or None, "dexterity_stated_by": job.dexterity_stated_by,
            "low_damage_risk_stated_by": job.low_damage_risk_stated_by,
            "incident_energy_cal": None if job.incident_energy_mcal is None else scaled(job.incident_energy_mcal, 3),
            "place": job.place, "with": [list(pair) for pair in job.with_leads] or None,
        }
    )  # fmt: skip


def circuit_table(circuit: Circuit) -> Table:
    """A circuit as a table `[[system.circuits]]` of the worked-case format, cells and peak among its keys."""
    cells = circuit.cells
    table: Table = {"key": circuit.key}
    if cells is not None:
        table["cells"] = known({"series": cells.series, "chemistry": cells.chemistry, "max_v": volts(cells.max_mv)})
    for field in PLAIN:
        value = getattr(circuit, field.name)
        if value is not None and value != () and value is not False:
            table[field.key] = field.sort.write(value)
    return table


def site_table(site: SiteRules) -> Table:
    """The site's rules where they differ from shipped."""
    shipped = SiteRules()
    table: Table = {}
    for field in SITE.values():
        value = getattr(site, field.name)
        if value == getattr(shipped, field.name) or field.key == "approvals":
            continue
        if field.key == "confirmed_in_print":
            table[field.key] = "all" if value is None else sorted(value)
        elif field.key == "dielectric_exempt_00_0":
            table[field.key] = {"approved_by": value.approved_by, "reason": value.reason}
        else:
            table[field.key] = field.sort.write(value)
    approvals = [{"key": one.key, "approved_by": one.approved_by, "reason": one.reason} for one in site.approvals]
    return {**table, **({"approvals": approvals} if approvals else {})}
