"""How figures went over the days, task by task, from sessions at hand: only what was done alike is compared."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from weightshare.metrology.course import Course, courses_of, extent_of
from weightshare.metrology.repeat import Repeat
from weightshare.model import Side
from weightshare.records.begun import is_broken_off
from weightshare.records.export.saved import SavedSession
from weightshare.records.figure import repeats_of
from weightshare.records.repeat import Task, done_of
from weightshare.records.task import name_tasks

if TYPE_CHECKING:
    import pandas as pd


@dataclass(frozen=True, slots=True)
class Trend:
    """The course of one figure in one task. `side`: whose it is; None: of both legs' work.

    `course.band` is the band of no real change about the first day; None where there are fewer than four days.
    """

    task: str
    figure: str
    unit: str
    side: Side | None
    course: Course

    def frame(self) -> pd.DataFrame:
        """Return one row a day: `day`, `value`, `sessions`, `is_change` (<NA> where that is not known)."""
        import pandas as pd

        days = self.course.days
        frame = pd.DataFrame({name: [getattr(one, name) for one in days] for name in ("day", "value", "sessions")})
        return frame.assign(is_change=pd.Series([one.is_change for one in days], dtype="boolean"))


def trends_of(sessions: Iterable[SavedSession]) -> tuple[Trend, ...]:
    """Return the course of each figure of each task that was done on two days or more, tasks by their first day.

    A session that is there twice counts once. Raises RecordError where a session has no day.
    """
    known = {session.id: session for session in sorted(sessions, key=lambda one: one.started_at)}
    told: list[tuple[tuple[Task, str, str, Side | None], Repeat]] = []
    for session in known.values():
        done = done_of(session.appraisal, session.head, session.folder)
        content = session.content
        if is_broken_off(session.settings, session.head.goal, content["repetitions"], content["holds"]):
            continue
        mine = repeats_of(done.day, session.figures, alone=session.settings.is_single)
        told += [((done.task, *kind), repeat) for kind, repeat in mine]
    made = courses_of(told, lambda key: extent_of(key[2]))
    tasks = list(dict.fromkeys(task for task, *_rest in made))
    words = dict(zip(tasks, map(", ".join, name_tasks(tasks)), strict=True))
    return tuple(Trend(words[task], name, unit, side, course) for (task, name, unit, side), course in made.items())
