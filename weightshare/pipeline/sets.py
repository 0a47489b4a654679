"""Sets: which repetitions belong to which, and what came of each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import fsum, inf
from statistics import fmean

from weightshare.exercise import Repetition, SetSpan
from weightshare.model import Side
from weightshare.pipeline.fatigue import Fatigue, find_fatigue, height_mm
from weightshare.task import Settings


@dataclass(frozen=True, slots=True)
class SetResult:
    """What came of one set. Times in s; a mean is over those repetitions of which the figure is known, None where it
    is known of none; a sum is None where one of its terms is not known."""

    number: int
    from_s: float
    to_s: float | None
    """None while it is under way."""
    working: Side
    """The side whose height and fatigue are followed."""
    blind: bool
    repetitions: tuple[int, ...]
    """Places in the list of all repetitions, from 0 on."""
    share_lowering_percent: float | None
    """Mean of the injured side's impulse share in the lowering."""
    lowering_in_band_percent: float | None
    lowering_duration_s: float | None
    height_mm: float | None
    """Mean of the working heel's height."""
    load_travel_injured_J: float | None
    """Sum of load x heel travel."""
    load_travel_uninjured_J: float | None
    fatigue: Fatigue | None
    """None with fewer than four repetitions."""


def group(repetitions: Sequence[Repetition], spans: Sequence[SetSpan]) -> tuple[tuple[int, ...], ...]:
    """Return for each set the places of the repetitions that belong to it: those that start in it.

    A set is from its `from_s` up to its `to_s`, which is no longer in it. A repetition whose start is not known goes by
    its first instant that is.
    """
    starts_s = [_first_known_s(repetition) for repetition in repetitions]
    return tuple(tuple(place for place, start_s in enumerate(starts_s) if is_in(span, start_s)) for span in spans)


def sum_up(repetitions: Sequence[Repetition], spans: Sequence[SetSpan], settings: Settings) -> tuple[SetResult, ...]:
    """Return what came of each set, in the order of `spans`."""
    groups = group(repetitions, spans)
    return tuple(_sum_up(repetitions, span, places, settings) for span, places in zip(spans, groups, strict=True))


def _sum_up(repetitions: Sequence[Repetition], span: SetSpan, places: tuple[int, ...], settings: Settings) -> SetResult:
    mine = [repetitions[place] for place in places]
    working = span.working if settings.is_single and span.working is not None else settings.working_side
    on_injured = working is settings.injured
    return SetResult(
        number=span.number,
        from_s=span.from_s,
        to_s=span.to_s,
        working=working,
        blind=span.blind,
        repetitions=places,
        share_lowering_percent=_mean(one.share_lowering_percent for one in mine),
        lowering_in_band_percent=_mean(one.lowering_in_band_percent for one in mine),
        lowering_duration_s=_mean(one.lowering_duration_s for one in mine),
        height_mm=_mean(height_mm(one, injured=on_injured) for one in mine),
        load_travel_injured_J=add_up(one.load_travel_injured_J for one in mine),
        load_travel_uninjured_J=add_up(one.load_travel_uninjured_J for one in mine),
        fatigue=find_fatigue(mine, injured_works=on_injured),
    )


def add_up(figures: Iterable[float | None]) -> float | None:
    """Return the sum; None where a term is not known, or where there is none."""
    known = list(figures)
    return fsum(figure for figure in known if figure is not None) if known and None not in known else None


def _mean(figures: Iterable[float | None]) -> float | None:
    known = [figure for figure in figures if figure is not None]
    return fmean(known) if known else None


def _first_known_s(repetition: Repetition) -> float | None:
    instants = (repetition.start_s, repetition.top_s, repetition.lowering_s, repetition.end_s)
    return next((instant for instant in instants if instant is not None), None)


def is_in(span: SetSpan, time_s: float | None) -> bool:
    """Return whether what starts at `time_s` belongs to the set; no time belongs to none."""
    return time_s is not None and span.from_s <= time_s < (inf if span.to_s is None else span.to_s)
