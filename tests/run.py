"""The one test command: format, lint, types, contracts, tests. Stops at the first step that fails.

`python -m tests.run` is the short run; `--long` adds the long proofs.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent
BIN = Path(sys.executable).parent


def steps(*, is_long: bool) -> tuple[tuple[str, list[str]], ...]:
    """Name and command of each step, pytest last so that its summary ends the run."""
    pytest = [sys.executable, "-m", "pytest", "-n", "2", "--dist", "loadfile", *(["--long"] if is_long else [])]
    return (
        ("format", [sys.executable, "-m", "ruff", "format", "--check", "app", "tests", "demo_data"]),
        ("lint", [sys.executable, "-m", "ruff", "check", "app", "tests", "demo_data"]),
        ("types", [sys.executable, "-m", "mypy"]),
        ("contracts", [str(BIN / "lint-imports")]),
        ("tests", pytest),
    )


def main() -> int:
    """Run the steps; answers the first exit status that is not 0."""
    for name, command in steps(is_long="--long" in sys.argv[1:]):
        print(f"== {name}", flush=True)
        status = subprocess.run(command, cwd=ROOT, check=False).returncode
        if status:
            return status
    return 0


if __name__ == "__main__":
    sys.exit(main())
