"""What happened in a session, in order of time, each a row of a table: repetitions, holds, passing the limit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from weightshare.exercise import STRUCK, CeilingEvent, Exercise, Phase, Rejected, Repetition
from weightshare.pipeline.result import numbers_beside
from weightshare.practice.message import retell
from weightshare.practice.past.opening import Past
from weightshare.state import Hold
from weightshare.tongue import mark, number, say

NOT_KNOWN = "\u2013"
_WAY = mark("up"), mark("top"), mark("down")
REPETITION_HEADS = (*_WAY, *_WAY, mark("in band"), mark("heel"))
REPETITION_UNITS = (("s", 3), (mark("share, %"), 3), ("%", 1), ("mm", 1))
"""What the columns are of, and how many of them."""
HOLD_HEADS = (mark("from"), mark("to"), mark("held"))
HOLD_UNITS = (("s", 3),)


class Kind(StrEnum):
    """What a moment is."""

    REPETITION = "repetition"
    REJECTED = "not counted"
    STRUCK = "struck"
    HOLD = "hold"
    CEILING = "limit of load"


@dataclass(frozen=True, slots=True)
class Part:
    """One phase of a repetition, s."""

    phase: Phase
    from_s: float
    to_s: float


@dataclass(frozen=True, slots=True)
class Moment:
    """One thing that happened, from `from_s` to `to_s` (s). `words` stand instead of cells where it has none.

    `anchor_s` is where the lowering begins, None where that is not known; `number` counts those of its kind.
    """

    kind: Kind
    number: int
    from_s: float
    to_s: float
    cells: tuple[str, ...] = ()
    words: str = ""
    parts: tuple[Part, ...] = ()
    anchor_s: float | None = None
    marks: str = ""
    """`s`: supported; `i`: an incomplete return; `?`: whether it was supported is not known."""

    @property
    def middle_s(self) -> float:
        """Half-way through it, s."""
        return 0.5 * (self.from_s + self.to_s)


@dataclass(frozen=True, slots=True)
class Table:
    """All moments, in order of time, and what stands over their cells."""

    heads: tuple[str, ...]
    units: tuple[tuple[str, int], ...]
    moments: tuple[Moment, ...]

    def at(self, time_s: float) -> int | None:
        """Return the place of the shortest moment at `time_s`; None where nothing was then."""
        there = [(one.to_s - one.from_s, k) for k, one in enumerate(self.moments) if one.from_s <= time_s <= one.to_s]
        return min(there)[1] if there else None


def make_table(past: Past) -> Table:
    """Return what happened in `past`; what has no beginning or no end is not among it."""
    digest, end_s, struck = past.digest, past.curves.span_s[1], past.corrections.struck
    numbers = numbers_beside(struck, len(digest.repetitions))
    first_down = past.settings.exercise in (Exercise.SQUAT, Exercise.SIT_TO_STAND)
    found = [
        *(_of_repetition(k, one, first_down=first_down) for k, one in zip(numbers, digest.repetitions, strict=True)),
        *_of_all_rejected(digest.rejected, struck),
        *(_of_hold(k, one) for k, one in enumerate(digest.holds or (), 1)),
        *(_of_ceiling(k, one, end_s) for k, one in enumerate(digest.ceiling or (), 1)),
    ]
    moments = sorted((one for one in found if one is not None), key=lambda one: (one.from_s, one.to_s))
    repeated = past.settings.is_repeated or bool(digest.repetitions and not digest.holds)
    heads, units = (REPETITION_HEADS, REPETITION_UNITS) if repeated else (HOLD_HEADS, HOLD_UNITS)
    return Table(heads, units, tuple(moments))


def _of_repetition(number: int, one: Repetition, *, first_down: bool) -> Moment | None:
    if one.start_s is None or one.end_s is None:
        return None
    cells = (
        _figure(one.rise_duration_s, 1),
        _figure(one.top_duration_s, 1),
        _figure(one.lowering_duration_s, 1),
        _figure(one.share_rise_percent, 1),
        _figure(one.share_top_percent, 1),
        _figure(one.share_lowering_percent, 1),
        _figure(one.lowering_in_band_percent, 0),
        _figure(one.height_injured_mm, 0),
    )
    marks = {True: "s", False: "", None: "?"}[one.supported] + ("i" if one.incomplete_return else "")
    parts = _parts_down_first(one) if first_down else _parts(one)
    return Moment(
        Kind.REPETITION, number, one.start_s, one.end_s, cells, parts=parts, anchor_s=one.lowering_s, marks=marks
    )


def _parts(one: Repetition) -> tuple[Part, ...]:
    """Return the phases of a heel raise, as far as they are known."""
    edges = one.start_s, one.top_s, one.lowering_s, one.end_s
    phases = Phase.RISE, Phase.TOP, Phase.LOWERING
    pairs = zip(phases, edges, edges[1:], strict=False)
    return tuple(Part(phase, a, b) for phase, a, b in pairs if a is not None and b is not None and b > a)


def _parts_down_first(one: Repetition) -> tuple[Part, ...]:
    """Return the phases of a squat or a rise from a chair: the lowering comes first, the rise ends at `top_s`."""
    found = []
    if one.start_s is not None and one.lowering_s is not None and one.lowering_duration_s:
        found.append(Part(Phase.LOWERING, one.lowering_s, one.lowering_s + one.lowering_duration_s))
    if one.top_s is not None and one.rise_duration_s:
        found.append(Part(Phase.RISE, one.top_s - one.rise_duration_s, one.top_s))
    return tuple(found)


def _of_all_rejected(rejected: Sequence[Rejected], struck: Mapping[int, str]) -> Iterator[Moment]:
    """Yield what was not counted; what was struck has the number that it had as a repetition, and the reason."""
    numbers = iter(struck)
    for k, one in enumerate(rejected, 1):
        known = next(numbers, None) if one.reason == STRUCK else None
        if known is None:
            yield _of_rejected(k, one)
        else:
            words = say("struck: {reason}", reason=struck[known])
            yield Moment(Kind.STRUCK, known, one.start_s, one.end_s, words=words)


def _of_rejected(number: int, one: Rejected) -> Moment:
    return Moment(
        Kind.REJECTED, number, one.start_s, one.end_s, words=say("not counted: {reason}", reason=retell(one.reason))
    )


def _of_hold(number: int, one: Hold) -> Moment:
    cells = (_figure(one.start_s, 1), _figure(one.end_s, 1), _figure(one.held_s, 1))
    marks = {True: "s", False: "", None: "?"}[one.supported]
    return Moment(Kind.HOLD, number, one.start_s, one.end_s, cells, marks=marks)


def _of_ceiling(number: int, one: CeilingEvent, last_s: float) -> Moment:
    end_s = last_s if one.end_s is None else one.end_s
    if one.unread:
        said = say("load not read for {lasted:.1f} s", lasted=end_s - one.start_s)
    else:
        peak = "" if one.peak_N is None else say(", up to {peak:.0f} N", peak=one.peak_N)
        said = say("limit passed for {lasted:.1f} s{peak}", lasted=end_s - one.start_s, peak=peak)
    return Moment(Kind.CEILING, number, one.start_s, end_s, words=said)


def _figure(value: float | None, digits: int) -> str:
    # a rounded figure has no minus zero
    return NOT_KNOWN if value is None else number(round(value, digits) + 0.0, f".{digits}f")
