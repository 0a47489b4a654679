"""How a patient's figures went over the days, task by task: only what was done alike is compared."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from weightshare.exercise import Exercise
from weightshare.metrology.course import Course, courses_of, extent_of
from weightshare.metrology.repeat import Repeat
from weightshare.model import Side
from weightshare.records.figure import MEAN_SHARE, repeats_of
from weightshare.records.store.patient import Patient
from weightshare.records.store.store import Store
from weightshare.records.store.visit import Visit, list_figures, list_visits
from weightshare.records.task import name_tasks

STEERED = "the share was steered to its target: it says how well that was met, and is no symmetry"


@dataclass(frozen=True, slots=True)
class Progress:
    """The course of one figure in one task. `note` says what it cannot tell; empty where there is nothing to say."""

    exercise: Exercise
    target_percent: float | None
    injured: Side
    figure: str
    unit: str
    side: Side | None
    """Whose figure it is; None: of both legs' work."""
    course: Course
    note: str = ""
    ident: str = ""
    """What has to be the same for two sessions to be repeats of each other."""
    words: tuple[str, ...] = ()
    """What was done, phrase by phrase: no other of the patient's tasks has the same."""

    @property
    def task(self) -> str:
        """What was done, in words."""
        return ", ".join(self.words)

    def to_json(self) -> dict[str, Any]:
        """Return it as plain values."""
        course, trend = self.course, self.course.trend
        band = None if course.band is None else {"lower": course.band[0], "upper": course.band[1]}
        return {
            "task": self.task,
            "exercise": str(self.exercise),
            "target_percent": self.target_percent,
            "figure": self.figure,
            "unit": self.unit,
            "side": None if self.side is None else str(self.side),
            "days": [
                {"day": one.day.isoformat(), "value": one.value, "sessions": one.sessions, "is_change": one.is_change}
                for one in course.days
            ],
            "sd_between_days": course.sd,
            "mdc": course.mdc,
            "limited_by_instrument": course.by_instrument,
            "no_real_change": band,
            "reason": course.reason or None,
            "per_month": None if trend is None else {"value": trend.per_month.value, "u": trend.per_month.u},
            "note": self.note or None,
        }


def progress_of(store: Store, patient: Patient) -> list[Progress]:
    """Return the course of each figure in each task that was done on two days or more, in the order of the tasks' first
    days. Sessions that are dated in the future, or were broken off, are left out. Raises StoreError."""
    now, figures = store.clock(), list_figures(store, patient)
    told: list[tuple[tuple[Any, ...], Repeat]] = []
    heads: dict[tuple[Any, ...], Visit] = {}
    for visit in list_visits(store, patient):
        day = _day(visit)
        if day is None or visit.broken_off or visit.is_future(now):
            continue
        for kind, repeat in repeats_of(day, figures[visit.id], alone=visit.exercise.is_single):
            heads.setdefault((visit.task, *kind), visit)
            told.append(((visit.task, *kind), repeat))
    courses = courses_of(told, lambda key: extent_of(key[2]))
    tasks = list(dict.fromkeys(task for task, *_rest in courses))
    words = dict(zip(tasks, name_tasks(map(json.loads, tasks)), strict=True))
    return [_make(heads[key], key, course, words[key[0]]) for key, course in courses.items()]


def _make(visit: Visit, key: tuple[Any, ...], course: Course, words: tuple[str, ...]) -> Progress:
    task, name, unit, side = key
    note = STEERED if visit.steered and name == MEAN_SHARE else ""
    return Progress(visit.exercise, visit.target_percent, visit.injured, name, unit, side, course, note, task, words)


def _day(visit: Visit) -> date | None:
    try:
        return datetime.fromisoformat(visit.started_at).date()
    except ValueError:
        return None
