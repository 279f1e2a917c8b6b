"""What to change to turn a refusal: the least change of kit or checks that makes it an issue, each judged by the rules.

A search by rising cost: each check, confirmation, swap, addition or removal counts one, and so does every role nobody
fills yet, which is why a kit of one piece, or of none, is filled role by role. Checks that are merely not done yet are
needed whatever else changes, so they are taken first; after that every change of the cheapest kit so far is tried on
the first thing that still stops it. Nothing is proposed that `judge` does not let through. Where no piece and no check
helps, the entry that would is named: a test, a release, a calibration, a figure confirmed.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator
from datetime import date, time
from itertools import count

from msgspec.structs import replace

from app.decision.domain.calendar import Day
from app.decision.domain.facts import Facts
from app.decision.domain.finding import Cause, Finding, Outcome, Remedy, Renewal
from app.decision.domain.piece import Piece
from app.decision.domain.record import AirTest, AnyRecord, ElectricalTest, Inspection, SelfTest
from app.decision.domain.verdict import Verdict
from app.decision.judging.catalogues import catalogues
from app.decision.judging.change import MOST_CHANGES, Change
from app.decision.judging.judge import judge, piece_findings

MOST_JUDGEMENTS = 150
CANDIDATES = 4
_LAST_MINUTE = time(23, 59)
# What somebody at the counter puts right in a minute is never what a refusal hangs on.
_AT_THE_COUNTER = frozenset({Remedy.AIR_TEST, Remedy.INSPECTION, Remedy.SELF_TEST, Remedy.CERTIFICATE})
# Where neither another piece nor a check of the day helps, an entry does.
_ENTRIES = {
    Remedy.RETEST: "change.retest", Remedy.CALIBRATION: "change.calibrate", Remedy.RELEASE: "change.release",
    Remedy.TAKE_BACK: "change.take-back", Remedy.FIGURE: "change.confirm-figure", Remedy.STATE: "change.state",
    Remedy.INSPECTION: "change.inspection-entry", Remedy.AIR_TEST: "change.air-test-entry",
    Remedy.SELF_TEST: "change.self-test-entry", Remedy.CERTIFICATE: "change.certificate-entry",
}  # fmt: skip


# Cost and what is still lacking, changes made (more first), running number (so that kits are never compared), pieces,
# changes.
_Kit = tuple[int, int, int, tuple[Piece, ...], tuple[Change, ...]]


def what_to_change(facts: Facts, verdict: Verdict, shelf: Iterable[Piece]) -> tuple[Change, ...]:
    """The least change found, () for a kit that may be issued.

    Changes of sort "enter" name the entry that would help, of sort "none" say why nothing does.
    """
    if verdict.may_be_issued:
        return ()
    outside = [stop for stop in verdict.stops if stop.remedy is Remedy.JOB]
    if outside:
        return tuple(Change("none", stop.subject, "change.outside", about=stop) for stop in outside)
    there = tuple(shelf)
    search = _Search(facts, there)
    return search.run(verdict) or _anew(facts, verdict, there) or search.nothing(verdict)


def _anew(facts: Facts, verdict: Verdict, shelf: tuple[Piece, ...]) -> tuple[Change, ...]:
    """The kit built anew around what passes by itself, else from nothing; () where neither leads anywhere.

    Filling the roles around a piece that has to go leads astray, and the search ends before it comes back.
    """
    fit = tuple(piece for piece in facts.pieces if _is_fit(facts, piece))
    for kept in dict.fromkeys((fit, ())):
        if len(kept) == len(facts.pieces):
            continue
        here = facts.with_pieces(kept)
        changes = _Search(here, shelf).run(judge(here))
        if changes:
            again = {change.other for change in changes if change.change == "add"}
            gone = [piece for piece in facts.pieces if piece not in kept and piece.code not in again]
            there = {piece.code for piece in facts.pieces}
            left = [change for change in changes if change.change != "add" or change.other not in there]
            return _as_swaps(facts, gone, verdict, left)
    return ()


def _is_fit(facts: Facts, piece: Piece) -> bool:
    findings = [finding for finding in piece_findings(facts, piece, catalogues()) if _stops(finding, facts)]
    return _passes(facts, _with_checks(facts, piece, findings)[0])


def _as_swaps(facts: Facts, gone: list[Piece], verdict: Verdict, left: list[Change]) -> tuple[Change, ...]:
    """What goes and what comes in its role, said as one; what nothing takes the place of is removed."""
    swapped = []
    for piece in gone:
        role = facts.kind(piece).role
        about = next((stop for stop in verdict.stops if stop.subject == piece.code), None)
        added = next(
            (change for change in left if change.change == "add" and role and facts.kinds[change.kind].role == role),
            None,
        )
        if added is None or about is None:
            # A swap says why; what only makes room for the rest is taken away and the other added.
            swapped.append(Change("remove", piece.code, "change.remove", piece.kind))
        else:
            left[left.index(added)] = Change("swap", piece.code, "change.swap", added.kind, added.other, about)
    return (*swapped, *left)


class _Search:
    """One search; keeps count of its judgements so that a hopeless kit does not hold up the counter."""

    def __init__(self, facts: Facts, shelf: tuple[Piece, ...]) -> None:
        self.facts = facts
        self.shelf = shelf
        self.number = count()
        self.stuck: Finding | None = None

    def run(self, verdict: Verdict) -> tuple[Change, ...]:
        """The least change found, () where none is."""
        queue: list[_Kit] = [(0, 0, next(self.number), self.facts.pieces, ())]
        seen: set[tuple[tuple[str, int], ...]] = set()
        judged = 0
        while queue and judged < MOST_JUDGEMENTS:
            _, _, _, now, so_far = heapq.heappop(queue)
            here = self.facts.with_pieces(now)
            decided = verdict if judged == 0 else judge(here)
            judged += 1
            if decided.may_be_issued:
                return _without_idle(so_far)
            lacking = _lacking(decided)
            for pieces, changes in self._next(here, decided):
                key = tuple(sorted((piece.code, len(piece.records)) for piece in pieces))
                if key not in seen and len(so_far) + len(changes) <= MOST_CHANGES:
                    seen.add(key)
                    more = so_far + changes
                    fewer = any(change.change == "add" for change in changes)
                    heapq.heappush(
                        queue, (len(more) + lacking - fewer, -len(more), next(self.number), pieces, more)
                    )  # fmt: skip
        return ()

    def nothing(self, verdict: Verdict) -> tuple[Change, ...]:
        """What is said where the search has found nothing: the entry that would help, or that nothing here does."""
        hopeless = [
            stop for stop in verdict.stops if stop.remedy not in _AT_THE_COUNTER and not self._can_go(stop, verdict)
        ]
        hopeless = hopeless or ([self.stuck] if self.stuck else [])
        if not hopeless:
            return (Change("none", "kit", "change.not-found"),)
        entries = {(stop.rule, stop.subject): _entry_for(stop) for stop in hopeless}
        return tuple(entries.values())

    def _can_go(self, stop: Finding, verdict: Verdict) -> bool:
        """Whether any one change from this shelf leaves the kit with fewer stops of this rule, or less of it."""
        before = sum(other.rule == stop.rule for other in verdict.stops)
        for pieces, _ in self._options(self.facts, stop):
            left = [other for other in judge(self.facts.with_pieces(pieces)).stops if other.rule == stop.rule]
            if len(left) < before or _lacks(left[0]) < _lacks(stop):
                return True
        return False

    def _next(self, here: Facts, verdict: Verdict) -> Iterator[tuple[tuple[Piece, ...], tuple[Change, ...]]]:
        checked = self._check_all(here, verdict)
        if checked is not None:
            yield checked
            # What only lacks a check may be one too many all the same.
            yield from self._one_too_many(here, verdict)
            return
        stop = _most_pressing(here, verdict.stops)
        options = list(self._options(here, stop))
        if not options and self.stuck is None:
            self.stuck = stop
        yield from options
        yield from self._one_too_many(here, verdict)

    def _one_too_many(self, here: Facts, verdict: Verdict) -> Iterator[tuple[tuple[Piece, ...], tuple[Change, ...]]]:
        """Leave out any of the pieces that share what there is too little of, whichever of them is spoken of."""
        short = {stop.subject for stop in verdict.stops if stop.rule in _SHARED}
        roles = {here.kind(piece).role for piece in here.pieces if piece.code in short}
        for piece in here.pieces:
            if here.kind(piece).role in roles:
                yield from self._remove(here, piece)

    def _check_all(self, here: Facts, verdict: Verdict) -> tuple[tuple[Piece, ...], tuple[Change, ...]] | None:
        """All pieces that only lack a check or a look at the certificate, put right in one step."""
        pieces = list(here.pieces)
        changes: list[Change] = []
        for index, piece in enumerate(here.pieces):
            stops = [stop for stop in verdict.stops if stop.subject == piece.code]
            better, checks = _with_checks(here, piece, stops)
            if checks and _passes(here, better):
                pieces[index] = better
                changes += checks
        return (tuple(pieces), tuple(changes)) if changes else None

    def _options(self, here: Facts, stop: Finding) -> Iterator[tuple[tuple[Piece, ...], tuple[Change, ...]]]:
        if stop.rule in (
            "task-roles-filled",
            "protectors-worn",
            "cuff-clearance",
            "second-person-present",
            "chain-complete",
            "arc-rating",
        ):
            yield from self._add(here, stop)
        involved = [piece for piece in here.pieces if piece.code in stop.subject.split("+")]
        if stop.rule == "no-piece-twice":
            involved = [piece for piece in here.pieces if piece.code == stop.values.get("piece")][-1:]
        for piece in involved:
            yield from self._remove(here, piece)
            yield from self._swap(here, piece, stop)

    def _remove(self, here: Facts, piece: Piece) -> Iterator[tuple[tuple[Piece, ...], tuple[Change, ...]]]:
        rest = list(here.pieces)
        rest.remove(piece)
        role = here.kind(piece).role
        asked = () if here.job.task is None else here.job.task.roles
        if rest and (role not in asked or any(here.kind(part).role == role for part in rest)):
            yield tuple(rest), (Change("remove", piece.code, "change.remove", piece.kind),)

    def _swap(self, here: Facts, piece: Piece, stop: Finding) -> Iterator[tuple[tuple[Piece, ...], tuple[Change, ...]]]:
        role, kind = here.kind(piece).role, piece.kind
        taken = {piece.code for piece in here.pieces}

        def suits(other: Piece) -> bool:
            return other.kind == kind or (role is not None and here.kinds[other.kind].role == role)

        others = [other for other in self.shelf if other.code not in taken and suits(other)]
        index = here.pieces.index(piece)
        for other, changes in self._fit(here, others, index):
            pieces = (*here.pieces[:index], other, *here.pieces[index + 1 :])
            swap = Change("swap", piece.code, "change.swap", other.kind, other.code, stop)
            loose = self._left_over(here, piece, other)
            kept = tuple(piece for piece in pieces if piece not in loose)
            left_out = tuple(Change("remove", part.code, "change.remove", part.kind) for part in loose)
            yield kept, (swap, *left_out, *changes)

    def _left_over(self, here: Facts, piece: Piece, other: Piece) -> tuple[Piece, ...]:
        """Loose leads and tips that nothing takes any more once an instrument with its own leads comes in."""
        if not here.kind(piece).is_instrument or other.fixed_leads is not True:
            return ()
        return next((chain[1:] for chain in here.chains().chains if chain[0] is piece), ())

    def _add(self, here: Facts, stop: Finding) -> Iterator[tuple[tuple[Piece, ...], tuple[Change, ...]]]:
        wanted = _roles_wanted(here, stop)
        taken = {piece.code for piece in here.pieces}
        if stop.rule == "chain-complete":
            others = [other for other in self.shelf if other.kind == "test-leads" and other.code not in taken]
        else:
            role = next(iter(wanted), "")
            others = [other for other in self.shelf if here.kinds[other.kind].role == role and other.code not in taken]
        for other, changes in self._fit(here, others, None):
            yield (*here.pieces, other), (Change("add", other.code, "change.add", other.kind, other.code), *changes)

    def _fit(self, here: Facts, others: list[Piece], index: int | None) -> list[tuple[Piece, tuple[Change, ...]]]:
        """Candidates that pass every requirement on themselves here, with the checks they lack.

        Few changes first, then what fits without a caution, then what falls due next.
        """
        rest = here.pieces if index is None else (*here.pieces[:index], *here.pieces[index + 1 :])
        fitting: list[tuple[tuple[int, int, date, str], Piece, tuple[Change, ...]]] = []
        for other in others:
            there = here.with_pieces((*rest, other))
            findings = list(piece_findings(there, other, catalogues()))
            stops = [finding for finding in findings if _stops(finding, there) and finding.rule not in _OF_THE_KIT]
            better, changes = _with_checks(there, other, stops)
            if stops and not changes:
                continue
            if _passes(there.with_pieces((*rest, better)), better):
                cautions = sum(
                    finding.outcome is Outcome.CAUTION and not _is_of_a_date(finding) for finding in findings
                )
                until = min((finding.good_until for finding in findings if finding.good_until), default=date.max)
                fitting.append(((len(changes), cautions, until, other.code), better, changes))
        fitting.sort(key=lambda candidate: candidate[0])
        return [(better, changes) for _, better, changes in fitting[:CANDIDATES]]


def _is_of_a_date(finding: Finding) -> bool:
    """Whether it speaks of a day drawing near, which is a reason to take the piece and not to leave it."""
    return catalogues().rules[finding.rule].renewal is Renewal.BY_DATE


def _entry_for(stop: Finding) -> Change:
    key = _ENTRIES.get(stop.remedy)
    if key is None:
        return Change("none", stop.subject, "change.nothing-on-shelf", about=stop)
    return Change("enter", stop.subject, key, about=stop)


def _lacking(verdict: Verdict) -> int:
    """How many roles nobody fills: each of them takes a change at least."""
    return sum(_lacks(stop) for stop in verdict.stops if stop.cause is Cause.MISSING and "roles" in stop.values)


def _lacks(stop: Finding) -> int:
    """How many roles a kit lacks by this finding, 1 where it does not count them."""
    roles = stop.values.get("roles", ())
    return len(roles) if isinstance(roles, tuple) and roles else 1


def _without_idle(changes: tuple[Change, ...]) -> tuple[Change, ...]:
    """The changes without checks of pieces that go in the end."""
    gone = {change.subject for change in changes if change.change in ("remove", "swap")}
    return tuple(
        change for change in changes if change.change not in ("check", "confirm") or change.subject not in gone
    )


def _most_pressing(here: Facts, stops: tuple[Finding, ...]) -> Finding:
    """What can be put right in the fewest ways first: a piece that must go anyway before a chain it stands in."""
    order = ("no-piece-twice", "task-roles-filled", "second-person-present")
    codes = {piece.code for piece in here.pieces}

    def rank(finding: Finding) -> int:
        if finding.rule in order:
            return order.index(finding.rule)
        is_of_one_piece = (
            finding.subject in codes and finding.rule not in _OF_THE_KIT and finding.rule not in _OF_A_CHAIN
        )
        return len(order) if is_of_one_piece else len(order) + 1

    return min(stops, key=rank)


def _roles_wanted(here: Facts, stop: Finding) -> tuple[str, ...]:
    if stop.rule in ("protectors-worn", "cuff-clearance"):
        # A clearance nobody can work out may only lack the protectors it is measured against.
        return ("protectors",) if len(here.of_role("protectors")) < len(here.of_role("gloves")) else ()
    if stop.rule == "arc-rating":
        return ("face-shield",)
    if stop.rule == "second-person-present":
        return ("gloves",) if len(here.of_role("gloves")) < 2 else ("protectors",)
    roles = stop.values.get("roles", ())
    return tuple(str(role) for role in roles) if isinstance(roles, tuple) else ()


def _stops(finding: Finding, facts: Facts) -> bool:
    if finding.outcome.value in ("not-met", "cannot-tell"):
        return True
    return finding.good_until is not None and finding.good_until < facts.until


_CHECKS = frozenset({Remedy.AIR_TEST, Remedy.INSPECTION, Remedy.SELF_TEST})
# What several pieces of a role share, so that any of them may be one too many.
_SHARED = frozenset({"protectors-worn", "protector-fits-class"})
# What depends on the rest of the kit is left to the whole judgement: swapping the other piece may be what helps.
_OF_A_CHAIN = frozenset({"chain-stands-voltage", "input-stands-voltage", "chain-complete"})
_OF_THE_KIT = frozenset({"protectors-worn", "protector-fits-class", "cuff-clearance", "proving-unit-fits"})


def _passes(facts: Facts, piece: Piece) -> bool:
    findings = piece_findings(facts, piece, catalogues())
    return not any(_stops(finding, facts) and finding.rule not in _OF_THE_KIT for finding in findings)


def _with_checks(facts: Facts, piece: Piece, stops: list[Finding]) -> tuple[Piece, tuple[Change, ...]]:
    """The piece as it would be with the checks done and the certificate seen that `stops` say are lacking."""
    wanted = {stop.remedy for stop in stops}
    changes: list[Change] = []
    records: list[AnyRecord] = list(piece.records)
    kind = facts.kind(piece)
    now = {"on": Day.of(facts.on), "at": _LAST_MINUTE}
    if Remedy.CERTIFICATE in wanted:
        records = [
            replace(record, confirmed_seen=True) if isinstance(record, ElectricalTest) else record for record in records
        ]
        changes.append(Change("confirm", piece.code, "change.certificate", piece.kind))
    if kind.wants_air_test and not wanted.isdisjoint(_CHECKS):
        records.append(AirTest(left="passed", right="passed", inflation_c=100, **now))  # type: ignore[arg-type]
        changes.append(Change("check", piece.code, "change.air-test", piece.kind))
    elif Remedy.INSPECTION in wanted or _lacks_caps(facts, piece):
        caps = "present" if kind.has_caps else None
        records.append(Inspection(caps=caps, **now))  # type: ignore[arg-type]
        key = "change.inspection-caps" if caps else "change.inspection"
        changes.append(Change("check", piece.code, key, piece.kind))
    if Remedy.SELF_TEST in wanted:
        records.append(SelfTest(result="passed", **now))  # type: ignore[arg-type]
        changes.append(Change("check", piece.code, "change.self-test", piece.kind))
    return (replace(piece, records=tuple(records)), tuple(changes)) if changes else (piece, ())


def _lacks_caps(facts: Facts, piece: Piece) -> bool:
    """Loose leads whose caps nobody has looked at today."""
    looks = facts.history(piece).of_today(Inspection)
    return piece.kind == "test-leads" and piece.caps != "missing" and all(look.caps is None for look in looks)
