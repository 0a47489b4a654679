"""A C3D recording as a trace: what was found, for a person to confirm, and the trace that comes of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from weightshare.errors import OptionError, RecordError
from weightshare.model import HEIGHT_COLUMNS, SIDE_COLUMNS, TRACE_COLUMNS, Floats, Trace
from weightshare.records.c3d.plate import Load, make_loads, points_down
from weightshare.records.c3d.raw import FLAGS, RawC3d
from weightshare.records.c3d.side import Guess, guess_left, up_of
from weightshare.records.trace import TIME, make_trace


@dataclass(frozen=True, slots=True)
class Choice:
    """What the user says instead of the file; what is None is the file's to say."""

    plates: tuple[int, int] | None = None
    left: int | None = None
    unit: str = ""
    negative: bool | None = None
    zero: bool = True
    heels: tuple[str, str] | None = None
    """The labels of the markers at the left and at the right heel."""


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """What a file holds: the platforms under the left and the right foot, and which is which by what."""

    name: str
    rate_Hz: float
    feet: tuple[Load, Load]
    guess: Guess
    axis_words: tuple[str, str]
    """Where each plate's own vertical axis points, in words."""
    heights_mm: tuple[Floats, Floats] | None
    own: Mapping[str, Floats] = field(default_factory=dict)
    """Further columns of a file that was exported here, and which of them were read."""

    @property
    def duration_s(self) -> float:
        """From the first sample to the last, s."""
        return (self.feet[0].load_N.size - 1) / self.rate_Hz

    def lines(self) -> list[str]:
        """Return all that has to be confirmed, a line each."""
        said = [f"{self.duration_s:.2f} s at {self.rate_Hz:g} Hz; left is platform {self.guess.left}: {self.guess.why}"]
        return said + [self._say(side, k) for k, side in enumerate(("left", "right"))]

    def _say(self, side: str, k: int) -> str:
        load = self.feet[k]
        low, middle, high = np.percentile(load.load_N, [0.0, 50.0, 100.0])
        counted = "negative" if load.negative else "positive"
        zero = f"; {load.zero_N:.1f} N subtracted, as its zero frames say" if load.zero_N else ""
        return (
            f"{side}: platform {load.number}, type {load.kind}, in {load.unit}, load counted {counted}, "
            f"{self.axis_words[k]}{zero}; {low:.0f} to {high:.0f} N, median {middle:.0f} N"
        )


def find_feet(raw: RawC3d, choice: Choice, name: str) -> Found:
    """Return what the file `name` holds.

    Raises RecordError where two platforms cannot be made of it, OptionError where the choice does not fit it.
    """
    numbers = _choose(raw, choice, name)
    loads = make_loads(raw, numbers, name, unit=choice.unit, negative=choice.negative, zero=choice.zero)
    pair = loads[0], loads[1]
    guess = _guess(raw, pair, choice, name)
    feet = pair if pair[0].number == guess.left else (pair[1], pair[0])
    up = up_of(raw, feet)
    words = tuple(_say_axis(raw, load, up) for load in feet)
    heights = None if choice.heels is None else _heights(raw, choice.heels, up, feet[0].load_N.size, name)
    return Found(name, raw.rate_Hz, feet, guess, (words[0], words[1]), heights, raw.own)


def _choose(raw: RawC3d, choice: Choice, name: str) -> tuple[int, int]:
    count = len(raw.plates)
    if choice.plates is not None:
        for number in choice.plates:
            if not 1 <= number <= count:
                raise OptionError(f"--plates {number}: {name} has {count} force platforms, numbered from 1")
        return choice.plates
    if count < 2:
        raise RecordError(f"{name}: has {count or 'no'} force platform{'s' if not count else ''}; two are needed")
    if count > 2:
        raise RecordError(f"{name}: has {count} force platforms; say which two were stood on, as in --plates 1,2")
    return 1, 2


def _guess(raw: RawC3d, loads: tuple[Load, Load], choice: Choice, name: str) -> Guess:
    numbers = tuple(load.number for load in loads)
    if choice.left is not None:
        if choice.left not in numbers:
            raise OptionError(f"--left {choice.left} is not one of the platforms {numbers[0]} and {numbers[1]}")
        return Guess(choice.left, "as you say", sure=True)
    guess = guess_left(raw, loads)
    if guess is None:
        which = f"--left {numbers[0]} or --left {numbers[1]}"
        raise RecordError(f"{name}: does not say where its platforms lie; say which is under the left foot: {which}")
    return guess


def _say_axis(raw: RawC3d, load: Load, up: tuple[int, int] | None) -> str:
    if up is None:
        return "where its vertical axis points is not told"
    down = points_down(raw.plates[load.number - 1], *up)
    what = "the push on the plate" if down != load.negative else "the plate's reaction"
    return f"its own vertical axis points {'down' if down else 'up'} (along {'XYZ'[up[0]]}): {what}"


def _heights(
    raw: RawC3d, labels: tuple[str, str], up: tuple[int, int] | None, samples: int, name: str
) -> tuple[Floats, Floats]:
    """Return how high both heels' markers are over their own lowest place, mm, at each sample; NaN where not seen."""
    if up is None:
        raise RecordError(f"{name}: does not say which way is up, so that heels have no height")
    left, right = (_height(raw, label, up, samples, name) for label in labels)
    return left, right


def _height(raw: RawC3d, label: str, up: tuple[int, int], samples: int, name: str) -> Floats:
    if label not in raw.labels:
        known = ", ".join(raw.labels[:20]) or "none"
        raise OptionError(f"--heels {label}: {name} has no such marker; it has {known}")
    height = raw.markers_m[up[0], raw.labels.index(label)] * up[1] * 1000.0
    if not np.isfinite(height).any():
        raise RecordError(f"{name}: the marker {label} was never seen")
    frame_s = np.arange(height.size) / raw.point_rate_Hz
    # between a frame with the marker and one without there is no height
    heights: Floats = np.interp(np.arange(samples) / raw.rate_Hz, frame_s, height - np.nanmin(height), right=np.nan)
    return heights


def make_found_trace(found: Found) -> Trace:
    """Return the trace: time from 0 s, left_N and right_N, and the heels' heights where they were asked for.

    Raises TraceError where a force or a time cannot be one.
    """
    time_s = np.arange(found.feet[0].load_N.size) / found.rate_Hz
    columns = {TIME: time_s} | _pairs(SIDE_COLUMNS, [load.load_N for load in found.feet])
    columns |= {name: values for name, values in found.own.items() if name != FLAGS}
    if found.heights_mm is not None:
        columns |= _pairs(HEIGHT_COLUMNS, found.heights_mm)
    return make_trace(_blanked(columns, found.own.get(FLAGS)), found.name)


def _blanked(columns: dict[str, Floats], flags: Floats | None) -> dict[str, Floats]:
    """Return the columns with NaN where the file says that nothing was read, and without the rows after the last."""
    if flags is None:
        return columns
    there = np.rint(flags).astype(np.int64)
    rows = slice(0, int(np.flatnonzero(there)[-1]) + 1 if there.any() else 0)
    blanked = {TIME: columns[TIME][rows]}
    for place, name in enumerate(TRACE_COLUMNS):
        if name in columns:
            blanked[name] = np.where(there[rows] >> place & 1, columns[name][rows], np.nan)
    return blanked


def _pairs(names: Sequence[str], values: Sequence[Floats]) -> dict[str, Floats]:
    return dict(zip(names, values, strict=True))
