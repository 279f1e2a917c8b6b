"""Arguments shared by commands, and a parser whose complaints are sentences like any other."""

from __future__ import annotations

import argparse
from datetime import date
from typing import NoReturn

from app.domain.case.reading import Unreadable, exact_day
from app.domain.errors import BadInput

DONE, FAULT, WRONG_INPUT, REFUSED = 0, 1, 2, 3


class Parser(argparse.ArgumentParser):
    """argparse, except that a wrong argument is BadInput and not an exit in the middle."""

    def error(self, message: str) -> NoReturn:
        """Turn argparse's complaint into ours."""
        raise BadInput("arguments", thing=message)


def day(written: str) -> date:
    """A day as typed: 2026-03-01."""
    try:
        return exact_day(written)
    except Unreadable as fault:
        raise argparse.ArgumentTypeError(f"{written} is no day; write it as 2026-03-01") from fault


def pair(written: str) -> tuple[str, str]:
    """METER:LEADS."""
    meter, mark, leads = written.partition(":")
    if not (meter and mark and leads):
        raise BadInput("job.with-form", thing=written)
    return meter, leads


def whole_days(written: str) -> int:
    """A number of days, zero or more."""
    if not written.isdigit() or len(written) > 5:
        raise argparse.ArgumentTypeError(f"{written} is no number of days")
    return int(written)


def add_register(parser: argparse.ArgumentParser, *, depot_needed: bool) -> None:
    """The files a register is put together from."""
    parser.add_argument("--sheet", required=True, metavar="FILE", help="the crib's register sheet, CSV or XLSX")
    parser.add_argument("--depot", required=depot_needed, metavar="FILE", help="people, systems and site rules, TOML")
    parser.add_argument("--checks", metavar="FILE", help="the day's checks, TOML")
    parser.add_argument(
        "--certificate-seen", nargs="+", default=[], action="extend", metavar="CODE",
        help="pieces whose test certificate somebody has seen",
    )  # fmt: skip
    parser.add_argument("--encoding", metavar="NAME", help="encoding of a CSV that is not UTF-8, for example cp1252")
    parser.add_argument("--on", required=True, type=day, metavar="DATE", help="the day, as 2026-03-01")
