"""Which of two platforms is under the left foot: by markers on the feet, or guessed by where the platforms lie."""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from weightshare.model import Floats
from weightshare.records.c3d.plate import Load
from weightshare.records.c3d.raw import RawC3d

_FOOT = re.compile(r"(?:.*[:_ ])?(L|R)_?(?:HEE|HEEL|TOE|ANK|CAL|FCC|MT[1-5]|FM[125])", re.IGNORECASE)
"""Labels of markers on a foot, with or without the person's name before it: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Guess:
    """The number of the platform that is taken to be the left one. `why` says on what it rests, in words."""

    left: int
    why: str
    sure: bool = False


def guess_left(raw: RawC3d, loads: tuple[Load, Load]) -> Guess | None:
    """Return which platform is the left one; None where the file does not even say where they lie."""
    told = _by_label(raw, loads)
    axis = loads[0].axis
    if told is not None or axis is None:
        return told
    flat = [k for k in range(3) if k != axis]
    centres = np.stack([load.centre_m[flat] for load in loads])
    return _by_markers(raw, loads, centres, flat) or _by_place(raw, loads, centres, flat)


def _by_label(raw: RawC3d, loads: tuple[Load, Load]) -> Guess | None:
    """Go by the names of the channels, where all of one platform's begin with a side, and all of the other's too."""
    sides = []
    for load in loads:
        labels = raw.plates[load.number - 1].labels
        named = {side for side in ("left", "right") if labels and all(one.lower().startswith(side) for one in labels)}
        sides.append(named)
    if sides not in ([{"left"}, {"right"}], [{"right"}, {"left"}]):
        return None
    return Guess(loads[sides.index({"left"})].number, "its channels are called so", sure=True)


def _by_markers(raw: RawC3d, loads: tuple[Load, Load], centres: Floats, flat: list[int]) -> Guess | None:
    sides = {side: _mean(raw, side, flat) for side in "LR"}
    left, right = sides["L"], sides["R"]
    if left is None or right is None:
        return None
    nearest = [int(np.argmin(np.linalg.norm(centres - foot, axis=1))) for foot in (left, right)]
    if nearest[0] == nearest[1]:
        return None
    return Guess(loads[nearest[0]].number, "the markers on the feet are over them so", sure=True)


def _mean(raw: RawC3d, side: str, flat: list[int]) -> Floats | None:
    """Return where the markers of one foot are on the average, in the plane of the floor; None where there are none."""
    matches = [_FOOT.fullmatch(label) for label in raw.labels]
    mine = [k for k, match in enumerate(matches) if match is not None and match[1].upper() == side]
    seen = raw.markers_m[flat][:, mine].reshape(len(flat), -1)
    seen = seen[:, np.isfinite(seen).all(axis=0)]
    return seen.mean(axis=1) if seen.size else None


def _by_place(raw: RawC3d, loads: tuple[Load, Load], centres: Floats, flat: list[int]) -> Guess:
    """Take the platform that is on the left of the file's own picture (X_SCREEN), else that with the lesser place."""
    apart = np.abs(centres[1] - centres[0])
    row, sign = int(np.argmax(apart)), 1.0
    shown = _read_axis(raw.right_axis)
    if shown is not None and shown[0] in flat and apart[flat.index(shown[0])] > 0.05:
        row, sign = flat.index(shown[0]), shown[1]
    order = int(np.argmin(sign * centres[:, row]))
    letter = "XYZ"[flat[row]]
    way = "less" if sign > 0 else "more"
    return Guess(loads[order].number, f"a guess: it lies at {way} {letter}, and which way the person faced is not told")


def _read_axis(text: str) -> tuple[int, float] | None:
    """Return the axis and sign of `+X`; None where it is none."""
    found = re.fullmatch(r"([+-]?)([XYZ])", text.strip().upper())
    return None if found is None else ("XYZ".index(found[2]), -1.0 if found[1] == "-" else 1.0)


def up_of(raw: RawC3d, loads: tuple[Load, Load]) -> tuple[int, int] | None:
    """Return the vertical axis and 1 where it points up, -1 where it points down; None where nothing is told.

    Markers lie over the platforms; without markers Y_SCREEN says it, and without that it points up.
    """
    axis = loads[0].axis
    if axis is None:
        return None
    heights = raw.markers_m[axis] - loads[0].centre_m[axis]
    heights = heights[np.isfinite(heights)]
    shown = _read_axis(raw.up_axis)
    if heights.size:
        return axis, 1 if float(np.median(heights)) >= 0.0 else -1
    return axis, -1 if shown is not None and shown[0] == axis and shown[1] < 0 else 1
