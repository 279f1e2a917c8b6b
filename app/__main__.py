"""The program: `python -m app COMMAND`, or `cuffdate COMMAND`. Without a command it shows what there is."""

from __future__ import annotations

import gc
import sys
from collections.abc import Sequence

# A command makes many small lasting values and lives for a moment: looking for rubbish among them only costs time.
gc.set_threshold(200_000, 50, 50)

from app.cli.program import run  # noqa: E402  # the imports are the greater part of those values


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and answer its exit status."""
    return run(sys.argv[1:] if argv is None else argv)


if __name__ == "__main__":
    sys.exit(main())
