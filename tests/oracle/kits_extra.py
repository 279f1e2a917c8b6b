"""Pieces beyond the roles of a task, laid out in good order: sleeves, mats, boots, hoses, torque tools, other meters."""

from __future__ import annotations

from datetime import timedelta
from random import Random

from tests.oracle.kits_laws import AS_NZS, DGUV, EN, GB, IEC, JP, TELECOM, WA
from tests.oracle.kits_plan import Plan, Table, level
from tests.oracle.kits_tables import LEAKAGE_BOOTS_MA, MAX_AC_V, MAX_DC_V, RETEST_AC_V, RETEST_DC_V
from tests.oracle.kits_world import World, add, inspection, lay_out

SLEEVES_AND_BLANKETS = ("rubber-sleeves", "insulating-blanket")
HOSE_AND_COVERS = ("line-hose", "insulating-cover")
CLASSED = (*SLEEVES_AND_BLANKETS, "insulating-matting", "dielectric-footwear", *HOSE_AND_COVERS)
METERS = ("clamp-meter", "insulation-tester")
EXTRA = (*CLASSED, "torque-tool", *METERS)
MAT_SETS = frozenset({IEC, EN, DGUV, AS_NZS})
SHARE_WITH_EXTRAS = 0.4


def lay_out_all(plan: Plan, rng: Random) -> World:
    """The kit of the roles, and beside it the extra piece that a way asks for, or none to two drawn freely."""
    world = lay_out(plan, rng)
    for number, kind in enumerate(_kinds(plan, rng), 1):
        world.pieces.append(extra_piece(plan, rng, kind, f"E{number}"))
    return world


def _kinds(plan: Plan, rng: Random) -> list[str]:
    wanted = plan.wants.get("extra")
    if wanted:
        return [wanted]
    # Class limits of several of these kinds wait for print, which such a kit leaves open.
    if plan.wants.get("print") == "open" or rng.random() >= SHARE_WITH_EXTRAS:
        return []
    fitting = list(CLASSED) if set(plan.sets).isdisjoint({GB, JP}) else []
    fitting.append("torque-tool")
    # No other meter belongs into a kit for proving dead.
    if plan.task != "I":
        fitting += METERS
    return rng.sample(fitting, min(len(fitting), rng.choice((1, 1, 2))))


def extra_piece(plan: Plan, rng: Random, kind: str, code: str) -> Table:
    """One extra piece with every record it needs for the whole job."""
    piece: Table = {"code": code, "kind": kind, "records": []}
    if rng.random() < 0.3:
        piece["custody"] = rng.choice(("crib", "P1"))
    if kind in CLASSED:
        _goods(plan, rng, piece)
    elif kind == "torque-tool":
        mark = plan.pins.get("torque") or {
            "ac_v": max(1000, level(plan.need.ac)),
            "dc_v": max(1500, level(plan.need.dc)),
        }
        piece["voltage_mark"] = dict(mark)
    else:
        _meter(plan, rng, piece)
    if kind not in CLASSED:
        room = 340 - (plan.until - plan.on).days
        add(piece, "calibration", plan.on - timedelta(days=rng.randrange(1, room)), result="passed")
    inspection(plan, rng, piece)
    return piece


def _meter(plan: Plan, rng: Random, piece: Table) -> None:
    """A meter with its own leads, so that it is a chain of its own beside the kit's."""
    need = plan.need
    marks = [["III", level(max(need.low, need.iv, 299))]]
    if need.iv:
        marks.append(["IV", level(need.iv)])
    piece |= {"fixed_leads": True, "marks": plan.pins.get("extra_marks") or marks, "tip_mm": rng.choice((1, 2, 3, 3.5))}
    piece["max_input_dc_v"] = plan.pins.get("extra_input") or level(max(need.dc, 299))
    piece["max_input_ac_v"] = level(max(need.ac, 299))
    if rng.random() < 0.4:
        piece["fuse"] = {"v": level(max(need.dc, need.ac)), "ac_only": False, "kind": "hbc"}


def goods_classes(kind: str, plan: Plan) -> list[str]:
    """Classes of the kind that have room for every circuit, the lowest first."""
    need = plan.need
    first = 0 if kind == "dielectric-footwear" else 1
    last = 3 if kind == "dielectric-footwear" and need.dc else len(MAX_DC_V)
    printed = list(MAX_DC_V)[first:last]
    return [c for c in printed if MAX_DC_V[c] >= need.dc + 0.5 and MAX_AC_V[c] >= need.ac + 0.5]


def _goods(plan: Plan, rng: Random, piece: Table) -> None:
    kind, fit = piece["kind"], goods_classes(piece["kind"], plan)
    class_ = (
        plan.pins.get("goods_class") or plan.wants.get("goods_class") or fit[int(len(fit) > 1 and rng.random() < 0.3)]
    )
    piece |= {"class": class_, "class_system": "iec", "type": rng.choice(("I", "II"))}
    if kind == "dielectric-footwear" and (plan.need.dc or rng.random() < 0.5):
        piece["dc_tested"] = True
    if TELECOM in plan.sets:
        piece["material"] = rng.choice(("natural", "synthetic"))
    if rng.random() < 0.6:
        piece["first_issue"] = rng.choice(("never", "unknown", plan.on - timedelta(days=rng.randrange(200, 900))))
    asked = (
        kind in SLEEVES_AND_BLANKETS
        or (kind == "insulating-matting" and not MAT_SETS.isdisjoint(plan.sets))
        or (kind in HOSE_AND_COVERS and WA in plan.sets)
    )
    if asked or rng.random() < 0.4:
        tested = plan.on - timedelta(days=rng.randrange(1, 140))
        test = add(piece, "electrical-test", tested, result="passed")
        if kind in SLEEVES_AND_BLANKETS and rng.random() < 0.5:
            give_goods_figures(rng, piece, test, "" if plan.us_only else "ac")
        elif kind == "insulating-matting" and rng.random() < 0.4:
            give_goods_figures(rng, piece, test, "ac")


def give_goods_figures(rng: Random, piece: Table, test: Table, current: str = "") -> None:
    """Write passing figures into a test: volts and dwell, and currents only for boots."""
    current = current or rng.choice(("ac", "dc"))
    test |= {"evidence": "figures", "occasion": "in-service", "kind_of_current": current}
    test |= {
        "dwell_s": 60 + rng.randrange(100),
        "test_v": (RETEST_AC_V if current == "ac" else RETEST_DC_V)[piece["class"]],
    }
    if current == "ac":
        test["frequency_hz"] = rng.choice((50, 60))
    if piece["kind"] == "dielectric-footwear":
        top = LEAKAGE_BOOTS_MA[piece["class"]] * 10
        test["left_ma"], test["right_ma"] = rng.randrange(5, top) / 10, rng.randrange(5, top) / 10
