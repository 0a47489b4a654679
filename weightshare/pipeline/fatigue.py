"""What a set took out of a person: how far height, share and tempo fell from its first to its last repetitions."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from statistics import fmean

from weightshare.exercise import Basis, Repetition

AT_LEAST = 4
"""Fewer repetitions have no first and last ones to compare."""
THREE_EACH_FROM = 6


@dataclass(frozen=True, slots=True)
class Fatigue:
    """The fall from the first repetitions of a set to its last; negative is a gain. None where it cannot be told."""

    repetitions_each: int
    """So many first ones are held against so many last ones."""
    height_fall_percent: float | None
    """Of the working heel's height in the first ones."""
    share_fall_points: float | None
    """Of the working side's share in the lowering."""
    tempo_fall_percent: float | None
    """Of the pace in the first ones, repetitions over the time that they took from start to end; no metronome's."""


def height_mm(repetition: Repetition, *, injured: bool) -> float | None:
    """Return the height of the injured heel, or else of the other one, mm; None where it is not known."""
    return repetition.height_injured_mm if injured else repetition.height_uninjured_mm


def find_fatigue(repetitions: Sequence[Repetition], *, injured_works: bool = True) -> Fatigue | None:
    """Return the fatigue over a set's repetitions, in order; None with fewer than four.

    The first three are held against the last three, with four or five the first two against the last two. A figure
    that is not known for all of them is None. `injured_works`: whose height and share are followed.

    Source: customary in fatigue indices to compare the means of a few first and last repetitions (common practice, no
    source).
    """
    if len(repetitions) < AT_LEAST:
        return None
    each = 3 if len(repetitions) >= THREE_EACH_FROM else 2

    def ends(figure: Callable[[Repetition], float | None]) -> tuple[float, float] | None:
        first, last = _mean(map(figure, repetitions[:each])), _mean(map(figure, repetitions[-each:]))
        return None if first is None or last is None else (first, last)

    heights = ends(lambda repetition: height_mm(repetition, injured=injured_works))
    shares = ends(lambda repetition: repetition.share_lowering_percent)
    times = ends(_time_taken_s)
    fall = None if shares is None else shares[0] - shares[1]
    return Fatigue(
        repetitions_each=each,
        height_fall_percent=None if heights is None else _fall_percent(*heights),
        share_fall_points=fall if fall is None or injured_works else -fall,
        # pace is one over the time taken
        tempo_fall_percent=None if times is None else _fall_percent(1.0 / times[0], 1.0 / times[1]),
    )


def _mean(figures: Iterable[float | None]) -> float | None:
    known = list(figures)
    return None if None in known else fmean(figure for figure in known if figure is not None)


def _fall_percent(first: float, last: float) -> float | None:
    return 100.0 * (first - last) / first if first > 0.0 else None


def _time_taken_s(repetition: Repetition) -> float | None:
    """Return how long a repetition took, s; None where that was not measured."""
    if repetition.basis is Basis.PACED or repetition.start_s is None or repetition.end_s is None:
        return None
    taken_s = repetition.end_s - repetition.start_s
    return taken_s if taken_s > 0.0 else None
