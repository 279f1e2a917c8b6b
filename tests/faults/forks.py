"""Acts in processes of their own without the price of a start each: one process has everything loaded and forks.

    with Forks(shim.preloaded) as forks:
        done = forks.run(["work", path, "1", "20"], {})  # also what Shim takes as `start`
        running = forks.start(["work", path, "1", "20"])
        running.kill()
        done = running.wait()

What is forked runs `tests.faults.acts.main(argv)` with standard output and error in files, and ends without clearing up.
"""

from __future__ import annotations

import gc
import json
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Any, Self

ROOT = Path(__file__).parents[2]
NONE: Mapping[str, str] = {}


def why_no_forks() -> str:
    """Reason for which nothing can be forked here, or nothing."""
    return "" if hasattr(os, "fork") else "needs a system that forks processes"


class Forks:
    """One process that waits for orders. `preloaded`: the shim to load into it, asleep until a fork wakes it."""

    def __init__(self, preloaded: Path | None = None) -> None:
        self._folder = tempfile.TemporaryDirectory()
        self._count = 0
        env = dict(os.environ)
        if preloaded is not None:
            env["LD_PRELOAD"] = " ".join(filter(None, (str(preloaded), os.environ.get("LD_PRELOAD"))))
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.faults.forks"], cwd=ROOT, env=env, stdin=subprocess.PIPE,
            stdout=subprocess.PIPE, text=True, encoding="utf-8",
        )  # fmt: skip

    def ask(self, order: Mapping[str, object]) -> Any:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write(json.dumps(order) + "\n")
        self._process.stdin.flush()
        answer = self._process.stdout.readline()
        if not answer:
            raise RuntimeError("the process that forks has ended")
        return json.loads(answer)

    def start(self, argv: Sequence[str], env: Mapping[str, str] = NONE, *, user: int | None = None) -> Running:
        """Start one act. `user`: the id it runs as, where that is not ours."""
        self._count += 1
        out, err = (Path(self._folder.name) / f"{self._count}.{name}" for name in ("out", "err"))
        order = {"argv": list(argv), "env": dict(env), "out": str(out), "err": str(err), "user": user}
        return Running(self, int(self.ask(order)), list(argv), out, err)

    def run(
        self, argv: Sequence[str], env: Mapping[str, str] = NONE, timeout_s: float = 60
    ) -> subprocess.CompletedProcess[str]:
        """One act to its end; TimeoutExpired where it does not end."""
        return self.start(argv, env).wait(timeout_s)

    def close(self) -> None:
        if self._process.stdin is not None:
            self._process.stdin.close()
        self._process.wait(timeout=60)
        if self._process.stdout is not None:
            self._process.stdout.close()
        self._folder.cleanup()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


@dataclass(frozen=True)
class Running:
    """One act that was started."""

    forks: Forks
    pid: int
    argv: list[str]
    out: Path
    err: Path

    def said(self) -> str:
        """What it has printed so far."""
        return self.out.read_text(encoding="utf-8") if self.out.exists() else ""

    def kill(self) -> None:
        """End it as a pulled plug ends it; harmless where it has ended."""
        with suppress(ProcessLookupError):
            os.kill(self.pid, signal.SIGKILL)

    def wait(self, timeout_s: float = 60) -> subprocess.CompletedProcess[str]:
        """Its end; TimeoutExpired (and its end by SIGKILL) where it does not come."""
        status = self.forks.ask({"wait": self.pid, "timeout_s": timeout_s})
        if status is None:
            raise subprocess.TimeoutExpired(self.argv, timeout_s)
        return subprocess.CompletedProcess(self.argv, status, self.said(), self.err.read_text(encoding="utf-8"))


def _serve() -> None:
    from tests.faults import acts

    acts.load()
    gc.freeze()
    for line in sys.stdin:
        order = json.loads(line)
        answer = _wait(order["wait"], order["timeout_s"]) if "wait" in order else _fork(order)
        print(json.dumps(answer), flush=True)


def _wait(pid: int, timeout_s: float) -> int | None:
    end, pause_s = time.monotonic() + timeout_s, 0.0005
    while True:
        found, status = os.waitpid(pid, os.WNOHANG)
        if found:
            return os.waitstatus_to_exitcode(status)
        if time.monotonic() > end:
            os.kill(pid, signal.SIGKILL)
            os.waitpid(pid, 0)
            return None
        time.sleep(pause_s)
        pause_s = min(0.005, 1.5 * pause_s)


def _fork(order: dict[str, Any]) -> int:
    pid = os.fork()
    if pid:
        return pid
    status = 70
    try:
        for number, name in ((0, os.devnull), (1, order["out"]), (2, order["err"])):
            os.dup2(os.open(name, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o644), number)
        status = _act(order)
    except BaseException:  # noqa: BLE001  # whatever it is, it goes into the file and the process ends here
        import traceback

        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(status)


def _act(order: dict[str, Any]) -> int:
    from tests.faults import acts

    if order["user"] is not None and order["user"] != os.getuid():
        os.setgroups([])
        os.setgid(order["user"])
        os.setuid(order["user"])
    os.environ.update(order["env"])
    if "SHIM_FOLDER" in order["env"]:
        import ctypes

        ctypes.CDLL(None).shim_begin()
    return acts.main(order["argv"])


if __name__ == "__main__":
    _serve()
