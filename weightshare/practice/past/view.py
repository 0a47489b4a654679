"""What is looked at of a session: which stretch, which moment is chosen, which repetitions lie over each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from weightshare.exercise import Phase
from weightshare.practice.past.edit import Edit
from weightshare.practice.past.fact import Fact, facts_of
from weightshare.practice.past.lane import Lane, Piece, make_lanes, round_step
from weightshare.practice.past.moment import NOT_KNOWN, Kind, Moment, Table, make_table
from weightshare.practice.past.opening import Past
from weightshare.practice.past.pyramid import Pyramid
from weightshare.practice.past.shelf import say_what, say_when
from weightshare.tongue import number, say

SHORTEST_S = 0.5
"""No shorter stretch is shown, s."""
ROOM = 2.5
"""A moment that is gone to takes one part in so many of the stretch."""
NARROWEST, WIDEST = 1.3, 8.0
"""A stretch that is so many times as long as the moment stays as long when it is gone to."""
LEAST_S = 4.0
MOST_PIECES = 20
PIECE_COLUMNS = 120


@dataclass(frozen=True, slots=True, eq=False)
class Overlay:
    """Repetitions over each other, from where the lowering begins. `of` says which they are."""

    of: str
    lane: Lane
    from_s: float
    to_s: float
    pieces: tuple[Piece, ...]
    asked: tuple[float, float] | None = None
    """The band of the lowering, where one was asked for and the share is what is shown."""


class PastView:
    """The state of the page. Nothing here knows of pixels but as the number of columns that are asked for."""

    def __init__(self, past: Past) -> None:
        self.past = past
        self.table: Table = make_table(past)
        self.lanes: tuple[Lane, ...] = make_lanes(past, self.table)
        self.facts: tuple[Fact, ...] = facts_of(past)
        self.chosen: int | None = None
        """The place in the table of the moment that is chosen."""
        self.cursor_s: float | None = None
        """Where values are read; None: nowhere."""
        self.whole_s = past.curves.span_s
        self.span_s = self.whole_s
        """From when to when is shown."""
        self.edit: Edit | None = None
        """The phases of the chosen repetition while they are moved by hand."""

    @property
    def title(self) -> str:
        """When it was, and what was asked for."""
        return f"{say_when(self.past.head)}  \u00b7  {say_what(self.past.head)}"

    @property
    def moment(self) -> Moment | None:
        """The moment that is chosen."""
        return None if self.chosen is None else self.table.moments[self.chosen]

    def begin_edit(self) -> None:
        """Begin to move the phases of the chosen repetition, where any are known."""
        moment = self.moment
        if (
            moment is not None
            and moment.kind is Kind.REPETITION
            and any(p.phase is not Phase.TOP for p in moment.parts)
        ):
            self.edit = Edit(moment)

    def show_edit(self) -> None:
        """Show the phases of the repetition as they are being moved."""
        if self.edit is not None:
            parts, one = self.edit.parts, self.edit.moment
            # its figures are those of the phases as they were
            cells = (NOT_KNOWN,) * len(one.cells)
            self._put(replace(one, parts=parts, from_s=parts[0].from_s, to_s=parts[-1].to_s, cells=cells))

    def end_edit(self) -> None:
        """Show them as they were."""
        if self.edit is not None:
            self._put(self.edit.moment)
            self.edit = None

    def _put(self, one: Moment) -> None:
        """Put `one` in the place of the moment that is chosen."""
        assert self.chosen is not None
        moments = list(self.table.moments)
        moments[self.chosen] = one
        self.table = replace(self.table, moments=tuple(moments))

    def show(self, from_s: float, to_s: float) -> None:
        """Show that stretch, or the nearest to it that is not too short and lies within the session."""
        first_s, last_s = self.whole_s
        length_s = min(max(to_s - from_s, SHORTEST_S), last_s - first_s)
        middle_s = 0.5 * (from_s + to_s)
        begin_s = min(max(middle_s - 0.5 * length_s, first_s), last_s - length_s)
        self.span_s = begin_s, begin_s + length_s

    def show_whole(self) -> None:
        """Show all of it."""
        self.span_s = self.whole_s

    def zoom(self, factor: float, about_s: float | None = None) -> None:
        """Show `factor` times as long a stretch; what was at `about_s` (None: at the middle) stays where it is."""
        from_s, to_s = self.span_s
        about_s = 0.5 * (from_s + to_s) if about_s is None else about_s
        first_s, last_s = self.whole_s
        factor = min(max(factor, SHORTEST_S / (to_s - from_s)), (last_s - first_s) / (to_s - from_s))
        self.show(about_s - factor * (about_s - from_s), about_s + factor * (to_s - about_s))

    def move(self, parts: float) -> None:
        """Move on by so many parts of what is shown; backwards where negative."""
        from_s, to_s = self.span_s
        by_s = parts * (to_s - from_s)
        self.show(from_s + by_s, to_s + by_s)

    def choose(self, place: int | None) -> None:
        """Choose the moment at `place` of the table, and go there; None: choose none."""
        self.chosen = None if place is None or not self.table.moments else place
        moment = self.moment
        if moment is None:
            return
        length_s, shown_s = moment.to_s - moment.from_s, self.span_s[1] - self.span_s[0]
        if not NARROWEST * length_s <= shown_s <= WIDEST * max(length_s, LEAST_S / ROOM):
            shown_s = max(ROOM * length_s, LEAST_S)
        self.show(moment.middle_s - 0.5 * shown_s, moment.middle_s + 0.5 * shown_s)

    def step(self, by: int) -> None:
        """Choose the moment so many further on, and go there; the first (or the last) one where none is chosen."""
        count = len(self.table.moments)
        if not count:
            return
        before = (-1 if by > 0 else count) if self.chosen is None else self.chosen
        self.choose(min(max(before + by, 0), count - 1))

    def move_cursor(self, parts: float) -> None:
        """Move the cursor by so many parts of what is shown, in sight; without one it begins in the middle."""
        from_s, to_s = self.span_s
        at_s = 0.5 * (from_s + to_s) if self.cursor_s is None else self.cursor_s + parts * (to_s - from_s)
        self.cursor_s = min(max(at_s, self.whole_s[0]), self.whole_s[1])
        if not from_s <= self.cursor_s <= to_s:
            self.show(self.cursor_s - 0.5 * (to_s - from_s), self.cursor_s + 0.5 * (to_s - from_s))

    def reading(self) -> str:
        """Return in words what is being moved, or what is read at the cursor; empty without one."""
        if self.edit is not None:
            return self.edit.words
        if self.cursor_s is None:
            return ""
        said = [say("at {cursor:.2f} s", cursor=self.cursor_s)]
        for lane in self.lanes:
            name, unit = say(lane.short), lane.unit
            values = [(curve.name, curve.pyramid.value_at(self.cursor_s)) for curve in lane.curves]
            told = ", ".join(f"{side} {_told(value, lane.digits)} {unit}" for side, value in values)
            said.append(f"{name} {told}")
        return "  \u00b7  ".join(said)

    def overlay(self) -> tuple[Overlay, ...]:
        """Return share, and heel heights where they were measured, of the repetitions about the one that is chosen."""
        chosen = self._piled()
        if not chosen:
            return ()
        of = self._say_which(chosen)
        # forces are told by the share
        return tuple(self._lay_over(of, lane, chosen) for lane in (self.lanes[0], *self.lanes[2:]))

    def _lay_over(self, of: str, lane: Lane, moments: list[Moment]) -> Overlay:
        # the injured side's curve lies on top of its lane
        pyramid = lane.curves[-1].pyramid
        pieces = [self._piece(one, pyramid) for one in moments]
        from_s = min(float(piece.time_s[0]) for piece in pieces)
        to_s = max(float(piece.time_s[-1]) for piece in pieces)
        # the chosen one on top of the others
        ordered = sorted(pieces, key=lambda piece: piece.is_chosen)
        asked = self._asked(moments[0]) if lane is self.lanes[0] else None
        return Overlay(of, _tighten(lane, pieces, asked), from_s, to_s, tuple(ordered), asked)

    def _asked(self, one: Moment) -> tuple[float, float] | None:
        """Return the band at the beginning of that repetition's lowering."""
        anchor_s = one.anchor_s
        assert anchor_s is not None
        found = [band for band in self.lanes[0].bands if band.from_s <= anchor_s < band.to_s]
        return (found[0].low[0], found[0].high[0]) if found else None

    def _piece(self, one: Moment, pyramid: Pyramid) -> Piece:
        assert one.anchor_s is not None
        found = pyramid.envelope(one.from_s, one.to_s, PIECE_COLUMNS)
        return Piece(one.number, found.time_s - one.anchor_s, found.low, found.high, one is self.moment)

    def _piled(self) -> list[Moment]:
        """Return the repetitions of the chosen one's set (of all, where none is chosen), MOST_PIECES at most."""
        usable = [one for one in self.table.moments if one.kind is Kind.REPETITION and one.anchor_s is not None]
        moment = self.moment
        if moment is not None and moment in usable:
            usable = [one for one in usable if self._set_of(one) == self._set_of(moment)]
            at = usable.index(moment)
            first = max(0, min(at - MOST_PIECES // 2, len(usable) - MOST_PIECES))
            return usable[first : first + MOST_PIECES]
        return usable[:MOST_PIECES]

    def _set_of(self, one: Moment) -> int:
        """Return the number of the set that a moment began in; 0 before the first."""
        return max((span.number for span in self.past.head.sets if span.from_s <= one.from_s), default=0)

    def _say_which(self, moments: list[Moment]) -> str:
        first, last = moments[0].number, moments[-1].number
        which = (
            say("repetition {first}", first=first)
            if first == last
            else say("repetitions {first} to {last}", first=first, last=last)
        )
        numbers = {self._set_of(one) for one in moments}
        if len(self.past.head.sets) > 1 and len(numbers) == 1:
            return say("set {number}, {which}", number=numbers.pop(), which=which)
        return which


def _tighten(lane: Lane, pieces: Sequence[Piece], asked: tuple[float, float] | None) -> Lane:
    """Return `lane` with an axis that just holds the pieces and the band."""
    values = np.concatenate([*(piece.low for piece in pieces), *(piece.high for piece in pieces), asked or ()])
    known = values[np.isfinite(values)]
    if not known.size:
        return lane
    low, high = float(known.min()), float(known.max())
    step = round_step(max(high - low, lane.step / 10.0))
    low = math.floor(low / step) * step
    return replace(lane, low=low, high=max(low + step, math.ceil(high / step - 1e-9) * step), step=step)


def _told(value: float, digits: int) -> str:
    return NOT_KNOWN if math.isnan(value) else number(round(value, digits) + 0.0, f".{digits}f")
