"""What was judged as the tables of a worked case: what anybody can read, judge again and hold against another copy.

The inverse of the readers beside it: the same keys, figures in the units of their names, exactly as many decimals as
they have.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from functools import cache

import msgspec

from app.decision.case.pieces import FIELDS, NAMES, WHATS
from app.decision.domain.calendar import Day
from app.decision.domain.chain import Fuse, Mark
from app.decision.domain.entries import AnyEntry
from app.decision.domain.facts import Facts
from app.decision.domain.limits import SiteRules
from app.decision.domain.piece import Person, Piece, VoltageMark
from app.decision.domain.record import AnyRecord, ElectricalTest, Issue
from app.decision.domain.voltage import Circuit

Table = dict[str, object]
#: key of the format -> decimals its integer carries
_PIECE_DECIMALS = {
    "length_mm": 3, "size": 2, "max_input_ac_v": 3, "max_input_dc_v": 3, "current_a": 3, "tip_mm": 3,
    "threshold_dc_v": 3, "threshold_ac_v": 3, "leather_mm": 3, "arc_rating_cal": 3, "fabric_rating_cal": 3,
    "window_rating_cal": 3, "output_dc_v": 3, "output_ac_v": 3,
}  # fmt: skip
#: field of a record -> key of the format and its decimals
_RECORD_KEYS = {
    "frequency_mhz": ("frequency_hz", 3), "left_ua": ("left_ma", 3), "right_ua": ("right_ma", 3),
    "inflation_c": ("inflation", 2), "clearance_um": ("clearance_mm", 3),
}  # fmt: skip
#: what the register knows and the format has no key for
_NOT_KEYS: dict[type, tuple[str, ...]] = {ElectricalTest: ("confirmed_seen",), Issue: ("to",)}
_VOLTS = (
    "plate_max_mv", "maker_max_mv", "boosted_mv", "nominal_mv", "reading_mv", "phase_to_earth_mv",
)  # fmt: skip


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


def scaled(value: int, places: int) -> Decimal | int:
    """An integer with `places` decimals as people write it: 1500 of 3 places is 1.5.

    >>> scaled(831600, 3), scaled(1500000, 3)
    (Decimal('831.6'), 1500)
    """
    exact = Decimal(value).scaleb(-places)
    whole = exact.to_integral_value()
    return int(whole) if whole == exact else Decimal(str(exact.normalize()))


def piece_table(piece: Piece) -> Table:
    """One piece with its records."""
    fields = {NAMES.get(key, key): key for key in FIELDS}
    table: Table = {}
    for one in _fields(Piece):
        value = getattr(piece, one.name)
        if one.name != "records" and value is not None and value not in ((), ""):
            key = fields[one.name]
            table[key] = scaled(value, _PIECE_DECIMALS[key]) if key in _PIECE_DECIMALS else _plain(value)
    if not table.get("lost"):
        table.pop("lost", None)
    return {**table, "records": [record_table(one) for one in piece.records]}


def record_keys(record: AnyEntry) -> Table:
    """One entry in the keys of the format, what stands as shipped left out; not every entry is a record of a case."""
    table: Table = {"what": WHATS.get(type(record), "entry of the register")}
    for one in _fields(type(record)):
        value = getattr(record, one.name)
        if value is None or value in ((), one.default) or one.name in _NOT_KEYS.get(type(record), ()):
            continue
        key, places = _RECORD_KEYS.get(one.name, (one.name, 0))
        table[key] = scaled(value, places) if places else _plain(value)
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


def _plain(value: object) -> object:
    if isinstance(value, Day):
        return _day(value)
    if isinstance(value, VoltageMark):
        return _known({"ac_v": _volts(value.ac_mv), "dc_v": _volts(value.dc_mv)})
    if isinstance(value, Fuse):
        return _known({"v": _volts(value.mv), "ac_only": value.is_ac_only, "kind": value.kind})
    if isinstance(value, tuple):
        return [[one.category, scaled(one.mv, 3)] if isinstance(one, Mark) else one for one in value]
    return value


def _day(day: Day) -> date | str:
    if day.is_exact:
        return day.first
    month = f"{day.first:%Y-%m}"
    if Day.parse(month) == day:
        return month
    year, week, _ = day.first.isocalendar()
    return f"{year}-W{week:02d}"


def _volts(millivolts: int | None) -> Decimal | int | None:
    return None if millivolts is None else scaled(millivolts, 3)


def _known(table: Mapping[str, object]) -> Table:
    return {key: value for key, value in table.items() if value is not None}


def _person(person: Person) -> Table:
    return _known(
        {
            "code": person.code, "scopes": list(person.scopes), "valid_until": person.valid_until,
            "glove_sizes": [scaled(size, 2) for size in person.glove_sizes_c],
        }
    )  # fmt: skip


def _job(facts: Facts) -> Table:
    job = facts.job
    return _known(
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
    table: Table = {"key": circuit.key, "supply": circuit.supply, "category": circuit.category}
    if cells is not None:
        table["cells"] = _known(
            {"series": cells.series, "chemistry": cells.chemistry, "max_v": _volts(cells.max_mv)}
        )  # fmt: skip
    for name in _VOLTS:
        table[name.replace("_mv", "_v")] = _volts(getattr(circuit, name))
    table["phase_to_earth_confirmed_by"] = circuit.phase_to_earth_confirmed_by
    table["maker_names_multimeter"] = circuit.maker_names_multimeter or None
    return _known(table)


def site_table(site: SiteRules) -> Table:
    """The site's rules where they differ from shipped."""
    shipped = SiteRules()
    names = {"margin_bp": "margin_percent"}
    table: Table = {}
    for one in _fields(SiteRules):
        value = getattr(site, one.name)
        if value == getattr(shipped, one.name) or one.name in ("approvals", "approvals_taken_as_given"):
            continue
        if one.name == "confirmed_in_print":
            table[one.name] = "all" if value is None else sorted(value)
        elif one.name == "dielectric_exempt_00_0":
            table[one.name] = {"approved_by": value.approved_by, "reason": value.reason}
        else:
            table[names.get(one.name, one.name)] = scaled(value, 2) if one.name == "margin_bp" else _plain(value)
    approvals = [{"key": one.key, "approved_by": one.approved_by, "reason": one.reason} for one in site.approvals]
    return {**table, **({"approvals": approvals} if approvals else {})}
