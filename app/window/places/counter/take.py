"""Taking back, handing over, and entering what was taken without issue: a list of pieces and one key."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from PySide6.QtWidgets import QHBoxLayout, QWidget

from app.decision.judging.answers import Saved
from app.usecases.about_here import AboutHere
from app.usecases.desk import Desk
from app.usecases.enter_taken import enter_taken
from app.usecases.hand_over import POOL, hand_over
from app.usecases.look_at_kit import OnCounter, look_at_kit
from app.usecases.look_up import Meant
from app.usecases.return_kit import return_kit
from app.window.build import button, column, label, row, save_keys
from app.window.forms import ChoiceField, DayField, Field, TextField, complaints
from app.window.lists import choice
from app.window.places.counter.kit_list import KitList
from app.window.places.counter.state import ListState, Row
from app.window.shell import Shell
from app.window.writing import Writing
from app.words.saying import say
from app.words.vocabulary import DEFECTS


class ListPanel(QWidget):
    """A list with one key. `mode`: take, hand or taken."""

    def __init__(self, shell: Shell, mode: str) -> None:
        super().__init__()
        self.shell = shell
        self.mode = mode
        self.state = ListState(is_return=mode == "take")
        self._writing = Writing(shell, self._show)
        self.kit = KitList(shell.theme, self.extra)
        self.kit.removed.connect(self._remove)
        lead = label(say(f"counter.{mode}.lead", {}))
        self.fields = self.form()
        fields = row(*((field, 1) for field in self.fields), spacing=14)
        column(lead, fields, (self.kit, 1), self._keys(), on=self, spacing=10)
        self._show()

    def form(self) -> tuple[Field[Any], ...]:
        """What is asked beside the pieces."""
        return ()

    def extra(self, piece: Row) -> QWidget | None:
        """What is asked of each piece."""
        _ = piece
        return None

    def act(self, by: str) -> Callable[[Desk], Saved] | None:
        """What is to be done; None where the form cannot be taken yet."""
        raise NotImplementedError

    def _keys(self) -> QHBoxLayout:
        self.empty = button(say("counter.empty", {}), self.clear)
        self.others = button("", self._add_others)
        self.do = button("", self._do, "counter")
        save_keys(self, self._do)
        self.blocked = label("", "short")
        return row(self.empty, self.others, (self.blocked, 1), self.do)

    def show_about(self, about: AboutHere) -> None:
        """People as they are now."""

    def put_down(self, meant: Meant) -> bool:
        """Take pieces into the list."""
        if not meant.pieces:
            return self.take_other(meant)
        new, there = self.state.add(meant.pieces)
        key = "counter.put" if new else "counter.put-there"
        self.shell.tell(say(key, {"pieces": new or there}), kind="done" if new else "told", is_heard=True)
        self.kit.taken(meant.written)
        self.refresh()
        return True

    def take_other(self, meant: Meant) -> bool:
        """A badge or a system; False where it has no use here."""
        _ = meant
        return False

    def _remove(self, code: str) -> None:
        self.state.remove(code)
        self.refresh()

    def _add_others(self) -> None:
        self.state.add(self.state.others())
        self.refresh()

    def clear(self) -> None:
        """Begin anew."""
        self.state.clear()
        self.refresh()
        self.shell.tell("")
        self.kit.line.setFocus()

    def refresh(self) -> None:
        """Look at the pieces again."""
        codes = tuple(self.state.kit)
        self.shell.doors.ask(
            lambda desk: look_at_kit(desk, codes), self._seen, self.shell.complain, owner=self, slot="kit"
        )
        self._show()

    def _seen(self, pieces: Mapping[str, OnCounter]) -> None:
        self.state.seen = pieces
        self._show()

    def _show(self) -> None:
        count, others = len(self.state.kit), self.state.others()
        self.kit.show_rows(self.state.rows())
        self.do.setText(say(f"counter.{self.mode}.do", {"count": count}))
        blocked = self.state.blocked()
        self.blocked.setText(blocked)
        self.do.setEnabled(count > 0 and not blocked and not self._writing.is_on)
        self.empty.setEnabled(count > 0)
        self.others.setText(say("counter.add-others", {"count": len(others), "pieces": others[:6]}))
        self.others.setVisible(bool(others) and self.mode == "take")

    def _do(self) -> None:
        if not self.do.isEnabled() or not self._writing.may_begin():
            return
        if (act := self.act(self.shell.here.by)) is not None:
            self._writing.save(act, self.state.kit, self._saved, lambda _: self.refresh())

    def _saved(self) -> None:
        for field in self.fields:
            field.clear()
        self.clear()


class TakePanel(ListPanel):
    """Taking back, with what was seen on each piece."""

    def __init__(self, shell: Shell) -> None:
        super().__init__(shell, "take")

    def extra(self, piece: Row) -> QWidget | None:
        """What was seen on it; a defect holds it."""
        defects = [(key, DEFECTS[key]) for key in self.state.defects_of(piece.code)]
        return choice(
            say("counter.seen-on", {"piece": piece.code}), [("", say("counter.nothing-seen", {})), *defects],
            self.state.defects.get(piece.code, ""), lambda defect: self._seen_on(piece.code, defect),
        )  # fmt: skip

    def _seen_on(self, code: str, defect: str) -> None:
        if defect:
            self.state.defects[code] = defect
        else:
            self.state.defects.pop(code, None)

    def act(self, by: str) -> Callable[[Desk], Saved]:
        """Take them back."""
        codes = tuple(self.state.kit)
        defects = {code: (defect,) for code, defect in self.state.defects.items()}
        return lambda desk: return_kit(desk, by, codes, defects)


class HandPanel(ListPanel):
    """Handing over for keeping: to a person, a vehicle, a pool, or back to the crib."""

    def __init__(self, shell: Shell) -> None:
        super().__init__(shell, "hand")

    def form(self) -> tuple[Field[Any], ...]:
        """Into whose keeping."""
        self.to = ChoiceField(say("counter.hand.to", {}), [])
        self.pool = TextField(say("counter.hand.pool", {}))
        return self.to, self.pool

    def show_about(self, about: AboutHere) -> None:
        """People and vehicles as they are now."""
        places = [("crib", say("counter.hand.crib", {})), *about.people.items()]
        places += [(code, f"{code} {system.name}") for code, system in about.systems.items()]
        places.append(("pool", say("counter.hand.a-pool", {})))
        self.to.set_options(places)

    def take_other(self, meant: Meant) -> bool:
        """A badge or a vehicle is whose keeping it is."""
        self.to.choose(meant.person or meant.system)
        self.shell.tell(say("counter.hand.to-set", {"to": meant.written}), kind="done", is_heard=True)
        return True

    def act(self, by: str) -> Callable[[Desk], Saved] | None:
        """Hand them over."""
        self.to.is_needed, self.pool.is_needed = True, self.to.value() == "pool"
        if complaints([self.to, self.pool]):
            return None
        codes, to = tuple(self.state.kit), self.to.value() or ""
        keeper = f"{POOL}{self.pool.value()}" if to == "pool" else to
        return lambda desk: hand_over(desk, by, codes, keeper)


class TakenPanel(ListPanel):
    """What was taken without issue, entered late as that: no decision, and on hold until inspected."""

    def __init__(self, shell: Shell) -> None:
        super().__init__(shell, "taken")

    def form(self) -> tuple[Field[Any], ...]:
        """Who took it, on which day."""
        self.person = ChoiceField(say("counter.taken.who", {}), [])
        self.on = DayField(say("counter.taken.on", {}), lambda: self.shell.here.today, hint="")
        self.on.line.setPlaceholderText(say("counter.taken.today", {}))
        return self.person, self.on

    def show_about(self, about: AboutHere) -> None:
        """People as they are now."""
        self.person.set_options(about.people.items())

    def take_other(self, meant: Meant) -> bool:
        """A badge is who took it."""
        if not meant.person:
            return False
        self.person.choose(meant.person)
        self.shell.tell(say("counter.taken.who-set", {"person": meant.person}), kind="done", is_heard=True)
        return True

    def act(self, by: str) -> Callable[[Desk], Saved] | None:
        """Enter it."""
        self.person.is_needed = True
        if complaints([self.person, self.on]):
            return None
        codes, person, on = tuple(self.state.kit), self.person.value() or "", self.on.value()
        return lambda desk: enter_taken(desk, by, codes, person, on)
