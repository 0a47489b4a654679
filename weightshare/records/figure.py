"""What one session came to, as named figures: for lists, for trends, and for what is kept of it beside its files."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from statistics import fmean
from typing import Any

from weightshare.exercise import Exercise
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.heel import height_u_mm
from weightshare.metrology.index import mean_of, sum_of
from weightshare.metrology.repeat import Repeat
from weightshare.metrology.share import COVERAGE_FACTOR
from weightshare.model import HeelWorth, Side

MEAN_SHARE = "mean share"
LONGEST_HOLD, TOTAL_HELD = "longest hold", "held in all"
REPETITIONS = "repetitions in a set"
MEAN_HEIGHT, BEST_HEIGHT = "mean heel height", "best heel height"
LOAD_TRAVEL = "load x heel travel"
SINGLE = tuple(str(one) for one in Exercise if one.is_single)
"""Work on one leg, by the exercise's name in an analysis."""

Kind = tuple[str, str, Side | None]
"""A figure's name, its unit, and whose it is."""


class Source(StrEnum):
    """What a figure's uncertainty was found from."""

    INSTRUMENT = "instrument"
    """What the scale leaves in doubt."""
    SPREAD = "spread"
    """How far the repetitions differ (JCGM 100:2008, 4.2.3); what the instrument has wrong in all of them alike is not
    in it, because it is not known."""
    BOTH = "instrument and spread"


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure. `side`: whose it is, None where it is of both legs' work. `u`: its standard uncertainty, in `unit`,
    None where that is not known; `source`: from what; `dof`: where a spread is in it, its degrees of freedom."""

    name: str
    unit: str
    value: float
    side: Side | None = None
    u: float | None = None
    source: Source | None = None
    dof: float | None = None


def figures_of(content: Mapping[str, Any]) -> tuple[Figure, ...]:
    """Return the figures of an analysis, as its JSON object has it. A figure that cannot be had is left out.

    Raises KeyError, TypeError or ValueError where `content` is no analysis.
    """
    found = [*_share(content), *_holds(content), *_decided(content), *_repetitions(content), *_counts(content)]
    return tuple(one for one in found if math.isfinite(one.value))


def _share(content: Mapping[str, Any]) -> Iterator[Figure]:
    mean, worth = content["share_percent"]["mean"], content.get("uncertainty")
    if mean is not None:
        u = None if worth is None else float(worth["share_mean_points"]) / COVERAGE_FACTOR
        yield _by_instrument(MEAN_SHARE, float(mean), Side(content["injured_side"]), u)


def _by_instrument(name: str, percent: float, side: Side, u: float | None) -> Figure:
    return Figure(name, "%", percent, side, u, None if u is None else Source.INSTRUMENT)


def _holds(content: Mapping[str, Any]) -> Iterator[Figure]:
    if content["holds"]:
        yield Figure(LONGEST_HOLD, "s", float(content["longest_hold_s"]))
        yield Figure(TOTAL_HELD, "s", float(content["total_held_s"]))


def _decided(content: Mapping[str, Any]) -> Iterator[Figure]:
    """Yield the mean over the sets of each measure that something is asked of."""
    rows: dict[tuple[str, str], list[Mapping[str, Any]]] = {}
    for row in content.get("decisions") or ():
        rows.setdefault((str(row["measure"]), str(row["working"])), []).append(row)
    for (measure, working), found in rows.items():
        doubts = [row["in_this_set"]["u"] for row in found if row["in_this_set"] is not None]
        u = fmean(doubts) if len(doubts) == len(found) else None
        yield _by_instrument(measure, fmean(float(row["value"]) for row in found), Side(working), u)


def _repetitions(content: Mapping[str, Any]) -> Iterator[Figure]:
    injured, rows = Side(content["injured_side"]), content["repetitions"]
    for key, side in (("injured", injured), ("uninjured", injured.other)):
        mine = list(_done_by(side, content))
        if heights := _known(rows[place][f"height_{key}_mm"] for place in mine):
            u, best_u = (height_u_of(content, one) for one in (fmean(heights), max(heights)))
            yield _worth(Figure(MEAN_HEIGHT, "mm", fmean(heights), side), mean_of(heights, u or 0.0), u)
            source = None if best_u is None else Source.INSTRUMENT
            yield Figure(BEST_HEIGHT, "mm", max(heights), side, best_u, source)
        if work := _known(rows[place].get(f"load_travel_{key}_J") for place in mine):
            u = travel_u_of(content, key, mine)
            yield _worth(Figure(LOAD_TRAVEL, "J", math.fsum(work), side), sum_of(work, u or 0.0), u)


def _done_by(side: Side, content: Mapping[str, Any]) -> Iterator[int]:
    """Yield the places of the repetitions in which the leg `side` works: in work on one leg, those of its own sets. The
    other heel hangs in the air then, and tells nothing."""
    if content.get("exercise") not in SINGLE:
        yield from range(len(content["repetitions"]))
        return
    for one in content.get("sets") or ():
        if one["working"] == side:
            yield from one["repetitions"]


def _worth(figure: Figure, found: Estimate | None, instrument_u: float | None) -> Figure:
    """Return `figure`, of several repetitions, with what it is worth; of one alone there is no spread: not known."""
    if found is None or not math.isfinite(found.u):
        return figure
    source = Source.SPREAD if instrument_u is None else Source.BOTH
    return replace(figure, u=found.u, source=source, dof=found.dof if math.isfinite(found.dof) else None)


def height_u_of(content: Mapping[str, Any], height_mm: float) -> float | None:
    """Return what the sensor and the foot's place leave in doubt of a height, mm; None where that is not known."""
    worth = content.get("height_worth")
    if worth is None:
        return None
    return height_u_mm(HeelWorth(float(worth["height_mm"]), float(worth["place_part"])), height_mm)


def travel_u_of(content: Mapping[str, Any], key: str, places: Sequence[int]) -> float | None:
    """Return what the instrument leaves in doubt of the sum of load x heel travel, J; None where that is not known.

    What it has wrong it has wrong in every repetition alike. `key`: injured or uninjured.
    """
    worths = (content.get("uncertainty") or {}).get("repetitions") or ()
    known = _known(worths[place].get(f"load_travel_{key}_J") for place in places if place < len(worths))
    return math.fsum(known) / COVERAGE_FACTOR if known else None


def _known(values: Iterable[float | None]) -> Sequence[float]:
    """Return `values` where all of them are known, else nothing."""
    found = list(values)
    return [] if None in found else [float(value) for value in found if value is not None]


def _counts(content: Mapping[str, Any]) -> Iterator[Figure]:
    """Yield the most repetitions in one set, of each leg that worked."""
    most: dict[Side | None, int] = {}
    single = content.get("exercise") in SINGLE
    for row in content.get("sets") or ():
        side = Side(row["working"]) if single and row["working"] is not None else None
        most[side] = max(most.get(side, 0), len(row["repetitions"]))
    if not most and content["repetitions"]:
        most[None] = len(content["repetitions"])
    for side, count in most.items():
        yield Figure(REPETITIONS, "", float(count), side)


def repeats_of(day: date, figures: Iterable[Figure], *, alone: bool) -> Iterator[tuple[Kind, Repeat]]:
    """Yield what a session on `day` brings to the course of each of its figures, by name, unit and side.

    alone: it was done on one leg. On two legs the sum of load x heel travel has no course: what it comes to is how many
    repetitions there were.
    """
    for one in figures:
        if alone or one.name != LOAD_TRAVEL:
            yield (one.name, one.unit, one.side), Repeat(day, one.value, one.u or 0.0)
