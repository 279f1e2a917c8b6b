"""The three results of an electrical test: failed, does not count, passed.

Failed: the lab says so, breakdown, or any hand's current above its limit, whatever else is missing. Does not count:
voltage or dwell too low, identity, date or a needed figure missing. Passed: the rest. Source: 1910.137(a)(2), (c)(2).
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from msgspec import Struct

from app.decision.domain.finding import Cause
from app.decision.domain.history import History
from app.decision.domain.limits import Approval, HousePolicy, Limit, RuleSet, SiteRules
from app.decision.domain.piece import Piece
from app.decision.domain.record import ElectricalTest

# Which column of the table applies. GB/T 17622, glove lengths +-15 mm, composite +-20 mm (S).
LENGTH_TOLERANCE_UM = 15_000
COMPOSITE_TOLERANCE_UM = 20_000
# Annex E.5 speaks of gloves alone.
EXEMPTED_KINDS = ("rubber-gloves", "composite-gloves")
LONG_CLASSES = ("1", "2", "3")
LENGTHS_MM = (280, 360, 410, 460)
SOAK_ALLOWANCE_UA = 2_000  # 1910.137(a)(2)(ii), acceptance only (P)
TABLE_MHZ = 60_000  # the US table is printed for 60 Hz


class Note(Struct, frozen=True):
    """A reason or a caution: the key of its sentence with values; `cause` where something is decided by it."""

    key: str
    values: Mapping[str, object]
    cause: Cause = Cause.NONE


class Judgement(Struct, frozen=True):
    """`result` is "failed", "does-not-count" or "passed"; `unconfirmed` are figures nobody has seen in print."""

    test: ElectricalTest
    result: str
    reasons: tuple[Note, ...] = ()
    cautions: tuple[Note, ...] = ()
    unconfirmed: tuple[Limit, ...] = ()

    @property
    def counts(self) -> bool:
        """Whether it passed, and on figures that were all seen in print or confirmed."""
        return self.result == "passed" and not self.unconfirmed


class Tested(Struct, frozen=True):
    """A piece's tests judged under one set. `last`: T; `failed`: a failed test that T does not answer."""

    judged: tuple[Judgement, ...]
    last: ElectricalTest | None
    failed: ElectricalTest | None
    waiting: Judgement | None

    @property
    def passing(self) -> list[ElectricalTest]:
        """Tests that count."""
        return [judgement.test for judgement in self.judged if judgement.counts]

    @property
    def tested_on(self) -> date | None:
        """T as a day: the earliest it can have been."""
        return None if self.last is None or self.last.on is None else self.last.on.first


def tested(history: History, rule_set: RuleSet, house: HousePolicy, site: SiteRules) -> Tested:
    """Judge every test of the piece and find T and an unanswered failure."""
    piece = history.piece
    judged = tuple(judge(test, piece, rule_set, house, site) for test in history.all(ElectricalTest))
    counting = [judgement.test for judgement in judged if judgement.counts]
    last = max(counting, key=_day, default=None)
    failures = (judgement.test for judgement in judged if judgement.result == "failed")
    failed = next((test for test in failures if _stands(test, counting, history)), None)
    waiting = [judgement for judgement in judged if judgement.result == "passed" and judgement.unconfirmed]
    return Tested(judged, last, failed, max(waiting, key=lambda judgement: _day(judgement.test), default=None))


def exempted_by(site: SiteRules, rule_set: RuleSet, piece: Piece) -> Approval | None:
    """Who exempted classes 00 and 0 from the electrical test, where this set offers it and the piece is one."""
    is_one = piece.kind in EXEMPTED_KINDS and piece.insulation_class in ("00", "0")
    offered = "dielectric_exempt_00_0" in rule_set.offers
    return site.dielectric_exempt_00_0 if is_one and offered and piece.class_system == rule_set.class_system else None


def _day(test: ElectricalTest) -> date:
    return date.min if test.on is None else test.on.first


def _stands(fail: ElectricalTest, counting: list[ElectricalTest], history: History) -> bool:
    """A failure stands unless a later test passed; on one day it wins unless a certificate of that day names it."""
    failed_on = fail.latest(history.today)
    return not any(_day(test) > failed_on or (_day(test) == failed_on and test.after == "failed") for test in counting)


def judge(test: ElectricalTest, piece: Piece, rule_set: RuleSet, house: HousePolicy, site: SiteRules) -> Judgement:
    """Which of the three results this test has for this piece under this set."""
    if why := _failed(test, piece, rule_set):
        return Judgement(test, "failed", (why,))
    missing = _missing(test, piece, rule_set, house, site)
    if missing:
        return Judgement(test, "does-not-count", tuple(missing))
    if test.evidence != "figures":
        return Judgement(test, "passed")
    used = [limit for limit in _limits_used(test, piece, rule_set) if not site.counts_as_seen(limit)]
    return Judgement(test, "passed", (), tuple(_cautions(test, piece, rule_set, house)), tuple(used))


def _worn(piece: Piece, side: str) -> str:
    """Which of the two: a glove, a boot or a sleeve."""
    return side + {"dielectric-footwear": "-boot", "rubber-sleeves": "-sleeve"}.get(piece.kind, "")


def _failed(test: ElectricalTest, piece: Piece, rule_set: RuleSet) -> Note | None:
    if test.breakdown:
        return Note("test.breakdown", {})
    if test.result == "failed":
        return Note("test.lab-failed", {})
    currents = [(ua, hand) for ua, hand in ((test.left_ua, "left"), (test.right_ua, "right")) if ua is not None]
    allowed = current_limit_ua(test, piece, rule_set) if currents else None
    if allowed is None:
        return None
    most, hand = max(currents)
    if most <= allowed:
        return None
    return Note("test.current-above", {"measured_ua": most, "hand": _worn(piece, hand), "limit_ua": allowed})


def length_column(piece: Piece, rule_set: RuleSet) -> int | None:
    """The printed length (mm) a glove belongs to, within the tolerance of its kind; None where none fits."""
    length = piece.length_um
    if length is None:
        return None
    within = COMPOSITE_TOLERANCE_UM if piece.kind == "composite-gloves" else LENGTH_TOLERANCE_UM
    if length > LENGTHS_MM[-1] * 1000 + within:
        # Longer than the table are composite gloves of these classes alone; some tables are open for them.
        is_long = piece.kind == "composite-gloves" and piece.insulation_class in LONG_CLASSES
        return LENGTHS_MM[-1] if is_long and rule_set.longest_is_open else None
    return next((mm for mm in LENGTHS_MM if abs(length - mm * 1000) <= within), None)


def table_limit(piece: Piece, rule_set: RuleSet) -> Limit | None:
    """The printed AC current limit of the piece's class, for gloves and length; None where none is printed."""
    table = rule_set.tables.get(piece.kind)
    if table is None or table.current is None or piece.class_system != rule_set.class_system:
        return None
    if table.current == "class":
        return rule_set.class_limit(piece.kind, piece.insulation_class, "current")
    column = length_column(piece, rule_set)
    if column is None or piece.insulation_class not in table.classes:
        return None
    return rule_set.limit("current", piece.insulation_class, str(column))


def current_limit_ua(test: ElectricalTest, piece: Piece, rule_set: RuleSet) -> float | None:
    """AC current limit in uA, scaled by frequency where the set scales; None where no limit can be named.

    The 2 mA after a soak are for acceptance only and are never scaled up.
    """
    limit = table_limit(piece, rule_set)
    if limit is None or test.kind_of_current != "ac":
        return None
    # Scaling and the 2 mA stand in the US text beside its own table of gloves; of any other figure they were not seen.
    is_us_table = rule_set.scales_with_frequency and rule_set.tables[piece.kind].current == "length"
    if is_us_table and test.frequency_mhz is None:
        return None
    scale = test.frequency_mhz / TABLE_MHZ if is_us_table and test.frequency_mhz else 1.0
    has_allowance = test.soaked and test.occasion == "acceptance" and is_us_table
    allowance = SOAK_ALLOWANCE_UA * min(1.0, scale) if has_allowance else 0.0
    return limit.value * scale + allowance


def _missing(test: ElectricalTest, piece: Piece, rule_set: RuleSet, house: HousePolicy, site: SiteRules) -> list[Note]:
    notes: list[Note] = []
    if test.on is None:
        notes.append(Note("test.no-day", {}))
    if not test.certificate_names_piece:
        notes.append(Note("test.names-no-piece", {}))
    if test.evidence == "figures":
        return notes + _missing_figures(test, piece, rule_set, house)
    if test.result != "passed":
        notes.append(Note("test.no-result", {}))
    if test.evidence is not None:
        # A figure that is stated and falls short is not mended by the word "passed" beside it.
        notes += _voltage_and_dwell(test, piece, rule_set, house)
    if test.evidence == "sheet-only" and not test.confirmed_seen:
        notes.append(Note("test.certificate-not-seen", {}, Cause.PAPER_NOT_SEEN))
    if test.evidence == "stated-pass" and _figures_required(site, rule_set) and not test.confirmed_seen:
        notes.append(Note("test.figures-required", {}, Cause.PAPER_NOT_SEEN))
    if test.lab is not None and site.labs and test.lab not in site.labs and not test.confirmed_seen:
        notes.append(Note("test.lab-not-listed", {"lab": test.lab}, Cause.PAPER_NOT_SEEN))
    return notes


def _figures_required(site: SiteRules, rule_set: RuleSet) -> bool:
    """Shipped on; off only with a named approver, and only under a set that offers it."""
    may_be_off = rule_set.allows("figures_required", value=False) and site.takes_looser("figures_required")
    return site.figures_required or not may_be_off


def _missing_figures(test: ElectricalTest, piece: Piece, rule_set: RuleSet, house: HousePolicy) -> list[Note]:
    if piece.insulation_class is None or piece.class_system != rule_set.class_system:
        return [Note("test.class-unknown", {})]
    needed = [
        name for name, value in (("test-voltage", test.test_v), ("dwell", test.dwell_s),
                                 ("kind-of-current", test.kind_of_current)) if value is None
    ]  # fmt: skip
    notes = [Note("test.figure-missing", {"figure": name}) for name in needed]
    notes += _voltage_and_dwell(test, piece, rule_set, house)
    if test.kind_of_current == "ac":
        notes += _missing_current(test, piece, rule_set)
    return notes


def _voltage_and_dwell(test: ElectricalTest, piece: Piece, rule_set: RuleSet, house: HousePolicy) -> list[Note]:
    notes: list[Note] = []
    retest = retest_limit(test, piece, rule_set)
    if test.test_v is not None and test.kind_of_current is not None:
        if retest is None:
            notes.append(Note("test.no-limit-printed", {}, Cause.NOT_IN_PRINT))
        elif test.test_v * 1000 < retest.value:
            notes.append(Note("test.voltage-low", {"measured_v": test.test_v, "required_v": retest.value // 1000}))
    least = house.value(f"test-dwell/{_occasion(test, piece, rule_set)}")
    if test.dwell_s is not None and test.dwell_s < least:
        notes.append(Note("test.dwell-short", {"measured_s": test.dwell_s, "required_s": least}))
    return notes


def _occasion(test: ElectricalTest, piece: Piece, rule_set: RuleSet) -> str:
    """The house figure for the time at voltage: in service, acceptance, or acceptance of a mat."""
    if test.occasion != "acceptance":
        return "in-service"
    table = rule_set.tables.get(piece.kind)
    return "acceptance" if table is None else table.acceptance_dwell


def _missing_current(test: ElectricalTest, piece: Piece, rule_set: RuleSet) -> list[Note]:
    """What is missing of the currents; nothing is asked of a kind for which the set prints no limit at all."""
    table = rule_set.tables.get(piece.kind)
    if table is None or table.current is None:
        return []
    if table.current == "length" and length_column(piece, rule_set) is None:
        return [Note("test.length-unknown", {})]
    if table_limit(piece, rule_set) is None:
        return [Note("test.no-current-limit", {})]
    if rule_set.scales_with_frequency and table.current == "length" and test.frequency_mhz is None:
        return [Note("test.figure-missing", {"figure": "frequency"})]
    hands = [piece.hand] if piece.hand in ("left", "right") else ["left", "right"]
    currents = {hand: test.left_ua if hand == "left" else test.right_ua for hand in hands}
    if None in currents.values():
        figure = "current-of-its-hand" if len(hands) == 1 else "current-of-each-hand"
        return [Note("test.figure-missing", {"figure": figure})]
    # A glove under AC is a capacitor: some current always flows, so 0 is no reading of it.
    return [Note("test.no-current", {"hand": _worn(piece, hand)}) for hand, current in currents.items() if current == 0]


def retest_limit(test: ElectricalTest, piece: Piece, rule_set: RuleSet) -> Limit | None:
    """The class's retest voltage (mV) for the kind of current of this test."""
    return rule_set.class_limit(piece.kind, piece.insulation_class, "retest", test.kind_of_current or "")


def _limits_used(test: ElectricalTest, piece: Piece, rule_set: RuleSet) -> list[Limit]:
    used = [retest_limit(test, piece, rule_set), rule_set.leaning(piece.kind)]
    if test.kind_of_current == "ac":
        used.append(table_limit(piece, rule_set))
    return [limit for limit in used if limit is not None]


def _cautions(test: ElectricalTest, piece: Piece, rule_set: RuleSet, house: HousePolicy) -> list[Note]:
    notes: list[Note] = []
    longest = rule_set.limit("test-dwell", "most") or house.limits["test-dwell/most"]
    if test.dwell_s is not None and test.dwell_s > longest.value:
        notes.append(Note("test.dwell-long", {"measured_s": test.dwell_s, "limit_s": longest.value}))
    withstand = rule_set.class_limit(piece.kind, piece.insulation_class, "withstand", test.kind_of_current or "")
    if withstand is not None and test.test_v is not None and test.test_v * 1000 >= withstand.value:
        notes.append(Note("test.voltage-far-above", {"measured_v": test.test_v, "limit_v": withstand.value // 1000}))
    return notes
