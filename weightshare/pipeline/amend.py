"""What was counted, as it stands once repetitions were struck by hand, or phases of them moved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from weightshare.exercise import STRUCK, Exercise, Phase, Rejected, Repetition
from weightshare.model import Floats, Side
from weightshare.pipeline.anew import Anew, move_phase
from weightshare.pipeline.figure import Rows, to_rows
from weightshare.pipeline.motion import Ground, Motion
from weightshare.pipeline.tally import Tally
from weightshare.pipeline.tape import Tape
from weightshare.task import Settings

ALIKE_S = 0.25
"""A repetition is found again whose middle is no further from where it was, s."""
AROUND_S = 1.0
"""So much about a repetition is kept, s."""
NO_THIRDS = "thirds of a lowering moved by hand are not known: the forces tell them between the ends that they found"


@dataclass(frozen=True, slots=True)
class Move:
    """A phase was moved: from when to when it lasts, s."""

    phase: Phase
    from_s: float
    to_s: float


@dataclass(frozen=True, slots=True)
class Change:
    """What became by hand of the repetition `number` (from 1 on) that was found from `from_s` to `to_s`."""

    number: int
    from_s: float
    to_s: float
    struck: bool = False
    moves: tuple[Move, ...] = ()

    @property
    def span_s(self) -> tuple[float, float]:
        """All of the time that it is about, s."""
        begins = [self.from_s, *(move.from_s for move in self.moves)]
        return min(begins), max([self.to_s, *(move.to_s for move in self.moves)])


def span_of(one: Repetition) -> tuple[float, float]:
    """Return the first and the last instant that are known of a repetition, s; one of them is."""
    known = [at for at in (one.start_s, one.top_s, one.lowering_s, one.end_s) if at is not None]
    return min(known), max(known)


class Footage:
    """Keeps the samples about the repetitions whose phases were moved; whoever measures hands all of them over."""

    def __init__(self, changes: Sequence[Change]) -> None:
        self._changes = tuple(changes)
        moved = [change.span_s for change in changes if change.moves]
        self._spans = [(from_s - AROUND_S, to_s + AROUND_S) for from_s, to_s in moved]
        self._kept: list[tuple[Floats, Floats]] = []
        self._ground: Ground | None = None
        self.lost: tuple[int, ...] = ()
        """Numbers of repetitions that were changed, and that were not found again."""

    def see(self, motion: Motion, ground: Ground) -> None:
        """Take in samples, in order."""
        self._ground = ground
        for from_s, to_s in self._spans:
            start = int(motion.time_s.searchsorted(from_s))
            stop = int(motion.time_s.searchsorted(to_s, side="right"))
            if start < stop:
                part = motion.cut(start, stop)
                self._kept.append((part.time_s, to_rows(part, ground.settings.injured)))

    def amend(self, tally: Tally) -> Tally:
        """Return what was counted, with the changes; what was struck stands among what was not counted.

        Changes whose repetition is not found again are noted in `lost`.
        """
        found = [(change, _find(tally.repetitions, change)) for change in self._changes]
        self.lost = tuple(change.number for change, place in found if place is None)
        changed = {place: change for change, place in found if place is not None}
        struck = [tally.repetitions[place] for place, change in changed.items() if change.struck]
        kept = [
            (one, self._move(one, changed[place].moves, tally) if place in changed else one)
            for place, one in enumerate(tally.repetitions)
            if place not in changed or not changed[place].struck
        ]
        rejected = (*tally.rejected, *(Rejected(*span_of(one), STRUCK) for one in struck))
        return replace(
            tally,
            repetitions=tuple(after for _, after in kept),
            rejected=tuple(sorted(rejected, key=lambda one: one.start_s)),
            warnings=(*tally.warnings, *_say_lost_thirds(kept)),
        )

    def _move(self, one: Repetition, moves: Sequence[Move], tally: Tally) -> Repetition:
        if not moves or self._ground is None:
            return one
        settings = self._ground.settings
        down_first, moved = settings.exercise is Exercise.SQUAT, one
        for move in moves:
            moved = move_phase(moved, move.phase, (move.from_s, move.to_s), down_first=down_first)
        row = _row_of(settings, tally, span_of(one)[0])
        anew = Anew(self._tape_about(moved), self._ground, row, down_first)
        return anew.make(one, moved, frozenset(move.phase for move in moves))

    def _tape_about(self, one: Repetition) -> Tape:
        """Return the samples about a repetition, each once: those of two that are near are kept twice."""
        assert self._ground is not None
        tape, (from_s, to_s) = Tape(len(Rows)), span_of(one)
        for time_s, rows in sorted(self._kept, key=lambda part: float(part[0][0])):
            newest_s = float(tape.time_s[-1]) if tape.time_s.size else from_s - AROUND_S
            mine = (time_s > newest_s) & (time_s <= to_s + AROUND_S)
            tape.push(time_s[mine], rows[:, mine])
        return tape


def _find(repetitions: Sequence[Repetition], change: Change) -> int | None:
    """Return the place of the repetition that a change is about; None where none is like it."""
    middle_s = 0.5 * (change.from_s + change.to_s)
    apart = [(abs(0.5 * sum(span_of(one)) - middle_s), place) for place, one in enumerate(repetitions)]
    return min(apart)[1] if apart and min(apart)[0] <= ALIKE_S else None


def _say_lost_thirds(pairs: Sequence[tuple[Repetition, Repetition]]) -> tuple[str, ...]:
    """Say why one that had thirds of its lowering has none any more."""
    name = "share_lowering_thirds_percent"
    lost = any(getattr(before, name) is not None and getattr(after, name) is None for before, after in pairs)
    return (NO_THIRDS,) if lost else ()


def _row_of(settings: Settings, tally: Tally, time_s: float) -> int:
    """Return the row of the heel that works at a time."""
    legs = [span.working for span in tally.spans if span.from_s <= time_s and span.working is not None]
    working: Side = legs[-1] if settings.is_single and legs else settings.working_side
    return Rows.INJURED_MM if working is settings.injured else Rows.UNINJURED_MM


def check_room(one: Repetition, others: Sequence[Repetition], span_s: tuple[float, float]) -> Iterator[str]:
    """Yield what speaks against the instants of a moved repetition: another one, or no samples; `span_s`: of those."""
    from_s, to_s = span_of(one)
    if from_s < span_s[0] or to_s > span_s[1]:
        yield f"the session goes from {span_s[0]:.3f} to {span_s[1]:.3f} s"
    for begin_s, end_s in map(span_of, others):
        if from_s < end_s and begin_s < to_s:
            yield f"another repetition goes from {begin_s:.3f} to {end_s:.3f} s"
