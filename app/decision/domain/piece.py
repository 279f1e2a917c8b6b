"""A piece of kit with the marks printed on it and the records it has."""

from __future__ import annotations

from datetime import date
from typing import Literal

from msgspec import Struct

from app.decision.domain.calendar import Day
from app.decision.domain.chain import Fuse, Mark
from app.decision.domain.record import AnyRecord

FirstIssue = Day | Literal["never", "unknown"]


class VoltageMark(Struct, frozen=True):
    """Volts printed on a tool, mV; None is not printed."""

    ac_mv: int | None = None
    dc_mv: int | None = None


class Piece(Struct, frozen=True, kw_only=True):
    """One piece (a pair of gloves is one). None is "not known", never a default; lengths in um, voltages in mV.

    How each field is read, written and shown stands in `fields`, which kind has it in `kinds`.
    """

    code: str
    kind: str
    label: str = ""
    serial: str | None = None
    model: str | None = None
    batch: str = ""
    custody: str = "crib"
    is_lost: bool = False
    first_issue: FirstIssue = "unknown"
    insulation_class: str | None = None
    class_system: str | None = None
    type: str | None = None
    categories: tuple[str, ...] = ()
    length_um: int | None = None
    size_c: int | None = None
    hand: str | None = None
    dc_tested: bool | None = None
    material: str | None = None
    voltage_mark: VoltageMark | None = None
    marks: tuple[Mark, ...] | None = None
    marks_cap_off: tuple[Mark, ...] | None = None
    fixed_leads: bool | None = None
    max_input_ac_mv: int | None = None
    max_input_dc_mv: int | None = None
    current_ma: int | None = None
    tip_um: int | None = None
    caps: str | None = None
    fuse: Fuse | None = None
    max_altitude_m: int | None = None
    threshold_dc_mv: int | None = None
    threshold_ac_mv: int | None = None
    leather_um: int | None = None
    leather: str | None = None
    cut_for_class: str | None = None
    arc_rating_mcal: int | None = None
    hood: bool | None = None
    balaclava: bool | None = None
    fabric_rating_mcal: int | None = None
    window_rating_mcal: int | None = None
    output_dc_mv: int | None = None
    output_ac_mv: int | None = None
    maker_interval_months: int | None = None
    marked_until: date | None = None
    expires_on: date | None = None
    inspect_months: int | None = None
    laundered: int | None = None
    capped_tip_um: int | None = None
    secures: int | None = None
    made_on: Day | None = None
    end_of_life: date | None = None
    owner_until: date | None = None
    records: tuple[AnyRecord, ...] = ()


class Person(Struct, frozen=True, kw_only=True):
    """Somebody who does work: a code, scopes of authorisation, its last day, glove sizes in hundredths of an inch."""

    code: str
    scopes: tuple[str, ...] = ()
    roles: tuple[str, ...] = ()
    valid_until: date | None = None
    glove_sizes_c: tuple[int, ...] = ()
