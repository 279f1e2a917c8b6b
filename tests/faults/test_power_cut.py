"""The power goes: of what was not synced anything may be lost, torn or out of order, and nothing acknowledged is."""

from __future__ import annotations

import random
import shutil
from collections import Counter
from pathlib import Path

import pytest

from tests.faults.checks import all_of, copied, count_lines, parsed, problems
from tests.faults.disk import Image, lay
from tests.faults.shim import Recording, Shim, images


def recorded(woken: Shim, made: Path, folder: Path, seed: int, acts: int, *planted: str) -> tuple[Recording, int]:
    """A day's work with everything it did to the disk, and the lines there were before."""
    path = copied(made, folder)
    before = count_lines(path)
    recording = woken.record([*planted, "work", str(path), str(seed), str(acts)], folder)
    assert recording.ran.returncode == 0, recording.ran.stderr
    assert sum("done" in one for one in parsed(recording.ran.stdout)) > acts // 2
    return recording, before


def looked_at(image: Image, folder: Path, before: int) -> list[str]:
    """What does not hold of one image; the image is cleared away where all holds."""
    path = lay(image, folder) / "r.cuffdate"
    found = problems(path, image.said, before)
    if not found:
        shutil.rmtree(folder)
    return found


def picked(recording: Recording, seed: int, most: int) -> list[Image]:
    """Half of them drawn, the rest from both extremes: a cut where all or nothing unsynced is there."""
    rng, seen = random.Random(seed), Counter[str]()
    shares = {"drawn": most // 2, "least": most // 3, "most": most - most // 2 - most // 3}
    kept: dict[str, list[Image]] = {how: [] for how in shares}
    # Each is as likely to stay as any other of its sort, without all of them in memory at once.
    for image in images(recording, seed=seed, count=most):
        seen[image.how] += 1
        place = rng.randrange(seen[image.how])
        if len(kept[image.how]) < shares[image.how]:
            kept[image.how].append(image)
        elif place < shares[image.how]:
            kept[image.how][place] = image
    return [one for ones in kept.values() for one in ones]


def cut(woken: Shim, made: Path, folder: Path, seed: int, acts: int, most: int, *planted: str) -> tuple[list[str], int]:
    """Images of one day's work; answers what does not hold and how many were looked at."""
    recording, before = recorded(woken, made, folder / "work", seed, acts, *planted)
    chosen = picked(recording, seed, most)
    found = [(f"{one.cut} {one.how}", looked_at(one, folder / f"{n}", before)) for n, one in enumerate(chosen)]
    return all_of(found), len(chosen)


def test_a_power_cut_loses_nothing_acknowledged(woken: Shim, made: Path, place: Path) -> None:
    """I1 I2 I3 I4 I5."""
    found, count = cut(woken, made, place, 1, 16, 30)
    assert found == []
    assert count >= 25


@pytest.mark.long
@pytest.mark.parametrize("seed", range(2, 6))
def test_many_power_cuts_lose_nothing_acknowledged(seed: int, woken: Shim, made: Path, place: Path) -> None:
    """I1 I2 I3 I4 I5."""
    found, count = cut(woken, made, place, seed, 40, 400)
    assert found == []
    assert count >= 250


def test_entries_that_were_never_synced_are_missed(woken: Shim, made: Path, place: Path) -> None:
    """The check of I1 can fail: with syncing off acknowledged entries are lost, and they are named."""
    found, _ = cut(woken, made, place, 1, 12, 12, "plant", "no-sync")
    assert any("I1" in one for one in found)


def test_a_register_said_to_be_made_is_there_whole(woken: Shim, place: Path) -> None:
    """I1 I2: at its name there is nothing, or a whole empty register, and that from when it was said on."""
    folder = place / "made"
    folder.mkdir()
    recording = woken.record(["create", str(folder / "r.cuffdate")], folder)
    assert parsed(recording.ran.stdout) == [{"done": [], "act": "file"}]
    seen = Counter[str]()
    for number, image in enumerate(images(recording, seed=3, count=5)):
        path = lay(image, place / str(number)) / "r.cuffdate"
        if not path.exists():
            assert not image.said, image.cut
            seen["not yet"] += 1
            continue
        assert problems(path, "", 0) == []
        seen["whole"] += 1
    assert min(seen["not yet"], seen["whole"]) > 0
