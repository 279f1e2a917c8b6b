"""The program: `cuffdate` opens the window, `cuffdate FILE` on that register, `cuffdate COMMAND` does one thing.

`python -m app` is the same.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence


def main(argv: Sequence[str] | None = None) -> int:
    """Open the window, or run one command; answers the exit status."""
    words = sys.argv[1:] if argv is None else list(argv)
    if LANGUAGE in os.environ and not _speaks(os.environ[LANGUAGE], words):
        return WRONG_INPUT
    if not words or (len(words) == 1 and words[0].endswith(ENDING)):
        return _window(words)
    # A command makes many small lasting values and lives for a moment: looking for rubbish among them costs only time.
    gc.set_threshold(200_000, 50, 50)
    from app.cli.program import run

    status = run(words)
    return _window_on_demo(words[1:]) if words[:1] == ["demo"] and status == 0 else status


def _speaks(language: str, words: Sequence[str]) -> bool:
    """Use this language; where there is none of this name say which there are."""
    from app.words.catalogue import CATALOGUE, languages

    known = languages()
    if language in known:
        CATALOGUE.speak(language)
        return True
    from app.cli.output import complain
    from app.decision.domain.errors import BadInput

    complain(BadInput("language.unknown", thing=language, known=tuple(known)), as_json="--json" in words)
    return False


def _window_on_demo(argv: Sequence[str]) -> int:
    from app.cli.demo import to_show

    path = to_show(argv)
    if path is None:
        return 0
    from app.window.start import has_screen

    # Where there is no screen the demo has been shown on the command line all the same.
    return _window([str(path)]) if has_screen() else 0


def _window(words: Sequence[str]) -> int:
    from pathlib import Path

    from app.window.start import has_screen

    if not has_screen():
        from app.cli.program import no_window

        return no_window()
    from app.window.start import run

    return run(Path(words[0]) if words else None)


ENDING = ".cuffdate"
#: names the language of a start, one of the files in app/words; English where it is not set
LANGUAGE = "CUFFDATE_LANGUAGE"
WRONG_INPUT = 2


if __name__ == "__main__":
    sys.exit(main())
