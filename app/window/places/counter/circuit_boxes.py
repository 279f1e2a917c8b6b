"""Which circuits of a system will be touched: all of them, until somebody says otherwise."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QWidget

from app.decision.domain.voltage import Circuit
from app.window.build import REST, column, label
from app.words.saying import say
from app.words.vocabulary import SUPPLIES


class CircuitBoxes(QWidget):
    """A box for each circuit, all of them ticked to begin with."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._inner = QWidget()
        column(label(say("counter.circuits", {}), wraps=False), self._inner, REST, on=self, spacing=2)
        self.boxes: dict[str, QCheckBox] = {}
        self.show_circuits(())

    def show_circuits(self, circuits: Iterable[Circuit]) -> None:
        """Boxes for these, in the place of those there."""
        old = self._inner.layout()
        if old is not None:
            # A layout is let go only with a widget that owns it.
            QWidget().setLayout(old)
        for child in self._inner.findChildren(QWidget):
            child.deleteLater()
        grid = QGridLayout(self._inner)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(0)
        self.boxes = {}
        for place, circuit in enumerate(circuits):
            box = QCheckBox(circuit.key)
            box.setToolTip(SUPPLIES[circuit.supply])
            box.setAccessibleName(say("counter.circuit-named", {"circuit": circuit.key, "supply": circuit.supply}))
            box.setChecked(True)
            box.toggled.connect(lambda _=False: self.changed.emit())
            grid.addWidget(box, place // 2, place % 2)
            self.boxes[circuit.key] = box
        if not self.boxes:
            grid.addWidget(label(say("counter.choose-system-first", {}), "quiet"), 0, 0)

    def chosen(self) -> tuple[str, ...] | None:
        """Keys of those ticked; None for all of them."""
        keys = tuple(key for key, box in self.boxes.items() if box.isChecked())
        return None if len(keys) == len(self.boxes) else keys
