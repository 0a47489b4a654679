"""The curves of a stretch, lane by lane under each other, each on a scale that stays the same however it is zoomed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from weightshare.exercise import Phase
from weightshare.model import Floats, Side
from weightshare.pipeline.aim import EVEN_PERCENT, bend_s
from weightshare.practice.past.moment import Kind, Moment, Table
from weightshare.practice.past.opening import Past
from weightshare.practice.past.pyramid import Pyramid
from weightshare.tongue import mark, say

STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
TICKS = 4
LEAST_POINTS = 30.0
"""So many points of share are shown at least: what strays by one point is not to look like much."""
ENDS_S = 0.5


class Ink(StrEnum):
    """What a curve is of; each is told by words and by its stroke too."""

    INJURED = "injured"
    OTHER = "other"


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """One curve and whose it is."""

    ink: Ink
    name: str
    pyramid: Pyramid


@dataclass(frozen=True, slots=True)
class Stretch:
    """The band between two times: its edges at the first and at the last one."""

    from_s: float
    to_s: float
    low: tuple[float, float]
    high: tuple[float, float]


@dataclass(frozen=True, slots=True, eq=False)
class Lane:
    """Curves over one axis from `low` to `high`, ticks at multiples of `step`. `bands`: where a band was asked for."""

    title: str
    short: str
    unit: str
    low: float
    high: float
    step: float
    curves: tuple[Curve, ...]
    bands: tuple[Stretch, ...] = ()
    rule: float | None = None
    """A line across: the limit of load."""

    @property
    def digits(self) -> int:
        """How many decimals a reading is told with."""
        return 1 if self.unit == "%" else 0

    def ticks(self) -> tuple[float, ...]:
        """Return where the axis has its numbers."""
        first, last = math.ceil(self.low / self.step - 1e-9), math.floor(self.high / self.step + 1e-9)
        return tuple(index * self.step for index in range(first, last + 1))


def round_step(span: float, most: int = TICKS) -> float:
    """Return the least step of 1, 2, 2.5 or 5 times a power of ten that divides `span` (> 0) at most `most` times."""
    ten = 10.0 ** math.floor(math.log10(span / most))
    return next(step * ten for step in STEPS if step * ten * most >= span * (1 - 1e-9))


def make_lanes(past: Past, table: Table) -> tuple[Lane, ...]:
    """Return the lanes of `past`: share (in supported work the load) against the band, forces, heights if there are."""
    curves, injured = past.curves, past.settings.injured
    sides = {Side.LEFT: curves.left_N, Side.RIGHT: curves.right_N}
    forces = _pair(sides, injured)
    heights = {Side.LEFT: curves.left_mm, Side.RIGHT: curves.right_mm}
    seen = {side: pyramid for side, pyramid in heights.items() if pyramid is not None}
    weight_N = past.digest.body_weight_N
    lanes = [_lead(past, table), _scaled(say("load, N"), mark("load"), "N", forces, rule=_limit_N(past, weight_N))]
    if not seen:
        return tuple(lanes)
    # who steps on is seen by the sensors before the feet are where they belong
    return (*lanes, _scaled(say("heel, mm"), mark("heel"), "mm", _pair(seen, injured), within=table.moments))


def _limit_N(past: Past, weight_N: float | None) -> float | None:
    ceiling = past.settings.ceiling
    return None if ceiling is None else ceiling.limit_N(past.settings.body_weight_N or weight_N)


def _pair(sides: dict[Side, Pyramid], injured: Side) -> tuple[Curve, ...]:
    """Return one curve a side, the injured one last: it lies on top."""
    ordered = sorted(sides, key=lambda side: side is injured)
    inks = {True: Ink.INJURED, False: Ink.OTHER}
    return tuple(Curve(inks[side is injured], say(side), sides[side]) for side in ordered)


def _scaled(
    title: str,
    short: str,
    unit: str,
    curves: tuple[Curve, ...],
    *,
    bands: tuple[Stretch, ...] = (),
    rule: float | None = None,
    within: tuple[Moment, ...] = (),
) -> Lane:
    """Return a lane that reaches from zero, or the least value below it, to the greatest (`within` these moments)."""
    values = np.concatenate([_reach(curve.pyramid, within) for curve in curves])
    known = values[np.isfinite(values)]
    high = max([*known.tolist(), *[max(band.high) for band in bands], rule or 0.0, 1.0])
    low = min([*known.tolist(), 0.0])
    step = round_step(high - low)
    # a little below zero is noise, and no reason for a tick more
    low = 0.0 if low > -0.1 * step else math.floor(low / step) * step
    return Lane(title, short, unit, low, math.ceil(high / step - 1e-9) * step, step, curves, bands, rule)


def _reach(pyramid: Pyramid, within: tuple[Moment, ...]) -> Floats:
    """Return the least and the greatest value, shape (2,): of all, or of what lies in these moments; NaN: none."""
    spans = np.array([(one.from_s, one.to_s) for one in within]).reshape(-1, 2)
    return pyramid.extremes_within(spans[:, 0], spans[:, 1]) if within else pyramid.extremes()


def _lead(past: Past, table: Table) -> Lane:
    settings, digest, curves = past.settings, past.digest, past.curves
    curve = (Curve(Ink.INJURED, say(settings.injured), curves.lead),)
    if digest.load_N is not None:
        target, tolerance = digest.load_N
        from_s, to_s = curves.span_s
        band = Stretch(from_s, to_s, (target - tolerance,) * 2, (target + tolerance,) * 2)
        return _scaled(
            say("load on the {injured} side, N", injured=settings.injured), mark("asked"), "N", curve, bands=(band,)
        )
    title = say("share on the {injured} side, %", injured=settings.injured)
    bands = asked_bands(past, table)
    return Lane(title, mark("share"), "%", *share_reach(curves.lead, bands), curve, bands)


def share_reach(lead: Pyramid, bands: Sequence[Stretch]) -> tuple[float, float, float]:
    """Return from where to where the share's axis reaches, and its step: all that was measured and asked for.

    Left out are the 0.5 s after stepping on and before stepping off, in which the share comes from an end of the axis.
    """
    from_s, to_s = lead.stretches()
    measured = lead.extremes_within(from_s + ENDS_S, to_s - ENDS_S)
    asked = [edge for band in bands for edge in (*band.low, *band.high)]
    known = [float(value) for value in (*measured, *asked) if math.isfinite(value)] or [0.0, 100.0]
    low, high = min(known), max(known)
    width = max(LEAST_POINTS, high - low)
    low = min(max(0.0, (low + high - width) / 2.0), 100.0 - width)
    step = round_step(width)
    least, most = math.floor(low / step + 1e-9), math.ceil((low + width) / step - 1e-9)
    return max(0.0, least * step), min(100.0, most * step), step


def asked_bands(past: Past, table: Table) -> tuple[Stretch, ...]:
    """Return where a share was asked for: all along; where the share turns at the top, within each repetition."""
    settings = past.settings
    if settings.target_percent is None:
        return ()
    if settings.exercise is None or not settings.exercise.turns:
        edges = settings.band_about(settings.target_percent)
        return (Stretch(*past.curves.span_s, (edges[0],) * 2, (edges[1],) * 2),)
    repetitions = [one for one in table.moments if one.kind is Kind.REPETITION]
    return tuple(stretch for one in repetitions for stretch in _turning(past, one))


def _turning(past: Past, one: Moment) -> list[Stretch]:
    """Return the band of one repetition: even on the way up, a bend at the top, the target on the way down."""
    settings = past.settings
    spans = [span for span in past.head.sets if span.from_s <= one.from_s]
    leg = settings.for_leg(spans[-1].working) if spans else settings
    target = leg.target_percent
    phases = {part.phase: part for part in one.parts}
    if target is None or Phase.LOWERING not in phases:
        return []
    down, even, there = phases[Phase.LOWERING], leg.band_about(EVEN_PERCENT), leg.band_about(target)
    found = [Stretch(down.from_s, down.to_s, (there[0],) * 2, (there[1],) * 2)]
    if Phase.RISE in phases:
        up = phases[Phase.RISE]
        found.append(Stretch(up.from_s, up.to_s, (even[0],) * 2, (even[1],) * 2))
        bent_s = min(down.from_s, up.to_s + bend_s(settings.tempo))
        if bent_s > up.to_s:
            found.append(Stretch(up.to_s, bent_s, (even[0], there[0]), (even[1], there[1])))
        if down.from_s > bent_s:
            found.append(Stretch(bent_s, down.from_s, (there[0],) * 2, (there[1],) * 2))
    return found


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """One repetition's piece of a curve; times (s) count from where its lowering begins. Shape (n,) each."""

    number: int
    time_s: Floats
    low: Floats
    high: Floats
    is_chosen: bool = False
