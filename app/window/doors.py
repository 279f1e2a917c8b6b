"""The two doors of the window to the register: `ask` reads, `change` writes. Nothing else touches a desk.

One thread owns the desk that writes; a second one has a desk of its own for readings that take long, so that a counter
never waits for them. Answers come back in the window's thread. A late answer for a slot that was asked anew is dropped.
"""

from __future__ import annotations

import threading
import traceback
from collections.abc import Callable, Iterable
from pathlib import Path
from queue import SimpleQueue
from typing import TYPE_CHECKING, Any, TypeVar

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from shiboken6 import isValid

from app import compose
from app.decision.domain.errors import CuffdateError, ProgramFault, StoreTrouble

if TYPE_CHECKING:
    from app.usecases.desk import Desk
    from app.usecases.look_at_shelf import Asked

T = TypeVar("T")
Failed = Callable[[CuffdateError], None]
EVERYTHING = frozenset({"*"})
WATCH_MS = 5_000
_Job = tuple[Callable[["_Worker"], object], Callable[[object], None], Failed]


class _Worker(threading.Thread):
    """Does one thing after the other, in order; what goes wrong is an answer too, so that it never stops by itself."""

    def __init__(self, name: str, answered: Callable[[Callable[[], None]], None], broke: Callable[[str], None]) -> None:
        super().__init__(name=name, daemon=True)
        self.desk: Desk | None = None
        self._jobs: SimpleQueue[_Job | None] = SimpleQueue()
        self._answered = answered
        self._broke = broke

    def put(self, job: _Job | None) -> None:
        self._jobs.put(job)

    def run(self) -> None:
        while (job := self._jobs.get()) is not None:
            self._do(*job)
        self.close()

    def _do(self, work: Callable[[_Worker], object], done: Callable[[object], None], failed: Failed) -> None:
        try:
            answer = work(self)
        except CuffdateError as fault:
            self._answered(lambda fault=fault: failed(fault))  # type: ignore[misc]  # bound now
        except Exception as fault:  # noqa: BLE001  # a fault of ours in the thread: said and written down
            self._broke("".join(traceback.format_exception(fault)))
            ours = ProgramFault("program.fault", thing=type(fault).__name__)
            self._answered(lambda: failed(ours))
        else:
            self._answered(lambda: done(answer))

    def close(self) -> None:
        if self.desk is not None:
            self.desk.store.close()
            self.desk = None


class Doors(QObject):
    """`moved` tells which subjects an act has touched: codes of pieces, "people", "systems", "rules", "*" for all."""

    moved = Signal(object)
    opened = Signal(object)
    broke = Signal(str)
    _answers = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.path: Path | None = None
        self._asked: dict[tuple[int, str], int] = {}
        self._seen: object = None
        self._pending = 0
        self._answers.connect(self._take, Qt.ConnectionType.QueuedConnection)
        self._counter = self._worker("register")
        self._reader = self._worker("readings")
        self._watch = QTimer(self, interval=WATCH_MS)
        self._watch.timeout.connect(self._look_for_others)

    def _worker(self, name: str) -> _Worker:
        worker = _Worker(name, self._answers.emit, self.broke.emit)
        worker.start()
        return worker

    def _take(self, answer: Callable[[], None]) -> None:
        self._pending -= 1
        answer()

    @property
    def is_busy(self) -> bool:
        """Whether anything asked has not been answered yet."""
        return self._pending > 0

    def glance(self, path: Path, look: Callable[[Asked], T], seen: Callable[[T | None], None]) -> None:
        """A first look at a register that is about to be opened; None where there is none to be had."""

        def work(_: _Worker) -> object:
            return compose.glance(path, look)

        def answer(rows: object) -> None:
            seen(rows)  # type: ignore[arg-type]  # what `look` answers

        self._put(self._counter, work, answer, lambda _: seen(None))

    def open(
        self, path: Path, done: Callable[[tuple[str, ...]], None], failed: Failed, *, may_make: bool = False
    ) -> None:
        """Open the register at `path` in place of the one open now, which stays open where this fails."""

        def work(worker: _Worker) -> tuple[str, ...]:
            desk, told = compose.open_desk(path, may_make=may_make)
            worker.close()
            worker.desk = desk
            return told

        def opened(told: object) -> None:
            self.path, self._seen = path, None
            self._asked.clear()
            self._put(self._reader, lambda worker: worker.close(), _nothing, _nothing)
            self._watch.start()
            done(told)  # type: ignore[arg-type]  # what `work` answers
            self.opened.emit(path)
            self.moved.emit(EVERYTHING)

        self._put(self._counter, work, opened, failed)

    def ask(
        self,
        read: Callable[[Desk], T],
        done: Callable[[T], object],
        failed: Failed,
        *,
        owner: QObject,
        slot: str,
        is_long: bool = False,
    ) -> None:
        """Read something; `done` or `failed` is called in the window's thread, unless `slot` was asked anew by then."""
        worker = self._reader if is_long else self._counter
        self._wait(worker, lambda asked: read(self._desk_of(asked)), done, failed, (owner, slot))

    def aside(
        self, work: Callable[[], T], done: Callable[[T], object], failed: Failed, *, owner: QObject, slot: str
    ) -> None:
        """Do something long that needs no register, such as reading a sheet; answered like a question."""
        self._wait(self._reader, lambda _: work(), done, failed, (owner, slot))

    def _wait(
        self,
        worker: _Worker,
        work: Callable[[_Worker], T],
        done: Callable[[T], object],
        failed: Failed,
        place: tuple[QObject, str],
    ) -> None:
        """Have this worker do it, and answer unless the owner has gone or has asked anew for the same slot."""
        owner, slot = place
        key = (id(owner), slot)
        number = self._asked[key] = self._asked.get(key, 0) + 1

        def if_wanted(told: Callable[[Any], object]) -> Callable[[Any], None]:
            def tell(answer: object) -> None:
                if isValid(owner) and self._asked.get(key) == number:
                    told(answer)

            return tell

        self._put(worker, work, if_wanted(done), if_wanted(failed))

    def change(
        self,
        act: Callable[[Desk], T],
        done: Callable[[T], object],
        failed: Failed,
        *,
        subjects: Iterable[str] = EVERYTHING,
    ) -> None:
        """Do one act; never dropped, because it has happened. Then everybody is told what moved."""
        touched = frozenset(subjects)

        def answer(value: object) -> None:
            done(value)  # type: ignore[arg-type]  # what `act` answers
            self.moved.emit(touched)

        self._put(self._counter, lambda worker: act(self._desk_of(worker)), answer, failed)

    def drop(self, owner: QObject, slot: str) -> None:
        """Forget what was asked for this slot: nobody waits for it any more."""
        self._asked[id(owner), slot] = self._asked.get((id(owner), slot), 0) + 1

    def close(self) -> None:
        """Let go of the register, once what is being written is written."""
        self._watch.stop()
        for worker in (self._counter, self._reader):
            worker.put(None)
        for worker in (self._counter, self._reader):
            worker.join()

    def _put(
        self, worker: _Worker, work: Callable[[_Worker], Any], done: Callable[[object], None], failed: Failed
    ) -> None:
        self._pending += 1
        worker.put((work, done, failed))

    def _desk_of(self, worker: _Worker) -> Desk:
        if worker.desk is None:
            if self.path is None:
                raise StoreTrouble("store.none-open")
            worker.desk = compose.open_desk(self.path)[0]
        return worker.desk

    def _look_for_others(self) -> None:
        """Whether somebody else has written: what is on the screen is then asked anew."""
        if self.is_busy or self.path is None:
            return
        self.ask(lambda desk: desk.anchors(), self._others, _nothing, owner=self, slot="anchors")

    def _others(self, anchors: object) -> None:
        if self._seen is not None and anchors != self._seen:
            self.moved.emit(EVERYTHING)
        self._seen = anchors


def _nothing(_: object) -> None:
    return
