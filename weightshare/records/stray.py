"""How far a patient's own symmetry strays from day to day, from repeated sessions of one task."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from math import isfinite

from weightshare.metrology.course import LEAST_DAYS, Course, course_of
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.index import Kind, Reliability, compare
from weightshare.metrology.repeat import Repeat
from weightshare.model import Side
from weightshare.records.figure import BEST_HEIGHT, LOAD_TRAVEL, MEAN_HEIGHT, MEAN_SHARE, REPETITIONS, Figure

Days = Sequence[tuple[date, Sequence[Figure]]]
"""The day of each session of one task, and the figures that it came to."""
_FIGURES = {
    Kind.REPETITIONS: REPETITIONS,
    Kind.HEIGHT: MEAN_HEIGHT,
    Kind.BEST_HEIGHT: BEST_HEIGHT,
    Kind.LOAD_TRAVEL: LOAD_TRAVEL,
}


def strays_of(sessions: Days, injured: Side) -> Mapping[Kind, Reliability]:
    """Return what this patient's own `sessions` of the task tell of each measure's limb symmetry index.

    A measure that none of them has for both sides is left out. On too few days the words say so, without a figure.
    """
    found = {}
    for kind in (Kind.MEAN_FORCE, *_FIGURES):
        told = ((day, index) for day, figures in sessions for index in _index(kind, figures, injured))
        course = course_of([Repeat(day, one.value, one.u if isfinite(one.u) else 0.0) for day, one in told])
        if course is not None:
            found[kind] = Reliability(_say(course), course.mdc)
    return found


def _index(kind: Kind, figures: Sequence[Figure], injured: Side) -> list[Estimate]:
    """Return the limb symmetry index of one session; nothing where it has not both sides."""
    both = _of_share(figures) if kind is Kind.MEAN_FORCE else _of_sides(_FIGURES[kind], figures, injured)
    index = None if both is None else compare(kind, *both, correlation=_together(kind)).limb_symmetry_index
    return [] if index is None else [index]


def _together(kind: Kind) -> float:
    """Return how the two values' errors go together: of a share one side has what the other lacks."""
    return -1.0 if kind is Kind.MEAN_FORCE else 0.0


def _of_share(figures: Sequence[Figure]) -> tuple[Estimate, Estimate] | None:
    share = next((one for one in figures if one.name == MEAN_SHARE), None)
    if share is None or not 0.0 < share.value < 100.0:
        return None
    return Estimate(share.value, share.u or 0.0), Estimate(100.0 - share.value, share.u or 0.0)


def _of_sides(name: str, figures: Sequence[Figure], injured: Side) -> tuple[Estimate, Estimate] | None:
    sides = {one.side: Estimate(one.value, one.u or 0.0) for one in figures if one.name == name}
    return (sides[injured], sides[injured.other]) if {injured, injured.other} <= set(sides) else None


def _say(course: Course) -> str:
    count = len(course.days)
    if course.mdc is None or course.sd is None:
        return f"not known of this patient yet: this task was done on {count} {_days(count)}, and it takes {LEAST_DAYS}"
    own = f"this patient's own {count} days of this task scatter by {course.sd:.1f} points of the limb symmetry index"
    limited = ", limited by what the instrument leaves in doubt" if course.by_instrument else ""
    change = f"minimal detectable change {course.mdc:.1f} points{limited}"
    return f"{own} (standard deviation about a straight line); {change}"


def _days(count: int) -> str:
    return "day" if count == 1 else "days"
