"""What all sessions of a patient came to, in order of time: what a report over the weeks tells from."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.errors import RecordError, WeightshareError
from weightshare.exercise import CeilingEvent
from weightshare.model import Calibration
from weightshare.records.answer import asked_share_percent
from weightshare.records.begun import is_broken_off
from weightshare.records.calibration import CALIBRATION_NAMES, read_calibration
from weightshare.records.current import read_current
from weightshare.records.diary import About, Diary, read_diary
from weightshare.records.digest import Digest, parse_digest
from weightshare.records.figure import Figure
from weightshare.records.manifest import Ending
from weightshare.records.raw import RAW_NAME
from weightshare.records.session import ANALYSIS_NAME, CSV_NAME, PARQUET_NAME
from weightshare.records.setting import SessionHead, read_head
from weightshare.report.account import Person, day_of, hide_in_diary, hide_in_rulings
from weightshare.report.closing import names_of_stages
from weightshare.report.word import name_of

if TYPE_CHECKING:
    from weightshare.records.store.patient import Patient
    from weightshare.records.store.ruling import Ruling
    from weightshare.records.store.store import Store
    from weightshare.records.store.visit import Visit

FUTURE = "is dated in the future: a clock was wrong"
UNDATED = "does not tell its day"
_LARGE = (RAW_NAME, CSV_NAME, PARQUET_NAME)
"""What is not needed to tell what a session came to."""
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Chapter:
    """One session: when it began, what was asked for, what it came to, what the person said of it."""

    ident: str
    """The store's own name of it."""
    started_at: str
    day: date
    task: str
    """What has to be the same for two sessions to be repeats of each other."""
    head: SessionHead
    digest: Digest
    figures: tuple[Figure, ...]
    diary: Diary
    calibrations: tuple[Calibration, ...] = ()
    ending: str = str(Ending.COMPLETE)

    @property
    def key(self) -> tuple[str, str, str]:
        """What it is put together by: the side, and the programme's stage or else the task."""
        kept, side = self.head.prescription, str(self.head.settings.injured)
        return (side, "", self.task) if kept is None else (side, kept.programme, kept.stage.key)

    @property
    def name(self) -> str:
        """What was done, in words: the stage's name where it was one."""
        kept = self.head.prescription
        return name_of(self.head.settings) if kept is None else kept.stage.name

    @property
    def share_percent(self) -> float | None:
        """The mean of the share that was asked for on two legs; None where none was, or it is not known."""
        return asked_share_percent(self.head.settings, self.figures)

    @property
    def is_done(self) -> bool | None:
        """Whether all that was asked for was done: sets, repetitions, holds; None where it was not so many."""
        goal, settings = self.head.goal, self.head.settings
        if settings.is_repeated:
            return None if goal.to_exhaustion else len(self.digest.repetitions) >= goal.sets * goal.repetitions
        if self.digest.holds is None:
            return None
        return sum(one.held_s >= goal.hold_s - _ROUNDING for one in self.digest.holds) >= goal.holds

    @property
    def is_broken_off(self) -> bool:
        """Whether so little was done that it is no measurement of what was asked for."""
        return is_broken_off(self.head.settings, self.head.goal, self.digest.repetitions, self.digest.holds)

    @property
    def crossings(self) -> tuple[CeilingEvent, ...] | None:
        """When the limit of load was passed; None where none was set."""
        events = self.digest.ceiling
        return None if events is None else tuple(one for one in events if not one.unread)

    def pain(self, *about: About) -> int | None:
        """Return the most pain that was told of, of 10; None where it was not told."""
        told = [one.value for one in map(self.diary.newest, about) if one is not None and one.value is not None]
        return max(told, default=None)

    @property
    def pain_limit(self) -> int | None:
        """The most pain that the stage tolerates, of 10; None where none is set."""
        return None if self.head.prescription is None else self.head.prescription.pain_limit

    @property
    def expired(self) -> tuple[Calibration, ...]:
        """The calibrations that were no longer valid on its day."""
        return tuple(one for one in self.calibrations if one.valid_until is not None and one.valid_until < self.day)


@dataclass(frozen=True, slots=True)
class History:
    """All that is known of a patient. `chapters` are in order of time; `left_out`: sessions that count for nothing, and
    why; `programme` and `stage` are those that the patient is at now, empty where none is known."""

    person: Person
    chapters: tuple[Chapter, ...]
    rulings: tuple[Ruling, ...] = ()
    left_out: tuple[str, ...] = ()
    programme: str = ""
    stage: str = ""

    @property
    def days(self) -> tuple[date, ...]:
        """The days on which something was done, in order."""
        return tuple(dict.fromkeys(one.day for one in self.chapters))

    @property
    def stage_names(self) -> dict[str, str]:
        """What the stages are called, by their keys."""
        return names_of_stages(self.rulings, (one.head.prescription for one in self.chapters))

    @property
    def span_days(self) -> int:
        """From the first of them to the last, both counted."""
        return (self.days[-1] - self.days[0]).days + 1 if self.days else 0

    @property
    def stretches(self) -> tuple[tuple[Chapter, ...], ...]:
        """The sessions by what was done, in the order in which each was first done."""
        found: dict[tuple[str, str, str], list[Chapter]] = {}
        for one in self.chapters:
            found.setdefault(one.key, []).append(one)
        return tuple(map(tuple, found.values()))


def history_of(store: Store, patient: Patient, *, with_name: bool = False) -> History:
    """Return the history of `patient`. Raises StoreError where the list of sessions or of decisions was altered."""
    from weightshare.records.store.patient import Affected
    from weightshare.records.store.ruling import list_rulings
    from weightshare.records.store.visit import list_figures, list_visits

    figures = list_figures(store, patient)
    chapters, left_out = [], []
    for visit in list_visits(store, patient):
        try:
            found = _read(store, visit, figures.get(visit.id, ()))
        except WeightshareError as error:
            # where the store lies on this computer is nobody's business
            words = " ".join(str(error).replace(f"{store.place}{os.sep}", "").split())
            found = f"cannot be used: {words}"
        if isinstance(found, Chapter):
            chapters.append(found)
        else:
            left_out.append(f"{visit.started_at}: {found}")
    both = patient.affected is Affected.BOTH
    person = Person(patient.code, patient.name if with_name else "", patient.injured_on, both)
    rulings = tuple(list_rulings(store, patient))
    history = History(person, tuple(chapters), rulings, tuple(left_out), patient.programme, patient.stage)
    return history if with_name or not patient.name else _without_name(history, patient)


def _without_name(history: History, patient: Patient) -> History:
    chapters = tuple(replace(one, diary=hide_in_diary(one.diary, patient)) for one in history.chapters)
    return replace(history, chapters=chapters, rulings=hide_in_rulings(history.rulings, patient))


def _read(store: Store, visit: Visit, figures: Sequence[Figure]) -> Chapter | str:
    """Return what a session came to; else why it counts for nothing. Raises RecordError, StoreError."""
    day = day_of(visit.started_at)
    if day is None:
        return UNDATED
    if visit.is_future(store.clock()):
        return FUTURE
    with _small_files(store, visit) as folder:
        paths = [folder / name for name in CALIBRATION_NAMES]
        return Chapter(
            visit.id,
            visit.started_at,
            day,
            visit.task,
            read_head(folder),
            _read_digest(folder),
            tuple(figures),
            read_diary(folder),
            tuple(read_calibration(path) for path in paths if path.is_file()),
            visit.ending,
        )


def _read_digest(folder: Path) -> Digest:
    """Return what a session's analysis found, as it counts now: with what was corrected. Raises RecordError."""
    path = folder / ANALYSIS_NAME
    try:
        return parse_digest(read_current(folder), path)
    except (OSError, ValueError, RecursionError) as error:
        raise RecordError(f"{path}: holds no analysis that this version knows") from error


@contextmanager
def _small_files(store: Store, visit: Visit) -> Iterator[Path]:
    """Hand out a folder with a session's small files; of a sealed store a copy that is gone afterwards."""
    from weightshare.records.store.visit import about_file, kept_files

    kept = store.sessions / visit.id
    if not store.box.is_sealed:
        yield kept
        return
    with tempfile.TemporaryDirectory(prefix="weightshare-") as name:
        for path in kept_files(kept):
            if path.name not in _LARGE:
                store.box.get(path, Path(name) / path.name, about_file(visit.id, path.name))
        yield Path(name)


def longest_pause(days: Sequence[date]) -> tuple[date, date] | None:
    """Return the two practice days in a row that lie furthest apart; None where there are not two."""
    return max(pairwise(days), key=lambda pair: pair[1] - pair[0], default=None)


def count_by_week(days: Sequence[date]) -> tuple[tuple[date, int], ...]:
    """Return the first day of each week from the first practice day on, with the practice days in it."""
    if not days:
        return ()
    weeks = (days[-1] - days[0]).days // 7 + 1
    counts = [0] * weeks
    for day in days:
        counts[(day - days[0]).days // 7] += 1
    return tuple((date.fromordinal(days[0].toordinal() + 7 * week), count) for week, count in enumerate(counts))
