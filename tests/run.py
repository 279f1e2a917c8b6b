"""The one test command: format, lint, types, contracts, tests. Stops at the first step that fails.

`python -m tests.run` is the short run; `--long` adds the long proofs.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent
BIN = Path(sys.executable).parent
MEMORY = Path("/dev/shm")
ROOM = 4 << 30
# Each file stays with one worker, in the order tests/conftest.py gives: the longest first.
SPREAD = ("-n", "2", "--dist", "loadfile", "--no-loadscope-reorder")


def steps(*, is_long: bool) -> tuple[tuple[str, list[str]], ...]:
    """Name and command of each step, pytest last so that its summary ends the run."""
    # Of what the tests leave behind only the last run's stays, as it may lie in memory.
    kept = ("-o", "tmp_path_retention_count=1")
    pytest = [sys.executable, "-m", "pytest", *SPREAD, *kept, *(["--long"] if is_long else [])]
    return (
        ("format", [sys.executable, "-m", "ruff", "format", "--check", "app", "tests", "demo_data", "docs"]),
        ("lint", [sys.executable, "-m", "ruff", "check", "app", "tests", "demo_data", "docs"]),
        ("types", [sys.executable, "-m", "mypy"]),
        ("contracts", [str(BIN / "lint-imports")]),
        ("tests", pytest),
    )


def surroundings(*, is_long: bool) -> dict[str, str]:
    """The environment of the steps.

    In the short run the tests' own folders lie in memory where there is room: every entry is synced to its file, and on
    a disk most of a small test's time would be waiting for that. The long run keeps to the disk.
    """
    has_room = not is_long and os.access(MEMORY, os.W_OK) and shutil.disk_usage(MEMORY).free > ROOM
    return {"TMPDIR": str(MEMORY), **os.environ} if has_room else dict(os.environ)


def main() -> int:
    """Run the steps; answers the first exit status that is not 0."""
    is_long = "--long" in sys.argv[1:]
    for name, command in steps(is_long=is_long):
        print(f"== {name}", flush=True)
        status = subprocess.run(command, cwd=ROOT, check=False, env=surroundings(is_long=is_long)).returncode
        if status:
            return status
    return 0


if __name__ == "__main__":
    sys.exit(main())
