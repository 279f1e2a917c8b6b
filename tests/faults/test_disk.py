"""What a disk may hold after a cut is what was synced, and of the rest anything."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.faults.disk import Image, lay, read
from tests.faults.programs import python, store
from tests.faults.shim import Fail, Fault, Shim, images, why_not

pytestmark = pytest.mark.skipif(bool(why_not()), reason=why_not() or "never")


# A file and its name on the disk, then one thing more.
BEGUN = """
import os
folder = os.open(".", os.O_RDONLY)
one = os.open("one", os.O_CREAT | os.O_RDWR)
os.write(one, b"A" * 4096)
os.fsync(one); os.fsync(folder)
print("begun", flush=True)
"""


def states(shim: Shim, folder: Path, more: str, fault: Fault = None) -> Iterator[Image]:
    recording = shim.record(python(BEGUN + more), folder, fault)
    assert recording.ran.returncode == 0, recording.ran.stderr
    return (image for image in images(recording, seed=1, count=400) if image.said)


def test_what_is_synced_is_there_whatever_the_cut(shim: Shim, folder: Path) -> None:
    assert [image.files for image in states(shim, folder, "")] == [{"one": b"A" * 4096}]
    last = [*states(shim, folder, "os.pwrite(one, b'B' * 4096, 0); os.fdatasync(one); print('end', flush=True)")]
    assert {image.files["one"] for image in last if "end" in image.said} == {b"B" * 4096}


def test_an_unsynced_write_is_lost_whole_or_torn_at_a_sector(shim: Shim, folder: Path) -> None:
    given = list(states(shim, folder, "os.pwrite(one, b'B' * 2000, 100)"))
    contents = {image.files["one"] for image in given}
    whole = b"A" * 100 + b"B" * 2000 + b"A" * 1996
    assert {image.files["one"] for image in given if image.how == "least"} == {b"A" * 4096}
    assert {image.files["one"] for image in given if image.how == "most"} == {whole}
    torn = {whole[:edge] + b"A" * (4096 - edge) for edge in (512, 1024, 1536, 2048)}
    torn |= {b"A" * edge + whole[edge:] for edge in (512, 1024, 1536, 2048)}
    assert contents == {b"A" * 4096, whole, *torn}


def test_of_two_unsynced_writes_either_may_be_lost_and_either_may_land_last(shim: Shim, folder: Path) -> None:
    more = "os.pwrite(one, b'B' * 20, 0); os.pwrite(one, b'C' * 20, 10); os.pwrite(one, b'D', 4200)"
    given = {image.files["one"] for image in states(shim, folder, more)}
    assert {content[:31] for content in given} == {
        b"A" * 31, b"B" * 20 + b"A" * 11, b"A" * 10 + b"C" * 20 + b"A", b"B" * 10 + b"C" * 20 + b"A",
        b"B" * 20 + b"C" * 10 + b"A",
    }  # fmt: skip
    assert {content[4096:] for content in given} == {b"", bytes(105), bytes(104) + b"D"}


@pytest.mark.parametrize(
    ("more", "may"),
    [
        ("os.open('two', os.O_CREAT)", {("one",), ("one", "two")}),
        ("os.unlink('one')", {("one",), ()}),
        ("os.rename('one', 'two')", {("one",), ("two",)}),
        ("os.mkdir('sub'); os.rename('one', 'sub/two')", {("one",), ("one", "sub/"), ("sub/", "sub/two"), ()}),
        ("os.unlink('one'); os.open('one', os.O_CREAT)", {("one",), ()}),
    ],
)
def test_names_stay_or_change_until_their_folder_is_synced(
    more: str, may: set[tuple[str, ...]], shim: Shim, folder: Path
) -> None:
    given = list(states(shim, folder, more))
    assert {tuple(sorted(image.files)) for image in given} == may
    assert all(image.files.get("two", b"A" * 4096) in (b"", b"A" * 4096) for image in given)
    for path in sorted(folder.rglob("*"), reverse=True):
        path.rmdir() if path.is_dir() else path.unlink()
    synced = (
        "\nos.fsync(folder)\nif os.path.isdir('sub'): os.fsync(os.open('sub', os.O_RDONLY))\nprint('end', flush=True)"
    )
    last = [image for image in states(shim, folder, more + synced) if "end" in image.said]
    end = tuple(sorted(read(folder)))
    assert {tuple(sorted(image.files)) for image in last} == {end}


def test_what_a_failed_fsync_should_have_written_is_doubtful_for_ever(shim: Shim, folder: Path) -> None:
    more = """
os.pwrite(one, b'B', 0)
try: os.fsync(one)
except OSError: pass
os.pwrite(one, b'C', 1); os.fsync(one)
print("end", flush=True)
"""
    last = [image.files["one"][:2] for image in states(shim, folder, more) if "end" in image.said]
    assert set(last) == {b"BC"}
    for path in folder.iterdir():
        path.unlink()
    failed = states(shim, folder, more, Fail("fsync", 3, errno.EIO))
    assert {image.files["one"][:2] for image in failed if "end" in image.said} == {b"BC", b"AC"}


def test_a_name_needs_the_fsync_of_its_own_folder_and_one_moved_that_of_both(shim: Shim, folder: Path) -> None:
    more = """
os.mkdir("sub"); os.fsync(folder)
sub = os.open("sub", os.O_RDONLY)
os.rename("one", "sub/two"); os.open("three", os.O_CREAT); os.fsync(sub)
print("end", flush=True)
"""
    last = {tuple(sorted(image.files)) for image in states(shim, folder, more) if "end" in image.said}
    assert last == {
        ("one", "sub/"), ("one", "sub/", "three"), ("sub/", "sub/two"), ("sub/", "sub/two", "three"),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("nth", "may"), [(4, {("one", "sub/", "two")}), (5, {("one", "sub/"), ("one", "sub/", "two")})]
)
def test_a_name_whose_folder_failed_to_sync_is_doubtful_for_ever(
    nth: int, may: set[tuple[str, ...]], shim: Shim, folder: Path
) -> None:
    more = """
os.mkdir("sub"); os.fsync(folder)
os.open("two", os.O_CREAT)
for each in (os.open("sub", os.O_RDONLY), folder):
    try: os.fsync(each)
    except OSError: pass
os.fsync(folder)
print("end", flush=True)
"""
    failed = states(shim, folder, more, Fail("fsync", nth, errno.EIO))
    assert {tuple(sorted(image.files)) for image in failed if "end" in image.said} == may


def test_the_same_seed_gives_the_same_states_and_none_twice(shim: Shim, folder: Path) -> None:
    recording = shim.record(store(2, "OFF"), folder)
    given = list(images(recording, seed=1, count=200))
    assert given == list(images(recording, seed=1, count=200)) != list(images(recording, seed=2, count=200))
    assert len({(image.said, *image.files.items()) for image in given}) == len(given)


def test_an_image_is_laid_as_it_was_read_and_never_over_something(folder: Path, tmp_path: Path) -> None:
    files = {"one": b"1", "sub/": b"", "sub/two": b"2", "empty/": b""}
    assert read(lay(files, tmp_path / "laid")) == files
    with pytest.raises(FileExistsError):
        lay(files, tmp_path / "laid")
