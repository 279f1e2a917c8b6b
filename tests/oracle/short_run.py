"""The short run of the comparison in two halves, one for each worker of a test run: together the 20,000 kits asked for."""

from __future__ import annotations

import dataclasses

from tests.oracle.agreement import LEAST_AGREEMENT, LEAST_ISSUED, MOST_ISSUED, Tally, compare

SEED = 20_260_302
HALF = 10_000


def half(first: int) -> Tally:
    """`HALF` kits from number `first` on, in this one process: the other half has the other core."""
    return compare(SEED, range(first, first + HALF))


class HalfOfTheShortRun:
    """What a half must show; every promise is held by each half alone. The module gives the fixture `total`."""

    def test_no_kit_is_issued_that_the_second_judge_refuses(self, total: Tally) -> None:
        assert total.kits == HALF
        assert total.wrong == []

    def test_they_agree(self, total: Tally) -> None:
        assert total.agreement >= LEAST_AGREEMENT, total.stricter[:20]
        assert total.issued_by_both + total.refused_by_both + len(total.stricter) == HALF

    def test_the_mix_is_worth_something(self, total: Tally) -> None:
        assert LEAST_ISSUED <= total.share_issued <= MOST_ISSUED

    def test_every_rule_is_the_only_named_cause_often_enough(self, total: Tally) -> None:
        assert total.rare() == {}

    def test_a_run_that_keeps_its_promises_says_so_and_one_that_does_not_says_which(self, total: Tally) -> None:
        assert total.broken() == []
        spoiled = dataclasses.replace(total, wrong=[(7, ("not-held",))], refused_by_both=0)
        assert len(spoiled.broken()) == 2
