"""The program: `python -m app COMMAND`, or `cuffdate COMMAND`. Without a command it shows what there is."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from app.cli.program import run


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and answer its exit status."""
    return run(sys.argv[1:] if argv is None else argv)


if __name__ == "__main__":
    sys.exit(main())
