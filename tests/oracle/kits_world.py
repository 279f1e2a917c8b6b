"""Lays out a kit in good order for a plan: every role, record and person, good for the whole job."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random
from typing import Any

from tests.oracle.kits_laws import TELECOM
from tests.oracle.kits_plan import TASKS, Plan, Table, level
from tests.oracle.kits_tables import CLEARANCE_MM, LEAKAGE_MA, LEATHER_HUNDREDTHS, RETEST_AC_V, RETEST_DC_V

GLOVE_KINDS = ("rubber-gloves", "composite-gloves")
FIGURES = ("test_v", "kind_of_current", "frequency_hz", "dwell_s", "left_ma", "right_ma", "soaked")


@dataclass(slots=True)
class Pair:
    """A pair of gloves with the records and the protectors ways reach for."""

    piece: Table
    test: Table
    air: Table
    look: Table | None
    protectors: Table


@dataclass(slots=True)
class World:
    """A case being laid out; lists hold the very tables that stand in `pieces`."""

    plan: Plan
    pieces: list[Table] = field(default_factory=list)
    pairs: list[Pair] = field(default_factory=list)
    person: Table = field(default_factory=dict)
    second: Table | None = None

    def of(self, *kinds: str) -> list[Table]:
        """Pieces of these kinds still in the kit, in the order they were laid out."""
        return [piece for piece in self.pieces if piece["kind"] in kinds]

    def drop(self, *kinds: str) -> None:
        """Take every piece of these kinds out of the kit."""
        self.pieces = [piece for piece in self.pieces if piece["kind"] not in kinds]


def clock(rng: Random) -> str:
    """A time in the morning, before anything that undoes a check."""
    return f"{6 + rng.randrange(4):02d}:{rng.randrange(60):02d}"


def records(piece: Table, what: str) -> list[Table]:
    """Records of one sort of a piece."""
    return [record for record in piece["records"] if record["what"] == what]


def add(piece: Table, what: str, on: date | str, **more: Any) -> Table:
    """Append a record; returns it."""
    record: Table = {"what": what, "on": on} | more
    piece["records"].append(record)
    return record


def inspection(plan: Plan, rng: Random, piece: Table, **more: Any) -> Table:
    """A look-over of the first day that found nothing."""
    if rng.random() < 0.8:
        more["at"] = clock(rng)
    return add(piece, "inspection", plan.on, defects=[], **more)


def lay_out(plan: Plan, rng: Random) -> World:
    """The whole kit in good order; pieces stand in the order of the roles."""
    world = World(plan)
    _people(world, rng)
    _hands(world, rng)
    _chain(world, rng)
    kinds = ["barrier-set", "lock-off-set"] if plan.task != "M" else []
    if plan.task == "L":
        kinds += ["insulated-tool", "insulated-tool"][: 1 + (rng.random() < 0.3)]
        kinds += ["arc-face-shield", "rescue-hook"]
    for number, kind in enumerate(kinds, 1):
        world.pieces.append(plain_piece(plan, rng, kind, f"K{number}"))
    return world


def case_of(world: World, case_id: str, source: str) -> Table:
    """The table that a reader of TOML would give for this case."""
    plan = world.plan
    case: Table = {
        "id": case_id,
        "source": source,
        "confidence": "D",
        "level": "decision",
        "rule_sets": list(plan.sets),
        "on": plan.on,
        "until": plan.until,
        "site": plan.site,
        "job": {"task": TASKS[plan.task]} | plan.job | {"circuits": plan.circuits},
        "person": world.person,
    }
    if world.second is not None:
        case["second"] = world.second
    case["pieces"] = world.pieces
    return case


def plain_piece(plan: Plan, rng: Random, kind: str, code: str) -> Table:
    """A piece whose only demands are its mark and its look-over."""
    piece: Table = {"code": code, "kind": kind, "records": []}
    if rng.random() < 0.5:
        piece["custody"] = rng.choice(("crib", "crib", "P1"))
    if kind in ("insulated-tool", "rescue-hook"):
        pinned = plan.pins.get("hook" if kind == "rescue-hook" else "tool")
        piece["voltage_mark"] = dict(pinned or {"ac_v": 1000, "dc_v": 1500})
    if kind == "arc-face-shield":
        hood = rng.random() < 0.4
        piece |= {"arc_rating_cal": rng.choice((8, 12, 20, 40)), "hood": hood, "balaclava": not hood}
        energy = plan.job.get("incident_energy_cal")
        if energy is None and "energy" not in plan.wants and rng.random() < 0.4:
            plan.job["incident_energy_cal"] = energy = rng.randrange(2, 80) / 10
        if energy is not None and rng.random() < 0.3:
            del piece["arc_rating_cal"]
            piece |= {"fabric_rating_cal": rng.choice((12, 25, 40)), "window_rating_cal": rng.choice((12, 25, 40))}
    inspection(plan, rng, piece)
    return piece


def _people(world: World, rng: Random) -> None:
    plan = world.plan
    scopes = ["isolate"] if plan.task == "I" else ["live"]
    if rng.random() < 0.3:
        scopes = ["isolate", "live"]
    sizes = [8 + rng.randrange(6) / 2]
    if rng.random() < 0.4:
        sizes.append(sizes[0] + 0.5)
    end = plan.until + timedelta(days=rng.randrange(2, 500))
    world.person = {"code": "P1", "scopes": scopes, "valid_until": end, "glove_sizes": _whole(sizes)}
    if plan.task != "I" or rng.random() < 0.1:
        hers = _whole([8 + rng.randrange(6) / 2])
        world.second = {"code": "P2", "scopes": list(scopes), "valid_until": end, "glove_sizes": hers}


def _whole(sizes: list[float]) -> list[int | float]:
    """Whole sizes as a case writes them."""
    return [int(size) if size == int(size) else size for size in sizes]


def _hands(world: World, rng: Random) -> None:
    plan = world.plan
    people = [world.person] + ([world.second] if plan.task == "L" and world.second else [])
    # With two pairs nobody could say which protector is worn over which glove, so the clearance is measured.
    measured = len(people) > 1 or "cuff" in plan.wants or rng.random() < 0.6
    for number, person in enumerate(people, 1):
        world.pairs.append(glove_pair(world, rng, number, rng.choice(person["glove_sizes"]), measured))


def glove_pair(world: World, rng: Random, number: int, size: float, measured: bool) -> Pair:
    """A pair in date, air-tested and looked over, with its protectors; both are put into the kit."""
    plan = world.plan
    class_ = plan.glove_class
    length = rng.choice(tuple(LEAKAGE_MA[class_]))
    piece: Table = {
        "code": f"G{number}",
        "kind": plan.wants.get("glove_kind") or GLOVE_KINDS[rng.random() < 0.15],
        "class": class_,
        "class_system": plan.system,
        "type": rng.choice(("I", "II")),
        "length_mm": length,
        "size": size,
        "records": [],
    }
    if TELECOM in plan.sets:
        piece["material"] = rng.choice(("natural", "synthetic"))
    if rng.random() < 0.3:
        piece["dc_tested"] = rng.random() < 0.8
    test = _first_use_and_test(plan, rng, piece)
    highest = (100, 140, 150) if piece["type"] == "I" else (100, 110, 125)
    air = add(piece, "air-test", plan.on, at=clock(rng), left="passed", right="passed")
    air["inflation"] = rng.choice(highest) / 100
    gap = CLEARANCE_MM[class_]
    clearance = plan.pins.get("clearance") if number == 1 else None
    clearance = clearance or gap + rng.randrange(1, 40)
    look = inspection(plan, rng, piece, clearance_mm=clearance) if measured else None
    thin, thick = LEATHER_HUNDREDTHS[class_]
    protectors: Table = {
        "code": f"LP{number}",
        "kind": "leather-protectors",
        "cut_for_class": class_,
        "records": [],
        "leather_mm": rng.randrange(thin + 1, thick) / 100,
        "leather": rng.choice(("goat", "cow", "deer", "pig", "horse")),
    }
    if not measured or rng.random() < 0.3:
        protectors["length_mm"] = length - 15 - gap - rng.randrange(1, 40)
    inspection(plan, rng, protectors)
    world.pieces += [piece, protectors]
    return Pair(piece, test, air, look, protectors)


def _first_use_and_test(plan: Plan, rng: Random, piece: Table) -> Table:
    """Draw first issue and last test well inside the clock, and the test's evidence."""
    style = rng.choice(("before", "after", "never", "unknown", "silent"))
    # A job lasts 28 days at most here, so 140 days leave both clocks of six months a little room.
    age = rng.randrange(1, 140) if style != "never" or plan.from_test else rng.randrange(1, 320)
    tested = plan.on - timedelta(days=age)
    if style == "before":
        piece["first_issue"] = tested - timedelta(days=rng.randrange(1, 500))
    elif style == "after":
        longest = (70, 70) if plan.from_test else (140, 180)
        piece["first_issue"] = used = plan.on - timedelta(days=rng.randrange(1, longest[0]))
        tested = used - timedelta(days=rng.randrange(1, longest[1]))
    elif style != "silent":
        piece["first_issue"] = style
    if style in ("before", "after") and piece["code"] == "G1" and rng.random() < 0.2:
        add(piece, "hand-over", piece["first_issue"], to="P1")
        piece["custody"] = "P1"
    test = add(piece, "electrical-test", tested)
    evidence = rng.random()
    if evidence < 0.4 and plan.wants.get("print") != "open" and plan.system == "iec":
        # The IEC family prints no test with DC.
        give_figures(piece, test, rng, "" if plan.us_only else "ac")
    elif evidence < 0.7 and plan.us_only:
        test |= {"evidence": "stated-pass", "occasion": rng.choice(("in-service", "not-stated"))}
        if "figures_required" not in plan.site:
            # "figures required" ships on; the US sets offer to turn it off, by a named approver.
            plan.site["figures_required"] = False
            plan.approve("figures_required")
    test["result"] = "passed"
    return test


def give_figures(piece: Table, test: Table, rng: Random, current: str = "", hz: int = 60) -> int:
    """Write passing figures into a test; answers the limit in tenths of a mA at 60 Hz."""
    class_ = piece["class"]
    for key in FIGURES:
        test.pop(key, None)
    limit = LEAKAGE_MA[class_][piece["length_mm"]] * 10
    current = current or rng.choice(("ac", "ac", "dc"))
    test |= {
        "evidence": "figures",
        "occasion": "in-service",
        "kind_of_current": current,
        "dwell_s": 60 + rng.randrange(100),
    }
    test["test_v"] = (RETEST_AC_V if current == "ac" else RETEST_DC_V)[class_]
    if current == "ac":
        hz = hz if hz != 60 else rng.choice((60, 60, 50))
        top = limit * hz // 60
        test["frequency_hz"] = hz
        test["left_ma"], test["right_ma"] = rng.randrange(20, top) / 10, rng.randrange(20, top) / 10
    test["result"] = "passed"
    return limit


def _chain(world: World, rng: Random) -> None:
    plan = world.plan
    if plan.instrument == "multimeter":
        world.pieces += loose_chain(plan, rng, "", clip=_clipped(plan, rng))
    else:
        world.pieces.append(detector(plan, rng, "D1"))
    unit: Table = {"code": "U1", "kind": "proving-unit", "records": []}
    if plan.need.dc or rng.random() < 0.3:
        unit["output_dc_v"] = rng.choice((100, 240, 690, 1000))
    if plan.need.ac or rng.random() < 0.3:
        unit["output_ac_v"] = rng.choice((100, 240, 690))
    inspection(plan, rng, unit)
    add(unit, "self-test", plan.on, at=clock(rng), result="passed")
    world.pieces.append(unit)


def _clipped(plan: Plan, rng: Random) -> bool:
    wanted = plan.wants.get("clip")
    return wanted == "fitted" if wanted else rng.random() < 0.25


def loose_chain(plan: Plan, rng: Random, tail: str, clip: bool) -> list[Table]:
    """A multimeter with loose leads, sometimes a clip; `tail` keeps the codes of a second chain apart."""
    meter: Table = {"code": f"M1{tail}", "kind": "multimeter", "marks": _marks(plan, rng, "meter"), "records": []}
    fuse_v = plan.pins.get("fuse_v") or level(max(plan.need.dc, plan.need.ac))
    meter["fuse"] = {"v": fuse_v, "ac_only": plan.need.dc == 0 and rng.random() < 0.4, "kind": "hbc"}
    _inputs(plan, rng, meter, is_instrument=True)
    room = 340 - (plan.until - plan.on).days
    add(meter, "calibration", plan.on - timedelta(days=rng.randrange(1, room)), result="passed")
    inspection(plan, rng, meter, jack="voltage")
    leads: Table = {"code": f"L1{tail}", "kind": "test-leads", "marks": _marks(plan, rng, "leads"), "records": []}
    leads |= {"tip_mm": plan.pins.get("lead_tip_mm") or rng.choice((1, 2, 2.5, 3, 3.9)), "caps": "present"}
    _inputs(plan, rng, leads, is_instrument=False)
    inspection(plan, rng, leads, caps="present")
    chain = [meter, leads]
    if clip:
        tip: Table = {"code": f"C1{tail}", "kind": "tip-or-clip", "marks": _marks(plan, rng, "clip"), "records": []}
        tip["tip_mm"] = rng.choice((1, 2, 3))
        _inputs(plan, rng, tip, is_instrument=False)
        inspection(plan, rng, tip)
        chain.append(tip)
    return chain


def detector(plan: Plan, rng: Random, code: str) -> Table:
    """A two-pole detector with its own leads, proved by its self-test of the first day."""
    piece: Table = {"code": code, "kind": "two-pole-detector", "fixed_leads": True, "records": []}
    piece |= {"threshold_dc_v": rng.choice((6, 12, 24, 50)), "threshold_ac_v": rng.choice((6, 12, 24, 50))}
    piece |= {"marks": _marks(plan, rng, "detector"), "tip_mm": rng.choice((1, 2, 3, 3.5))}
    need = plan.need
    piece["max_input_dc_v"] = plan.pins.get("input_dc") or level(max(need.dc, 299))
    piece["max_input_ac_v"] = plan.pins.get("input_ac") or level(max(need.ac, 299))
    add(piece, "self-test", plan.on, at=clock(rng), result="passed")
    inspection(plan, rng, piece)
    return piece


def _marks(plan: Plan, rng: Random, part: str) -> list[list[Any]]:
    """The pinned mark of this part of the chain, or one with room for every circuit."""
    pinned = plan.pins.get(part)
    if pinned is not None:
        return [list(pair) for pair in pinned]
    need = plan.need
    if need.iv:
        fourth = level(need.iv)
        return [["III", level(max(need.low, fourth - 1))], ["IV", fourth]]
    third = level(need.low)
    if third < 1000 and rng.random() < 0.4:
        third = 1000
    return [["III", third], ["IV", min(600, third)]] if rng.random() < 0.4 else [["III", third]]


def _inputs(plan: Plan, rng: Random, piece: Table, is_instrument: bool) -> None:
    """State the highest input where a mark cannot stand for it, and now and then elsewhere."""
    need, pins = plan.need, plan.pins
    if not (need.three_phase or (is_instrument and (need.must_state_input or pins or rng.random() < 0.6))):
        return
    if need.dc:
        piece["max_input_dc_v"] = (is_instrument and pins.get("input_dc")) or level(need.dc)
    if need.ac:
        piece["max_input_ac_v"] = (is_instrument and pins.get("input_ac")) or level(need.ac)
