"""A person's own repeated sessions of one task: found in a folder, and what they say of how days differ.

A session does not say whose it is. So none are put together unless a folder is named that holds those of one person.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from pathlib import Path
from statistics import fmean
from typing import Any

from weightshare.errors import RecordError
from weightshare.exercise import Exercise
from weightshare.metrology.repeat import LEAST_DAYS, DayToDay, Repeat, day_to_day
from weightshare.model import Side
from weightshare.pipeline.result import SCHEMA
from weightshare.records.answer import Answer, Measure, over_days
from weightshare.records.appraisal import Appraisal
from weightshare.records.current import read_current
from weightshare.records.manifest import verify
from weightshare.records.session import ANALYSIS_NAME, FOLDER_PATTERN
from weightshare.records.setting import SETTINGS_NAME, SessionHead, read_head
from weightshare.task import Settings

Task = tuple[object, ...]
"""What has to be the same for two sessions to be repeats of each other."""


@dataclass(frozen=True, slots=True)
class Done:
    """What one session came to, by measure; `started_at` is that of its settings, and tells sessions apart."""

    started_at: str
    day: date
    task: Task
    values: Mapping[Measure, float]


@dataclass(frozen=True, slots=True)
class Repeats:
    """Sessions that were found beside the one that is looked at; those of other tasks were only counted."""

    same: tuple[Done, ...] = ()
    others: int = 0
    warnings: tuple[str, ...] = field(default=())
    """Of those that were passed over."""


def task_of(settings: Settings, supported: bool | None, basis: str | None) -> Task:
    """Return what is asked in a session and how it is done: stage, side, target, leg, surface, tempo, load, support.

    For holds also the band and the grace, which say what is held; basis: what repetitions rest on.
    """
    exercise = settings.exercise or Exercise.HOLD
    band = () if exercise.is_repeated else (settings.tolerance_percent, settings.one_sided, settings.grace_s)
    asked = (settings.target_percent, settings.injured, settings.working_side, settings.surface, settings.tempo)
    return exercise, *asked, settings.added_weight_N, supported, basis, *band


def _task_in(head: SessionHead, supported: bool | None, basis: str | None) -> Task:
    """Return the task of a session: also how long a hold was to be, and how the knee was to be held."""
    knee = None if head.prescription is None else head.prescription.stage.knee
    goal_s = None if head.settings.is_repeated else head.goal.hold_s
    return *task_of(head.settings, supported, basis), knee, goal_s


def find_repeats(place: Path, own: Done) -> Repeats:
    """Return the finished sessions in `place` of the same task as `own`, which is not among them, in order of time.

    Only what was made of a session is read, not its raw record. One that was altered, not finished, or cannot be read
    is passed over with a warning; a copy counts once. Raises RecordError where there is no such folder, or where it is
    itself a session.
    """
    if not place.is_dir():
        raise RecordError(f"{place}: is no folder; name one that holds sessions of one person")
    if (place / SETTINGS_NAME).is_file():
        raise RecordError(f"{place}: is itself a session; name the folder that holds those of one person")
    same, others, warnings = {}, 0, []
    for folder in sorted(place.glob(FOLDER_PATTERN)):
        try:
            done = read_done(folder)
        except RecordError as error:
            warnings.append(f"passed over: {error}")
            continue
        if done.started_at == own.started_at:
            continue
        if done.task != own.task:
            others += 1
        elif done.values:
            same[done.started_at] = done
        else:
            warnings.append(f"passed over: {folder}: nothing of what was asked is decided in it")
    return Repeats(tuple(same[at] for at in sorted(same)), others, tuple(warnings))


def read_done(folder: Path) -> Done:
    """Return what the finished session in `folder` came to. Raises RecordError, which names the file."""
    verify(folder, (SETTINGS_NAME, ANALYSIS_NAME))
    path, head = folder / ANALYSIS_NAME, read_head(folder)
    try:
        value = read_current(folder)
        if value["schema"] != SCHEMA:
            raise RecordError(f"{path}: is of another version ({value['schema']}); this program reads {SCHEMA}")
        rows = value["repetitions"] if head.settings.is_repeated else value["holds"] or ()
        basis = next((str(row["basis"]) for row in value["repetitions"]), None)
        task = _task_in(head, _supported(row["supported"] for row in rows), basis)
        return Done(head.started_at, _day(folder, head), task, _means(_told(value)))
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        raise RecordError(f"{path}: was altered or cut short; it holds no analysis of a session") from error


def done_of(appraisal: Appraisal, head: SessionHead, folder: Path) -> Done:
    """Return what the session in `folder` came to, as it was appraised now. Raises RecordError without a date."""
    analysis, settings = appraisal.analysis, appraisal.settings
    rows = analysis.repetitions if settings.is_repeated else analysis.holds or ()
    basis = next((str(one.basis) for one in analysis.repetitions), None)
    task = _task_in(head, _supported(row.supported for row in rows), basis)
    return Done(head.started_at, _day(folder, head), task, _means(map(_value_of, appraisal.answers)))


def _value_of(one: Answer) -> tuple[Measure, float]:
    return (one.measure, one.working), one.value_percent


def _told(value: Mapping[str, Any]) -> Iterable[tuple[Measure, float]]:
    for row in value.get("decisions") or ():
        percent = float(row["value"])
        if not math.isfinite(percent):
            raise ValueError("no finite number")
        yield (str(row["measure"]), Side(row["working"])), percent


def _means(told: Iterable[tuple[Measure, float]]) -> dict[Measure, float]:
    """Return the mean over a session's sets, by measure."""
    found: dict[Measure, list[float]] = {}
    for measure, percent in told:
        found.setdefault(measure, []).append(percent)
    return {measure: fmean(values) for measure, values in found.items()}


def _supported(each: Iterable[bool | None]) -> bool | None:
    """Return whether any of it was done with weight elsewhere; None where that is not known."""
    known = list(each)
    return True if True in known else None if None in known else False


def _day(folder: Path, head: SessionHead) -> date:
    try:
        return datetime.fromisoformat(head.started_at).date()
    except ValueError as error:
        raise RecordError(f"{folder / SETTINGS_NAME}: does not say on which day the session was") from error


def with_repeats(
    appraisal: Appraisal, head: SessionHead, folder: Path, place: Path, *, detrend: bool = False
) -> Appraisal:
    """Return `appraisal`, of the session in `folder`, with the answers of this patient, from the sessions in `place`.

    Sessions that were passed over and trends are told in the analysis's warnings. detrend: take a trend over the days
    out, and tell of the last one. Raises RecordError where there is no such folder, or no date.
    """
    own = done_of(appraisal, head, folder)
    found = find_repeats(place, own)
    measured = {measure: days_of_measure(measure, [own, *found.same], detrend=detrend) for measure in own.values}
    nothing = () if own.values else ("nothing was asked of the share, or nothing was done: days decide nothing here",)
    told = (_say_trend(measure, days) for measure, (days, _why) in measured.items() if days is not None and days.trends)
    warnings = (*appraisal.analysis.warnings, *nothing, *found.warnings, *_say_others(found.others), *told)
    answers = over_days(appraisal.answers, lambda measure: measured[measure])
    return replace(appraisal, analysis=replace(appraisal.analysis, warnings=warnings), answers=answers)


def days_of_measure(
    measure: Measure, sessions: Sequence[Done], *, detrend: bool = False
) -> tuple[DayToDay | None, str]:
    """Return how `measure` differs over the days of `sessions`, all of one task; None, and why, on too few days."""
    known = [Repeat(done.day, done.values[measure]) for done in sessions if measure in done.values]
    days = len({repeat.day for repeat in known})
    count = f"{len(known)} session{'s' if len(known) > 1 else ''} of this task on {days} day{'s' if days > 1 else ''}"
    return day_to_day(known, detrend=detrend), f"{count} only: it takes {LEAST_DAYS} days or more"


def _say_others(others: int) -> tuple[str, ...]:
    if not others:
        return ()
    named = "1 session there is" if others == 1 else f"{others} sessions there are"
    return (f"{named} of another task, and counted for nothing",)


def _say_trend(measure: Measure, days: DayToDay) -> str:
    slope = days.trend.per_month
    way = "rises" if slope.value > 0.0 else "falls"
    what = "taken out: it is told of the last day" if days.detrended else "not taken out: a person who is changing"
    return f"{measure[0]} {way} by {abs(slope.value):.1f} points a month over {days.days} days; {what}"
