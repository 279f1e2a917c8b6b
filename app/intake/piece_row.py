"""The values of one row -> the piece's fields and records, and what in them contradicts itself."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from app.decision.fields.pieces import FIELDS
from app.decision.fields.word_tables import word_map, word_set
from app.intake import mark_cells
from app.intake.cells import CellFault, text_of, word
from app.intake.faults import shown
from app.intake.headings import column_of
from app.intake.piece_columns import CALIBRATED, FIGURES, GLOVES, RUBBER, TESTED

if TYPE_CHECKING:
    from collections.abc import Mapping

    from app.intake.table_file import Cell

# Facts T1: use volts AC (S) and DC (T/S) of the classes marked to ASTM, IEC or EN. Only compared with, never filled in.
_CLASS_VOLTS: dict[str, tuple[int, int]] = {
    "00": (500, 750),
    "0": (1000, 1500),
    "1": (7500, 11250),
    "2": (17000, 25500),
    "3": (26500, 39750),
    "4": (36000, 54000),
}
# Facts T2 and T11: lengths made per class, mm; 800 for composite gloves only; tolerance 15 mm, composite 20 mm (S).
_CLASS_LENGTHS: dict[str, tuple[int, ...]] = {
    "00": (280, 360),
    "0": (280, 360, 410, 460),
    "1": (360, 410, 460),
    "2": (360, 410, 460),
    "3": (360, 410, 460),
    "4": (410, 460),
}
_TOLERANCE_MM, _COMPOSITE_TOLERANCE_MM, _COMPOSITE_LENGTH_MM = 15, 20, 800

# Fields that are what their one column says.
_PLAIN_FIELDS = frozenset(field.key for field in FIELDS.values() if column_of(field) == field.key) - {
    "class", "voltage_mark", "custody", "first_issue",
}  # fmt: skip
_VOLT_COLUMNS = {
    "voltage_mark": "{}_v",
    "max_input": "max_input_{}_v",
    "threshold": "threshold_{}_v",
    "output": "output_{}_v",
}
_VOLT_NAMES = frozenset(f"{column}{end}" for column in _VOLT_COLUMNS for end in ("", "_ac", "_dc"))

# A status that speaks against the piece is taken by its first words, whatever follows; one that speaks for it, whole.
_HELD = word_map("""
suspect: on hold | hold | held | quarantin | suspect | do not use | out of service | out of use | not in service
defect: damaged | defect | faulty | broken | torn
lost: lost | missing
failed: fail | not ok | rejected
recall: recall
away: away | at lab | at the lab | at test | out for test | sent
""")
_GONE = ("withdrawn", "scrap", "destroyed", "retired", "disposed", "written off", "binned", "condemned", "withdraw")
_FINE = word_set("""
ok | okay | ready | in store | in stock | in crib | crib | available | in service | in use | good | pass | passed
| active | current | serviceable | in | new | on shelf | in date | live | fit for use | yes | y | stock
""")
_COMPUTED = word_set("overdue | due | due soon | expired | out of date | test due | retest due | due for test")
_WITH = ("out with ", "out to ", "issued to ", "with ", "on loan to ", "out: ", "held by ")
_AT_HOME = word_set("""
crib | store | stores | in store | shelf | in crib | stock | in stock | tool crib | none | nobody | no one | spare
| cupboard | returned | in
""")


class Status(NamedTuple):
    """What a status word asks for: "fine", "computed", "hold" (why), "withdrawn" or "out" (whom)."""

    action: str
    detail: str = ""


def status(cell: Cell) -> Status:
    """What the status means. Raises CellFault for an unknown one."""
    text = word(cell)
    if text in _FINE:
        return Status("fine")
    if text in _COMPUTED:
        return Status("computed")
    for start in _WITH:
        if text.startswith(start):
            return Status("out", text_of(cell)[len(start) :].strip(" :"))
    if text.startswith(_GONE):
        return Status("withdrawn")
    for start, why in _HELD.items():
        if text.startswith(start):
            return Status("hold", why)
    if text in ("out", "issued", "on loan", "kept by", "with", "held by", "in custody"):
        return Status("out")
    raise CellFault(
        "sheet.status-unknown", {"found": shown(text), "expected": "ready, out with, held, away, lost, withdrawn"}
    )


def custody(text: str) -> str:
    """The word "crib", or who has the piece as the sheet writes it."""
    return "crib" if text.lower() in _AT_HOME else text


class PieceRow:
    """One row put together. `faults` are (column, CellFault), the column as named by `headings`."""

    def __init__(self, code: str, kind: str, values: Mapping[str, object], on: date) -> None:
        """`values`: column -> value as read; `on` is the day on which the sheet is taken in."""
        self.kind = kind
        self.values = values
        self.on = on
        self.faults: list[tuple[str, CellFault]] = []
        self.fields: dict[str, object] = {"code": code, "kind": kind}

    def build(self) -> dict[str, object]:
        """The piece in the keys of a worked case; look at `faults` before using it."""
        self._marks()
        self._volts()
        self._fuse()
        if self.kind in GLOVES:
            self._length()
        records = self._electrical_tests() + self._checks()
        records += self._standing()
        self.fields["records"] = records
        return self.fields

    def _fault(self, column: str, key: str, **values: object) -> None:
        self.faults.append((column, CellFault(key, values)))

    def _marks(self) -> None:
        values, fields = self.values, self.fields
        marked = values.get("class")
        if isinstance(marked, dict):
            fields["class"] = marked["class"]
            if marked.get("type", values.get("type")) != values.get("type", marked.get("type")):
                self._fault("type", "sheet.type-contradicts", found=values["type"], other=marked["type"])
            elif "type" in marked:
                fields["type"] = marked["type"]
        named = values.get("class_named")
        if named and self.kind in RUBBER and fields.setdefault("class", named) != named:
            self._fault("class", "sheet.class-contradicts", found=fields["class"], other=named)
        fields.update((name, value) for name, value in values.items() if name in _PLAIN_FIELDS)
        if self.kind in RUBBER:
            fields["first_issue"] = values.get("first_issue", "unknown")

    def _volts(self) -> None:
        if self.values.keys().isdisjoint(_VOLT_NAMES):
            return
        for column, form in _VOLT_COLUMNS.items():
            given = [name for name in (column, f"{column}_ac", f"{column}_dc") if name in self.values]
            if given:
                self._volts_of(column, form, given)

    def _volts_of(self, column: str, form: str, given: list[str]) -> None:
        """One mark from its own column and from columns for AC and DC apart."""
        found: dict[str, object] = {}
        for name in given:
            value = self.values[name]
            pairs = value if isinstance(value, dict) else {name[-2:]: value}
            for kind, volts in pairs.items():
                key = form.format(kind)
                if found.setdefault(key, volts) != volts:
                    self._fault(name, "sheet.volts-contradict", found=volts, other=found[key])
        self.fields.update({"voltage_mark": found} if column == "voltage_mark" else found)

    def _fuse(self) -> None:
        """A fuse told in columns of its own instead of in one cell."""
        parts = {
            key: self.values[column]
            for column, key in (("fuse_v", "v"), ("fuse_ac_only", "ac_only"), ("fuse_kind", "kind"))
            if column in self.values
        }
        if parts and "fuse" not in self.fields:
            self.fields["fuse"] = parts

    def compare_class_with_volts(self, cell: Cell) -> None:
        """Rubber goods carry a class; volts beside it must be that class's, AC or DC."""
        marked = self.fields.get("class")
        if self.fields.get("class_system", "iec") != "iec" or not isinstance(marked, str):
            return
        expected = _CLASS_VOLTS[marked]
        try:
            found = mark_cells.all_volts(cell)
        except CellFault as why:
            self.faults.append(("voltage_mark", why))
            return
        if found and not found <= set(expected):
            self._fault(
                "voltage_mark",
                "sheet.class-volts-disagree",
                found=shown(cell),
                other=marked,
                expected=f"{expected[0]} V AC / {expected[1]} V DC",
            )

    def _length(self) -> None:
        marked, length = self.fields.get("class"), self.fields.get("length_mm")
        if (
            not isinstance(marked, str)
            or not isinstance(length, (int, float))
            or self.fields.get("class_system") == "jp"
        ):
            return
        made = _CLASS_LENGTHS[marked]
        tolerance = _TOLERANCE_MM
        if self.kind == "composite-gloves":
            tolerance = _COMPOSITE_TOLERANCE_MM
            made += (_COMPOSITE_LENGTH_MM,) if marked in ("1", "2", "3") else ()
        if not any(abs(length - one) <= tolerance for one in made):
            self._fault(
                "length_mm",
                "sheet.class-length",
                found=f"{length} mm",
                other=marked,
                expected=", ".join(map(str, made)),
            )

    # --- records ---

    def _electrical_tests(self) -> list[dict[str, object]]:
        values = self.values
        records: list[dict[str, object]] = []
        if self.kind not in TESTED:
            return records
        if values.get("previous_on") is not None:
            records.append(
                {
                    "what": "electrical-test",
                    "on": values["previous_on"],
                    "result": values.get("previous_result", "passed"),
                    "evidence": "sheet-only",
                }
            )
        elif values.get("previous_result") is not None:
            self._fault("previous_result", "sheet.result-without-date")
        if values.get("tested_on") is not None:
            records.append(self._last_test())
        else:
            self._undated("result", *FIGURES, "certificate")
        return records

    def _undated(self, *columns: str) -> None:
        if self.values.get("inspected_on") is not None or self.values.get("calibrated_on") is not None:
            columns = tuple(c for c in columns if c != "result")
        given = next((c for c in columns if self.values.get(c) is not None), None)
        if given:
            self._fault(given, "sheet.result-without-date")

    def _last_test(self) -> dict[str, object]:
        values = self.values
        figures = self._figures()
        record: dict[str, object] = {
            "what": "electrical-test",
            "on": values["tested_on"],
            "result": values.get("result", "passed"),
            "evidence": "sheet-only",
        }
        # Figures stay in the record even when some are missing: one alone may show that the piece failed.
        record |= figures
        needed = {"test_v", "kind_of_current", "dwell_s"} | ({"left_ma", "right_ma"} if self.kind in GLOVES else set())
        if needed <= figures.keys():
            record["evidence"] = "figures"
            record["occasion"] = values.get("occasion", "not-stated")
        elif values.get("occasion") is not None:
            record["occasion"] = values["occasion"]
        record |= {name: values[name] for name in ("certificate", "laboratory", "method") if values.get(name)}
        if record["evidence"] == "sheet-only" and self._states_pass(record):
            record["evidence"] = "stated-pass"
        return record

    def _states_pass(self, record: Mapping[str, object]) -> bool:
        """Laboratory, certificate, and method or volts; a result column left blank states nothing."""
        is_silent = self.values.get("asks_result") and self.values.get("result") is None
        return (
            record["result"] == "passed"
            and not is_silent
            and "laboratory" in record
            and "certificate" in record
            and ("method" in record or "test_v" in record)
        )

    def _figures(self) -> dict[str, object]:
        figures = {name: self.values[name] for name in FIGURES if self.values.get(name) is not None}
        volts = figures.get("test_v")
        if isinstance(volts, dict):
            stated = figures.get("kind_of_current", volts.get("kind_of_current"))
            figures |= volts
            if stated is not None and figures.setdefault("kind_of_current", stated) != stated:
                self._fault(
                    "kind_of_current", "sheet.current-contradicts", found=stated, other=volts["kind_of_current"]
                )
        return figures

    def _checks(self) -> list[dict[str, object]]:
        values = self.values
        records: list[dict[str, object]] = []
        own_test = self.kind in TESTED and values.get("tested_on") is not None
        calibration = values.get("calibration_result")
        # One result column speaks of the test, else of the calibration; a failure that neither can carry is a hold.
        is_spoken = own_test
        if self.kind in CALIBRATED and values.get("calibrated_on") is not None:
            if calibration is None and not own_test:
                calibration, is_spoken = values.get("result"), True
            records.append({"what": "calibration", "on": values["calibrated_on"], "result": calibration or "passed"})
        elif calibration is not None and self.kind in CALIBRATED:
            self._fault("calibration_result", "sheet.result-without-date")
        elif calibration == "failed":
            records.append({"what": "hold", "on": self.on, "why": "failed"})
        if not is_spoken and values.get("result") == "failed":
            records.append({"what": "hold", "on": values.get("inspected_on") or self.on, "why": "failed"})
        elif values.get("inspected_on") is not None:
            records.append({"what": "inspection", "on": values["inspected_on"], "defects": []})
        return records

    def _standing(self) -> list[dict[str, object]]:
        holder = custody(str(self.values.get("custody") or "crib"))
        stated = self.values.get("status")
        action, detail = stated if isinstance(stated, Status) else Status("fine")
        on = self.values.get("status_on") or self.on
        if action == "out":
            if detail and holder not in ("crib", detail):
                self._fault("status", "sheet.custody-contradicts", found=detail, other=holder)
            holder = detail or holder
            if holder == "crib":
                self._fault("status", "sheet.out-with-nobody")
        if holder != "crib" and self.fields.get("first_issue") == "never":
            self._fault("first_issue", "sheet.never-but-out", other=shown(holder))
        self.fields["custody"] = holder
        if detail == "lost":
            self.fields["lost"] = True
        if action == "hold":
            return [{"what": "hold", "on": on, "why": detail}]
        return [{"what": "withdrawal", "on": on}] if action == "withdrawn" else []
