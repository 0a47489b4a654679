"""How far a patient's own symmetry strays from day to day, from repeated sessions of one task."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from weightshare.metrology.course import LEAST_DAYS, Course, course_of
from weightshare.metrology.index import Kind, Reliability
from weightshare.metrology.repeat import Repeat
from weightshare.model import Side
from weightshare.pipeline.symmetry import limb_symmetry_index
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
        course = course_of([Repeat(day, index) for day, index in told])
        if course is not None:
            found[kind] = Reliability(_say(course), course.mdc)
    return found


def _index(kind: Kind, figures: Sequence[Figure], injured: Side) -> list[float]:
    """Return the limb symmetry index of one session; nothing where it has not both sides."""
    if kind is Kind.MEAN_FORCE:
        share = next((one.value for one in figures if one.name == MEAN_SHARE), None)
        both = None if share is None else (share, 100.0 - share)
    else:
        sides = {one.side: one.value for one in figures if one.name == _FIGURES[kind]}
        both = (sides[injured], sides[injured.other]) if {injured, injured.other} <= set(sides) else None
    index = None if both is None else limb_symmetry_index(*both)
    return [] if index is None else [index]


def _say(course: Course) -> str:
    count = len(course.days)
    if course.mdc is None or course.sd is None:
        return f"not known of this patient yet: this task was done on {count} {_days(count)}, and it takes {LEAST_DAYS}"
    own = f"this patient's own {count} days of this task scatter by {course.sd:.1f} points of the limb symmetry index"
    return f"{own} (standard deviation about a straight line); minimal detectable change {course.mdc:.1f} points"


def _days(count: int) -> str:
    return "day" if count == 1 else "days"
