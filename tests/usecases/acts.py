"""Every act a crib enters, once each as a keeper would do it on the stocked register."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

from msgspec import Struct

from app.usecases.add_alias import add_alias
from app.usecases.add_crib import add_crib
from app.usecases.add_person import add_person
from app.usecases.add_piece import add_piece
from app.usecases.add_system import add_circuit, add_system
from app.usecases.confirm_certificates import confirm_certificates
from app.usecases.confirm_figures import confirm_figures, withdraw_confirmations
from app.usecases.correct_entry import correct_entry
from app.usecases.desk import Desk
from app.usecases.enter_taken import enter_taken
from app.usecases.hand_over import hand_over
from app.usecases.hold_piece import hold_piece
from app.usecases.issue_kit import issue_kit
from app.usecases.load_register import close_to_entries
from app.usecases.log_check import inspect_list, log_check
from app.usecases.log_electrical_test import log_electrical_test
from app.usecases.make_bag import make_bag
from app.usecases.recall_pieces import Recall, recall_pieces
from app.usecases.release_piece import release_piece
from app.usecases.repair_piece import repair_piece
from app.usecases.reserve_pieces import reserve_pieces
from app.usecases.return_kit import return_kit
from app.usecases.set_rule import set_rule
from app.usecases.take_stock import take_stock
from app.usecases.transfer_pieces import transfer_pieces
from app.usecases.withdraw_piece import withdraw_piece
from tests.build import DAY, gloves
from tests.fakes import question

FIGURES = {
    "on": DAY - timedelta(days=2), "test_v": 5000, "kind_of_current": "ac", "frequency_hz": 60, "dwell_s": 60,
    "left_ma": 7, "right_ma": 7.1,
}  # fmt: skip
FROM_MEMORY = "us-osha-137/current/1/360"
CIRCUIT = {"key": "aux", "supply": "isolated-dc", "category": "III", "maker_max_v": 30}


class Act(Struct, frozen=True):
    """`does(desk, by, piece)`; the line it leaves: book, kind of line, subject and, of an entry, its sort."""

    does: Callable[[Desk, str, str], object]
    book: str
    kind: str
    subject: str
    what: str = ""
    before: Callable[[Desk], object] | None = None


def _held(desk: Desk) -> None:
    hold_piece(desk, "P9", ["L1"], "recall")


def _hold_to_strike(desk: Desk) -> None:
    hold_piece(desk, "P9", ["L1"], "recall")


def _strike(desk: Desk, by: str, code: str) -> object:
    last = desk.anchors()["main"].split()[0]
    return correct_entry(desk, by, f"main:{last}", f"not about {code}")


def _two_cribs(desk: Desk) -> None:
    add_crib(desk, "P9", "other")


#: Acts about one piece that is in the register (L1 unless another is given), each with its line.
ABOUT_A_PIECE: dict[str, Act] = {
    "inspection": Act(lambda d, by, c: log_check(d, by, "inspection", c, {}), "main", "record", "L1", "inspection"),
    "event": Act(lambda d, by, c: log_check(d, by, "event", c, {"kind": "wet"}), "main", "record", "L1", "event"),
    "list": Act(lambda d, by, c: inspect_list(d, by, [c], {}, {}), "main", "record", "L1", "inspection"),
    "hold": Act(lambda d, by, c: hold_piece(d, by, [c], "suspect"), "main", "record", "L1", "hold"),
    "release": Act(lambda d, by, c: release_piece(d, by, [c]), "main", "record", "L1", "release", _held),
    "withdraw": Act(lambda d, by, c: withdraw_piece(d, by, [c], "worn"), "main", "record", "L1", "withdrawal"),
    "repair": Act(lambda d, by, c: repair_piece(d, by, c, {"kind": "patched"}), "main", "record", "L1", "event"),
    "keep": Act(lambda d, by, c: hand_over(d, by, [c], "P1"), "main", "record", "L1", "hand-over"),
    "reserve": Act(lambda d, by, c: reserve_pieces(d, by, [c], "P1", DAY, DAY), "main", "record", "L1", "reservation"),
    "transfer": Act(lambda d, by, c: transfer_pieces(d, by, [c], "other"), "main", "record", "L1", "transfer", _two_cribs),
    "recall": Act(lambda d, by, c: recall_pieces(d, by, Recall(pieces=(c,))), "main", "record", "L1", "hold"),
}  # fmt: skip
#: The rest of what may be entered.
OTHERS: dict[str, Act] = {
    "air-test": Act(
        lambda d, by, _: log_check(d, by, "air-test", "G1", {"left": "passed", "right": "passed", "inflation": 1.2}),
        "main", "record", "G1", "air-test",
    ),
    "self-test": Act(lambda d, by, _: log_check(d, by, "self-test", "D1", {"result": "passed"}), "main", "record", "D1",
                     "self-test"),
    "calibration": Act(lambda d, by, _: log_check(d, by, "calibration", "D1", {"result": "passed"}), "main", "record",
                       "D1", "calibration"),
    "electrical-test": Act(lambda d, by, _: log_electrical_test(d, by, "G1", FIGURES), "main", "record", "G1",
                           "electrical-test"),
    "certificate-seen": Act(lambda d, by, _: confirm_certificates(d, by, ["G1"]), "main", "record", "G1",
                            "certificate-seen"),
    "taken": Act(lambda d, by, _: enter_taken(d, by, ["L1"], "P1"), "main", "record", "L1", "issue"),
    "issue": Act(lambda d, by, _: issue_kit(d, by, question()), "main", "decision", "P1"),
    "refusal": Act(lambda d, by, _: issue_kit(d, by, question(person="P9")), "main", "decision", "P9"),
    "return": Act(lambda d, by, _: return_kit(d, by, ["L1"], {}), "main", "record", "L1", "return",
                  lambda d: hand_over(d, "P9", ["L1"], "P1")),
    "correction": Act(_strike, "main", "record", "L1", "correction", _hold_to_strike),
    "stocktake": Act(lambda d, by, _: take_stock(d, by, ["L1"], ""), "main", "stocktake", "main"),
    "piece": Act(lambda d, by, _: add_piece(d, by, gloves("G2")), "main", "piece", "G2"),
    "person": Act(lambda d, by, _: add_person(d, by, {"code": "P5"}), "site", "person", "P5"),
    "system": Act(lambda d, by, _: add_system(d, by, {"code": "VAN"}), "site", "system", "VAN"),
    "circuit": Act(lambda d, by, _: add_circuit(d, by, "BUS", CIRCUIT), "site", "circuit", "BUS"),
    "crib": Act(lambda d, by, _: add_crib(d, by, "other"), "site", "crib", "other"),
    "rule": Act(lambda d, by, _: set_rule(d, by, {"warning_days": 20}), "site", "site_rule", "warning_days"),
    "in-print": Act(lambda d, by, _: confirm_figures(d, by, [FROM_MEMORY], "own copy"), "site", "site_rule", FROM_MEMORY),
    "not-in-print": Act(lambda d, by, _: withdraw_confirmations(d, by, [FROM_MEMORY], "misread"), "site", "site_rule",
                        FROM_MEMORY, before=lambda d: confirm_figures(d, "P9", [FROM_MEMORY], "own copy")),
    "bag": Act(lambda d, by, _: make_bag(d, by, "BAG", ["L1", "G1"]), "site", "bag", "BAG"),
    "label": Act(lambda d, by, _: add_alias(d, by, "0815", "L1"), "site", "alias", "L1"),
    "closing": Act(lambda d, by, _: close_to_entries(d, by, DAY), "site", "site_rule", "demo_day"),
}  # fmt: skip
EVERY = {**ABOUT_A_PIECE, **OTHERS}
