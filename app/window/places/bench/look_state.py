"""What the inspection of a scanned list shows and says. No toolkit here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from app.outputs.pictures.scene import Role, ShapeKind
from app.usecases.look_at_kit import OnCounter
from app.window.places.bench.state import Review, kind_of, waiting
from app.words.saying import listed, say


@dataclass
class Looked:
    """What was seen on one piece; "" and None are nothing said."""

    defect: str = ""
    caps: str = ""
    jack: str = ""
    clearance_mm: Decimal | None = None
    remark: str = ""

    def table(self) -> dict[str, object]:
        """The keys of a worked case that are of this piece alone."""
        keys: dict[str, object] = {key: value for key in ("caps", "jack") if (value := getattr(self, key))}
        if self.clearance_mm is not None:
            keys["clearance_mm"] = self.clearance_mm
        if self.remark:
            keys["notes"] = [self.remark]
        return keys


@dataclass
class LookState:
    """The scanned list, in the order of the scans."""

    rows: dict[str, Looked] = field(default_factory=dict)
    seen: Mapping[str, OnCounter] = field(default_factory=dict)

    def add(self, codes: Iterable[str]) -> tuple[list[str], list[str]]:
        """Put pieces in the list; answers which are new there and which stood there already."""
        wanted = list(dict.fromkeys(codes))
        there = [code for code in wanted if code in self.rows]
        new = [code for code in wanted if code not in self.rows]
        self.rows.update({code: Looked() for code in new})
        return new, there

    @property
    def exceptions(self) -> dict[str, tuple[str, ...]]:
        """Code -> its defect, for those that have one."""
        return {code: (looked.defect,) for code, looked in self.rows.items() if looked.defect}

    def of_each(self) -> dict[str, dict[str, object]]:
        """What is said of single pieces."""
        return {code: table for code, looked in self.rows.items() if (table := looked.table())}

    def row(self, code: str) -> tuple[ShapeKind, Role, str]:
        """Mark and word of one piece as it would be entered."""
        looked = self.rows[code]
        if looked.defect:
            return ShapeKind.CROSS, Role.SHORT, say("bench.look.is-bad", {"defect": looked.defect})
        if looked.jack == "current":
            return ShapeKind.CROSS, Role.SHORT, say("bench.look.is-jack", {})
        return ShapeKind.TICK, Role.FIT, say("bench.look.is-clean", {})

    def review(self) -> Review:
        """What would be entered."""
        if not self.rows:
            return waiting(say("bench.look.none", {}))
        bad = [
            say("bench.look.review-bad-one", {"piece": code, "defect": looked.defect})
            for code, looked in self.rows.items() if looked.defect
        ]  # fmt: skip
        jack = [code for code, looked in self.rows.items() if looked.jack == "current" and not looked.defect]
        lines = [say("bench.look.review-bad", {"pieces": listed(bad)})] if bad else []
        lines += [say("bench.look.review-jack", {"pieces": listed(jack)})] if jack else []
        lines += self._of_caps()
        held = [
            code
            for code in self.rows
            if (looked := self.seen.get(code)) and looked.row and looked.row.status.state == "on-hold"
        ]
        lines += [say("bench.look.review-held", {"pieces": listed(held)})] if held else []
        clean = len(self.rows) - len(bad)
        title = say("bench.look.review", {"count": len(self.rows), "clean": clean})
        if bad or jack:
            return Review("stop", ShapeKind.CROSS, Role.SHORT, title, tuple(lines))
        return Review("fit", ShapeKind.TICK, Role.FIT, title, tuple(lines))

    def _of_caps(self) -> list[str]:
        with_caps = [code for code in self.rows if self.has_caps(code)]
        unsaid = [code for code in with_caps if not self.rows[code].caps]
        off = [code for code in with_caps if self.rows[code].caps == "missing"]
        lines = [say("bench.look.review-caps", {"pieces": listed(unsaid)})] if unsaid else []
        return lines + ([say("bench.look.review-no-caps", {"pieces": listed(off)})] if off else [])

    def has_caps(self, code: str) -> bool:
        """Whether tip caps exist on its kind."""
        piece = self.seen.get(code)
        kind = None if piece is None else kind_of(piece)
        return kind is not None and kind.has_caps
