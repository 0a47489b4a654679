"""Made-up heel raises: moves of a heel strung together, and what may befall the readings."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import TypeAlias

import numpy as np
from hypothesis import assume, event
from hypothesis import strategies as st

from tests.property.walk.repetition import Effort, Row
from weightshare.exercise import Exercise
from weightshare.model import HEIGHT_COLUMNS, SIDE_COLUMNS, Floats, Side, Trace
from weightshare.task import Settings

Leg: TypeAlias = tuple[float, float]
"""Seconds, and the height (mm) at which they end."""

KINDS = ("raise", "raise", "raise", "fast", "step", "low", "short", "half-way", "return", "settle", "creep", "rest")
FAULTS = ("height gap", "height lost", "force lost", "rows lost", "gap", "foot off", "rail", "off", "other heel lost")
SHAPES = ("smooth", "straight", "jerky", "bouncing")


class Raising:
    """A made-up person who raises the heels: a trace, what is asked, and the same for the walk."""

    def __init__(self, trace: Trace, settings: Settings) -> None:
        self.trace, self.settings = trace, settings

    @property
    def effort(self) -> Effort:
        settings = self.settings
        return Effort(
            injured=str(settings.injured),
            target=settings.target_percent,
            tolerance=settings.tolerance_percent,
            filter_Hz=settings.filter_Hz,
            body_weight_N=settings.body_weight_N,
            working=str(settings.working_side),
            single=settings.exercise is not None and settings.exercise.is_single,
            reference_mm=settings.reference_height_mm,
            one_sided=settings.one_sided,
        )

    @property
    def table(self) -> list[Row]:
        nothing = np.full(self.trace.time_s.size, np.nan)
        names = (*SIDE_COLUMNS, *HEIGHT_COLUMNS)
        columns = [self.trace.columns.get(name, nothing).tolist() for name in names]
        return list(zip(self.trace.time_s.tolist(), *columns, strict=True))

    def __repr__(self) -> str:
        return f"{self.settings}, {self.trace.time_s.size} samples from {self.trace.time_s[0]}"


def legs_of(kind: str, rng: np.random.Generator) -> Iterator[Leg]:
    """Yield one move of the heel from 0 mm; it does not always end there."""
    height = rng.uniform(35.0, 120.0)
    rise, top, lowering = rng.uniform(0.4, 1.8), rng.uniform(0.0, 1.5), rng.uniform(0.4, 2.5)
    rest, end = rng.uniform(0.0, 2.6), 0.0
    if kind == "fast":
        rise, top, lowering, rest = rng.uniform(0.3, 1.0), 0.0, rng.uniform(0.3, 1.0), 0.0
    elif kind == "step":
        end = rng.uniform(-30.0, 0.0)
    elif kind == "low":
        height = rng.uniform(12.0, 45.0)
    elif kind == "short":
        rise, top, lowering = rng.uniform(0.05, 0.3, 3)
    elif kind == "half-way":
        height, top = rng.uniform(18.0, 45.0), rng.uniform(0.2, 2.5)
    elif kind == "settle":
        end, rest = height * rng.uniform(0.1, 0.6), rng.uniform(0.0, 5.0)
    if kind == "creep":
        yield rng.uniform(1.0, 6.0), rng.uniform(-40.0, 40.0)
    elif kind == "rest":
        yield rest, end
    else:
        yield rise, height
        yield top, height * rng.uniform(0.9, 1.05)
        if kind == "return":
            yield lowering / 2.0, height * rng.uniform(0.1, 0.7)
            yield rise, height * rng.uniform(0.5, 1.1)
        yield lowering, end
        yield rest, end + rng.uniform(-3.0, 3.0)


def draw_course(legs: list[Leg], shape: str, rate_Hz: float, rng: np.random.Generator) -> Floats:
    """Return the heel's height over time, shape (n,), from standing still for a while."""
    return lay([(rng.uniform(0.1, 4.0), 0.0), *legs], rate_Hz, shape, rng.uniform(0.0, 3.0))


def lay(legs: Iterable[Leg], rate_Hz: float, shape: str = "smooth", jerk: float = 1.0) -> Floats:
    """Return the heel's height over time, shape (n,), leg after leg, from 0 mm."""
    pieces, height = [np.zeros(1)], 0.0
    for span_s, aim in legs:
        part = np.arange(1, round(span_s * rate_Hz) + 1) / max(round(span_s * rate_Hz), 1)
        if shape == "smooth":
            part = 0.5 - 0.5 * np.cos(math.pi * part)
        elif shape == "jerky":
            part = part + np.sin(2.0 * math.pi * 3.0 * part) / 18.0 * jerk
        elif shape == "bouncing":
            part = 1.0 - (1.0 - part) ** 2 * np.cos(9.0 * part)
        pieces.append(height + (aim - height) * part)
        height = aim
    return np.concatenate(pieces)


@st.composite
def raisings(draw: st.DrawFn, most_moves: int = 5) -> Raising:
    """Some moves one after the other, noise, drift, and what may befall the readings."""
    rate_Hz = draw(
        st.sampled_from([60.0, 80.0, 100.0, 110.0, 250.0]) | st.floats(60.0, 130.0) | st.floats(300.0, 1000.0)
    )
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    most = most_moves if rate_Hz < 300.0 else 2
    kinds = draw(st.lists(st.sampled_from(KINDS), min_size=1, max_size=most))
    legs = [leg for kind in kinds for leg in legs_of(kind, rng)]
    shape = draw(st.sampled_from(SHAPES))
    heel = draw_course(legs, shape, rate_Hz, rng)
    heel = heel[: max(round(draw(st.sampled_from([1.0, 1.0, 0.9, 0.7])) * heel.size), 10)]
    count, noise = heel.size, draw(st.sampled_from([0.0, 0.05, 0.5, 2.0]))
    drift = draw(st.sampled_from([0.0, 0.0, 0.5, -2.0])) * np.arange(count) / rate_Hz
    other = heel * rng.uniform(0.0, 1.2) + rng.normal(0.0, noise, count) + rng.uniform(-20.0, 20.0)
    columns = {"heel": heel + drift + rng.normal(0.0, noise, count) + rng.uniform(-20.0, 20.0), "other": other}

    weight_N = draw(st.floats(450.0, 1100.0))
    settings = draw(asked(weight_N))
    if rate_Hz >= 300.0 and settings.body_weight_N is None:  # the walk weighs slowly
        settings = replace(settings, body_weight_N=weight_N)
    working = draw(st.sampled_from([50.0, 50.0, 75.0, 97.5]))
    share = np.clip(
        working + np.cumsum(rng.normal(0.0, 3.0 / rate_Hz**0.5, count)) + rng.normal(0.0, 0.3, count), 0.5, 99.5
    )
    total = weight_N * (1.0 + rng.normal(0.0, draw(st.sampled_from([0.0005, 0.004, 0.03])), count))
    columns |= {"working": total * share / 100.0, "resting": total * (1.0 - share / 100.0)}
    kept = befall(draw, columns, rate_Hz, rng)
    if draw(st.integers(0, 5)) == 0:
        del columns["other"]
    for kind in kinds:
        event(kind)
    time_s = draw(st.sampled_from([0.0, -3.5, 1000.25, 1e5])) + np.arange(count) / rate_Hz
    time_s += rng.uniform(-0.2, 0.2, count) / rate_Hz * draw(st.sampled_from([0.0, 0.0, 1.0]))
    assume(kept.sum() > 0.7 * count)
    return Raising(Trace(time_s[kept], named(columns, settings.working_side, kept)), settings)


def befall(draw: st.DrawFn, columns: dict[str, Floats], rate_Hz: float, rng: np.random.Generator) -> np.ndarray:
    """Spoil some readings in place; return which rows are kept."""
    count = columns["heel"].size
    kept = np.ones(count, dtype=np.bool_)
    faults = st.tuples(st.sampled_from(FAULTS), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
    for kind, place, length in draw(st.lists(faults, max_size=4)):
        event(kind)
        begin = round(place * count)
        rows = slice(begin, begin + max(round(length * 1.5 * rate_Hz), 1))
        short = slice(begin, begin + 1 + round(length * 6))
        if kind == "height gap":
            columns["heel"][rows] = np.nan
        elif kind == "height lost":
            columns["heel"][short] = np.nan
        elif kind == "other heel lost":
            columns["other"][rows if length > 0.5 else short] = np.nan
        elif kind == "force lost":
            columns[rng.choice(["working", "resting"])][rows if length > 0.7 else short] = np.nan
        elif kind == "foot off":
            columns[rng.choice(["working", "resting"])][rows] = rng.uniform(-1.0, 8.0)
        elif kind in ("rail", "off"):
            for name in ("working", "resting"):
                columns[name][rows] *= rng.uniform(0.65, 1.0) if kind == "rail" else 0.01
        else:
            kept[short if kind == "rows lost" else rows] = False
    return kept


def named(columns: dict[str, Floats], working: Side, kept: np.ndarray) -> dict[str, Floats]:
    """Return the columns by the names that a trace has for them."""
    sides = {"working": working, "resting": working.other}
    found = {f"{side}_N": columns[name][kept] for name, side in sides.items()}
    heels = {"heel": working, "other": working.other}
    return found | {f"{side}_heel_height_mm": columns[name][kept] for name, side in heels.items() if name in columns}


@st.composite
def asked(draw: st.DrawFn, weight_N: float) -> Settings:
    """What is asked of the person, and known of them."""
    exercises = [None, None, Exercise.RAISE, Exercise.LOWERING, Exercise.SINGLE_LOWERING, Exercise.SINGLE_RAISE]
    return Settings(
        draw(st.sampled_from(list(Side))),
        draw(st.sampled_from([None, 50.0, 60.0, 75.0])),
        draw(st.sampled_from([2.0, 5.0, 10.0])),
        filter_Hz=draw(st.sampled_from([None, 6.0, 6.0, 6.0])),
        body_weight_N=draw(st.sampled_from([None, None, weight_N * 1.01])),
        exercise=draw(st.sampled_from(exercises)),
        reference_height_mm=draw(st.sampled_from([None, None, 40.0, 90.0])),
        working=draw(st.sampled_from([None, None, *Side])),
        one_sided=draw(st.booleans()),
    )
