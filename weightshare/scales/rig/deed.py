"""The true repetitions, sets, and movements that are none, of one visit."""

from __future__ import annotations

from itertools import groupby
from typing import Any

import numpy as np

from weightshare.exercise import Exercise
from weightshare.model import Floats
from weightshare.scales.rig.instant import Window, cross, cut, find_instants
from weightshare.scales.rig.person import Person
from weightshare.scales.rig.plan import Deed, Lane
from weightshare.scales.rig.sets import HOLD, REPETITION
from weightshare.scales.rig.tally import Course, is_supported, tell_figures, tell_heights

CUT_OFF = "cut off"


def tell_deeds(person: Person, course: Course) -> dict[str, Any]:
    """Return `repetitions`, `movements` and `sets` of what was done up to the course's end, as JSON values."""
    last_s = float(course.time_s[-1])
    done = [deed for deed in person.deeds if deed.from_s < last_s]
    repetitions, movements = [], []
    for deed, window in zip(done, _windows(done, last_s), strict=True):
        told = _tell_repetition(person, course, deed, window) if deed.what == REPETITION else None
        if told is not None:
            repetitions.append({"set": deed.number, **told})
        elif deed.what != HOLD:
            # a repetition that cannot be told was not done to its end
            cut_off = deed.to_s > last_s or deed.what == REPETITION
            movements.append(_tell_movement(deed, CUT_OFF if cut_off else deed.what, min(deed.to_s, last_s)))
    return {"repetitions": repetitions, "movements": movements, "sets": _tell_sets(done, last_s)}


def _windows(done: list[Deed], last_s: float) -> list[Window]:
    windows = []
    for place, deed in enumerate(done):
        before_s = done[place - 1].to_s if place else -np.inf
        after_s = done[place + 1].from_s if place + 1 < len(done) else last_s
        windows.append(Window(deed.from_s, min(deed.to_s, last_s), before_s, after_s))
    return windows


def _tell_movement(deed: Deed, what: str, to_s: float) -> dict[str, Any]:
    return {"what": what, "set": deed.number, "from_s": round(deed.from_s, 6), "to_s": round(to_s, 6)}


def _tell_sets(done: list[Deed], last_s: float) -> list[dict[str, Any]]:
    sets = []
    for number, deeds in groupby(done, key=lambda deed: deed.number):
        members = list(deeds)
        sets.append(
            {
                "number": number,
                "from_s": round(members[0].from_s, 6),
                "to_s": round(min(max(deed.to_s for deed in members), last_s), 6),
                "working_side": str(members[0].working) if members[0].working else None,
            }
        )
    return sets


def _tell_repetition(person: Person, course: Course, deed: Deed, window: Window) -> dict[str, Any] | None:
    exercise, working = person.task.exercise, deed.working or person.task.working_side
    bends = exercise in (Exercise.SQUAT, Exercise.SIT_TO_STAND)
    height_mm = _body_mm(person, course.time_s) if bends else course.heel(working)
    if exercise is Exercise.SQUAT:
        height_mm = -height_mm
    instants = find_instants(course.time_s, height_mm, window)
    if instants is None:
        return None
    band = person.task.target_percent, person.task.tolerance_percent
    figures = tell_figures(course, instants, working, band)
    if exercise is Exercise.SQUAT:
        figures = _as_squat(figures)
    elif exercise is Exercise.SIT_TO_STAND:
        figures = _as_standing_up(person, figures, deed)
    else:
        figures |= tell_heights(course, window)
    figures["travel_mm"] = instants.height_mm
    figures["supported"] = is_supported(person, instants.start_s, instants.end_s)
    return {"working_side": str(working), **_rounded(figures)}


def _body_mm(person: Person, time_s: Floats) -> Floats:
    return person.value(Lane.BODY, time_s)


def _as_squat(figures: dict[str, Any]) -> dict[str, Any]:
    """A squat was looked at upside down: what was the rise there is its lowering."""
    down, up = figures["rise_duration_s"], figures["lowering_duration_s"]
    return {
        "start_s": figures["start_s"],
        "lowering_s": figures["start_s"],
        "bottom_s": figures["top_s"],
        "rise_s": figures["lowering_s"],
        "top_s": figures["end_s"],
        "end_s": figures["end_s"],
        "lowering_duration_s": down,
        "bottom_duration_s": figures["top_duration_s"],
        "rise_duration_s": up,
        "share_lowering_percent": figures["share_rise_percent"],
        "share_bottom_percent": figures["share_top_percent"],
        "share_rise_percent": figures["share_lowering_percent"],
    }


def _as_standing_up(person: Person, figures: dict[str, Any], deed: Deed) -> dict[str, Any]:
    """Add when the trunk begins to swing, and when the seat carries nothing any more, and something again."""
    time_s = np.arange(deed.from_s, deed.to_s, 0.002)
    presence = person.value(Lane.PRESENCE, time_s)
    free = 0.99 * (1.0 - person.profile.rail_fraction)
    off = cross(time_s, presence, free, up=True)
    on = cross(*cut(time_s, presence, figures["top_s"], deed.to_s), free, up=False)
    figures["moves_from_s"] = deed.from_s
    figures["seat_off_s"] = float(off[0]) if off.size else None
    figures["seat_on_s"] = float(on[0]) if on.size else None
    return figures


def _rounded(figures: dict[str, Any]) -> dict[str, Any]:
    def short(value: Any) -> Any:
        if isinstance(value, list):
            return [short(part) for part in value]
        return round(value, 6) if isinstance(value, float) else value

    return {key: short(value) for key, value in figures.items()}
