"""A PostgreSQL server for one run of the tests: made where its binaries are, in a folder that is thrown away."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

NEEDED = ("initdb", "pg_ctl")
# The server refuses to run as root; whoever is not root runs it as themselves.
ANOTHER_USER = "postgres"


def why_not() -> str:
    """What is missing for a server, "" where nothing is."""
    missing = [name for name in NEEDED if shutil.which(name) is None]
    if missing:
        return f"no PostgreSQL here: {', '.join(missing)} not found"
    if os.geteuid() == 0 and shutil.which("runuser") is None:
        return "PostgreSQL refuses to run as root, and there is no runuser"
    return ""


@contextmanager
def server() -> Iterator[str]:
    """The address of a fresh, empty database, reached by a socket in its own folder."""
    with TemporaryDirectory(prefix="pg-") as name:
        folder = Path(name)
        if os.geteuid() == 0:
            shutil.chown(folder, ANOTHER_USER)
        data = str(folder / "data")
        run("initdb", "-D", data, "-A", "trust", "-U", "depot", "-E", "UTF8", "--locale=C.UTF-8", "--no-sync")
        options = f"-k {folder} -c listen_addresses= -c fsync=off"
        run("pg_ctl", "-D", data, "-w", "-l", str(folder / "log"), "-o", options, "start")
        try:
            yield f"postgresql+psycopg://depot@/postgres?host={folder}"
        finally:
            run("pg_ctl", "-D", data, "-w", "-m", "immediate", "stop")


def run(*command: str) -> None:
    """One of the server's programs, as somebody who may."""
    found = shutil.which(command[0])
    assert found is not None
    behind = ["runuser", "-u", ANOTHER_USER, "--"] if os.geteuid() == 0 else []
    done = subprocess.run([*behind, found, *command[1:]], capture_output=True, text=True, cwd="/", check=False)
    assert done.returncode == 0, done.stdout + done.stderr
