"""kill -9 at random moments of a day's work: what was acknowledged is there, nothing is half there."""

from __future__ import annotations

import random
import time
from collections import Counter
from pathlib import Path

import pytest

from tests.faults.checks import all_of, copied, count_lines, parsed, problems
from tests.faults.forks import Forks, Running
from tests.faults.shim import Kill, Shim

# More than fit into the longest time until the kill.
ACTS_A_ROUND = 400


def one_round(forks: Forks, made: Path, folder: Path, seed: int) -> tuple[list[str], Counter[str]]:
    """Work, kill, look; answers what does not hold and what happened."""
    path, rng = copied(made, folder), random.Random(seed)
    before = count_lines(path)
    running = forks.start(["work", str(path), str(seed), str(ACTS_A_ROUND)])
    _kill_within(running, rng)
    ended = running.wait()
    told = parsed(ended.stdout)
    seen = Counter("done" for one in told if "done" in one)
    seen["killed"] = int(ended.returncode == -9)
    seen["within an act"] = int(bool(told) and "try" in told[-1])
    seen["journal left"] = int(path.with_name(f"{path.name}-journal").exists())
    found = [] if ended.returncode in (0, -9) else [ended.stderr]
    return [*found, *problems(path, ended.stdout, before)], seen


def _kill_within(running: Running, rng: random.Random) -> None:
    """Once it is at work, at a moment nobody chose."""
    end = time.monotonic() + 20
    while not running.said() and time.monotonic() < end:
        time.sleep(0.001)
    time.sleep(rng.uniform(0, 0.5))
    running.kill()


def swept(forks: Forks, made: Path, folder: Path, rounds: int) -> tuple[list[str], Counter[str]]:
    """So many rounds."""
    found, seen = list[tuple[object, list[str]]](), Counter[str]()
    for seed in range(rounds):
        wrong, counted = one_round(forks, made, folder / str(seed), seed)
        found.append((seed, wrong))
        seen += counted
    return all_of(found), seen


def test_a_few_kills_lose_nothing_acknowledged(forks: Forks, made: Path, place: Path) -> None:
    """I1 I2 I3 I4 I5."""
    found, seen = swept(forks, made, place, 6)
    assert found == []
    assert seen["killed"] == 6
    assert seen["done"] > 0


@pytest.mark.long
def test_sixty_kills_lose_nothing_acknowledged(forks: Forks, made: Path, place: Path) -> None:
    """I1 I2 I3 I4 I5."""
    found, seen = swept(forks, made, place, 60)
    assert found == []
    assert seen["killed"] == 60
    assert seen["within an act"] >= 20


def killed_at(woken: Shim, made: Path, folder: Path, nth: int, act: str, *planted: str) -> list[str]:
    """One act killed before its nth call."""
    path = copied(made, folder)
    before = count_lines(path)
    ran = woken.run([*planted, "one", str(path), act], folder, Kill(None, nth))
    return problems(path, ran.stdout, before)


def killed_everywhere(woken: Shim, made: Path, folder: Path, act: str, *planted: str, step: int = 1) -> list[str]:
    """One act killed before every call it makes, or every so many; where a random moment would meet few of them."""
    path = copied(made, folder / "whole")
    calls = sum(woken.count([*planted, "one", str(path), act], path.parent).values())
    assert calls > 20
    turns = range(1, calls + 1, step)
    return all_of((nth, killed_at(woken, made, folder / str(nth), nth, act, *planted)) for nth in turns)


@pytest.mark.parametrize("act", ["issue", "transfer"])
def test_a_kill_at_some_calls_of_one_act_leaves_no_half(act: str, woken: Shim, made: Path, place: Path) -> None:
    """I2 I3 I4."""
    assert killed_everywhere(woken, made, place, act, step=9) == []


@pytest.mark.long
@pytest.mark.parametrize("act", ["issue", "transfer", "hold", "log"])
def test_a_kill_at_every_call_of_one_act_leaves_no_half(act: str, woken: Shim, made: Path, place: Path) -> None:
    """I2 I3 I4."""
    assert killed_everywhere(woken, made, place, act) == []


def test_rows_committed_on_their_own_are_found(woken: Shim, made: Path, place: Path) -> None:
    """The check of I2 can fail: an act that commits between its writes leaves halves, and they are named."""
    found = killed_everywhere(woken, made, place, "issue", "plant", "early-commit", step=11)
    assert any("I2" in one for one in found)
    assert any("verify.no-row" in one for one in found)
