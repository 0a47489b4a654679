"""Everything that a report of one session tells from: its samples and figures, whose it is, what came before."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.errors import OptionError, RecordError, WeightshareError
from weightshare.metrology.index import Kind, Reliability
from weightshare.metrology.repeat import DayToDay
from weightshare.model import Calibration
from weightshare.programme.shelf import find_programme
from weightshare.records.answer import HELD, LOWERING, Measure, over_days
from weightshare.records.appraisal import Appraisal
from weightshare.records.assessment import Assessment, Elsewhere, assess_session
from weightshare.records.diary import Diary, read_diary
from weightshare.records.figure import Figure
from weightshare.records.manifest import is_sealed
from weightshare.records.repeat import Done, days_of_measure
from weightshare.records.session import FOLDER_PATTERN, Replayed, replay_session
from weightshare.records.setting import SETTINGS_NAME, SessionHead, read_head
from weightshare.records.stray import strays_of

if TYPE_CHECKING:
    from weightshare.records.store.patient import Patient
    from weightshare.records.store.ruling import Ruling
    from weightshare.records.store.store import Store
    from weightshare.records.store.visit import Visit

UNDATED = "of an unknown day"


@dataclass(frozen=True, slots=True)
class Sitting:
    """What one session of the same task came to, and when it began."""

    started_at: str
    day: date
    figures: tuple[Figure, ...]


@dataclass(frozen=True, slots=True)
class Person:
    """Whose session it is. `name` is empty unless it was asked for; `injured_on` is ISO 8601, empty where not told."""

    code: str
    name: str = ""
    injured_on: str = ""
    both_injured: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Account:
    """Everything that is known of one session.

    sittings: those of the same task, this one among them unless it was broken off, in order of time; empty where none
    were looked for. rulings:
    what was decided about the person. passed_over: why a session that was found does not count.
    """

    replayed: Replayed
    appraisal: Appraisal
    person: Person | None = None
    sittings: tuple[Sitting, ...] = ()
    rulings: tuple[Ruling, ...] = ()
    passed_over: tuple[str, ...] = field(default=())
    assessment: Assessment | None = None
    """The stage's criteria; None where it was a session of none."""
    diary: Diary = field(default_factory=Diary)
    """What the person said of it."""
    later_sittings: int = 0
    later_rulings: int = 0
    """What came after the session's day, and after the decision that followed it, and is left out here."""
    stage_names: Mapping[str, str] = field(default_factory=dict)
    """What the stages of the patient's programme are called, by their keys."""

    @property
    def head(self) -> SessionHead:
        """What is known of it beside its bytes."""
        return self.replayed.session.head

    @property
    def calibrations(self) -> tuple[Calibration, ...]:
        """Those of its scales."""
        return self.replayed.session.calibrations

    @property
    def both_injured(self) -> bool:
        """Whether there is no uninjured side to compare with."""
        return self.person is not None and self.person.both_injured

    def strays(self) -> Mapping[Kind, Reliability]:
        """Return how far this person's symmetry strays, from their own sessions of the task."""
        injured = self.replayed.session.settings.injured
        return strays_of([(one.day, one.figures) for one in self.sittings], injured)


def account_of(folder: Path, place: Path | None = None) -> Account:
    """Return all of the session in `folder`; `place` holds sessions of the same person.

    Raises RecordError where a session cannot be used, and OptionError where it is not finished and others are asked
    for.
    """
    account = _account(folder)
    if place is None:
        return account
    if not is_sealed(folder):
        raise OptionError(f"{folder}: was not finished; weightshare analyse {folder} --recover does that")
    sittings, passed_over = _find(folder, place)
    return replace(account, appraisal=_over(account.appraisal, sittings), sittings=sittings, passed_over=passed_over)


def _account(folder: Path, elsewhere: Elsewhere | None = None) -> Account:
    """Return what the session says by itself; `elsewhere`: on which days its stage was met before."""
    replayed = replay_session(folder)
    assessment = assess_session(folder, replayed.appraisal, elsewhere)
    return Account(replayed, replayed.appraisal, assessment=assessment, diary=read_diary(folder))


def account_of_visit(
    store: Store, patient: Patient, visit: Visit, folder: Path, *, with_name: bool = False, as_then: bool = False
) -> Account:
    """Return all of the session `visit` of `patient`, whose files lie in `folder`. Raises RecordError, StoreError.

    as_then: as it was known then, without the sessions of later days, and with decisions up to the one that followed.
    """
    from weightshare.records.store.patient import Affected
    from weightshare.records.store.ruling import list_rulings
    from weightshare.records.store.sheaf import met_before
    from weightshare.records.store.visit import list_figures, list_visits

    figures = list_figures(store, patient)
    alike = [one for one in list_visits(store, patient) if one.task == visit.task]
    same = [one for one in alike if not (one.broken_off or one.is_future(store.clock()))]
    every = _in_order((one.started_at, figures.get(one.id, ())) for one in same)
    rulings = tuple(list_rulings(store, patient))
    sittings, known = (_up_to(every, visit), rulings_until(rulings, visit.started_at)) if as_then else (every, rulings)
    both = patient.affected is Affected.BOTH
    person = Person(patient.code, patient.name if with_name else "", patient.injured_on, both)
    account = _account(folder, met_before(store, patient, read_head(folder)))
    found = replace(
        account,
        appraisal=_over(account.appraisal, sittings),
        person=person,
        sittings=sittings,
        rulings=known,
        later_sittings=len(every) - len(sittings),
        later_rulings=len(rulings) - len(known),
        stage_names=_stage_names(patient.programme),
    )
    return found if with_name or not patient.name else _without_name(found, patient)


def _up_to(sittings: Sequence[Sitting], visit: Visit) -> tuple[Sitting, ...]:
    """Return those up to the day of `visit`; all of them where it does not tell its day."""
    day = day_of(visit.started_at)
    return tuple(one for one in sittings if day is None or one.day <= day)


def rulings_until(rulings: Sequence[Ruling], started_at: str) -> tuple[Ruling, ...]:
    """Return decisions up to the one that followed a session; all of them where it does not tell when it began."""
    began = _instant(started_at)
    if began is None:
        return tuple(rulings)
    followed = ((place, _instant(one.at)) for place, one in enumerate(rulings, 1))
    return tuple(rulings[: next((place for place, at in followed if at is not None and at >= began), None)])


def _instant(at: str) -> datetime | None:
    """Return when something was; where no zone is told, that of this machine."""
    try:
        return datetime.fromisoformat(at).astimezone()
    except (ValueError, OverflowError):
        return None


def _stage_names(place: str) -> dict[str, str]:
    """Return what the stages of a programme are called, by their keys; nothing where it cannot be read."""
    try:
        return {one.key: one.name for one in find_programme(place).programme.stages} if place else {}
    except WeightshareError:
        return {}


def _without_name(account: Account, patient: Patient) -> Account:
    """Return `account` with the patient's name, where somebody wrote it into a note, as the code."""
    session = account.replayed.session
    entries = tuple(replace(one, reason=_hide(one.reason, patient)) for one in session.corrections.entries)
    session = replace(session, corrections=replace(session.corrections, entries=entries))
    return replace(
        account,
        replayed=replace(account.replayed, session=session),
        rulings=hide_in_rulings(account.rulings, patient),
        diary=hide_in_diary(account.diary, patient),
    )


def hide_in_rulings(rulings: Sequence[Ruling], patient: Patient) -> tuple[Ruling, ...]:
    """Return decisions with the patient's name in their notes as the code."""
    return tuple(replace(one, note=_hide(one.note, patient)) for one in rulings)


def hide_in_diary(diary: Diary, patient: Patient) -> Diary:
    """Return a diary with the patient's name in its notes as the code."""
    return Diary(tuple(replace(one, words=_hide(one.words, patient)) for one in diary.entries))


def _hide(words: str, patient: Patient) -> str:
    return re.sub(re.escape(patient.name), lambda _found: patient.code, words, flags=re.IGNORECASE)


def _find(folder: Path, place: Path) -> tuple[tuple[Sitting, ...], tuple[str, ...]]:
    from weightshare.records.store.visit import read_visit

    if not place.is_dir() or (place / SETTINGS_NAME).is_file():
        raise OptionError(f"--repeats {place}: name a folder that holds sessions of this person")
    own, own_figures = read_visit(folder)
    found, passed_over = [(own.started_at, own_figures)], []
    for other in sorted(place.glob(FOLDER_PATTERN)):
        try:
            visit, figures = read_visit(other)
        except RecordError as error:
            passed_over.append(f"passed over: {error}")
            continue
        if visit.task == own.task and visit.started_at != own.started_at and not visit.broken_off:
            found.append((visit.started_at, figures))
    return _in_order(found), tuple(passed_over)


def _in_order(found: Iterable[tuple[str, tuple[Figure, ...]]]) -> tuple[Sitting, ...]:
    """Return the sittings by time; one that was copied counts once, one without a day not at all."""
    known = {started_at: figures for started_at, figures in found if day_of(started_at) is not None}
    return tuple(Sitting(at, day_of(at) or date.min, known[at]) for at in sorted(known))


def day_of(started_at: str) -> date | None:
    """Return the day on which a session began; None where it does not say."""
    try:
        return datetime.fromisoformat(started_at).date()
    except ValueError:
        return None


def _over(appraisal: Appraisal, sittings: Sequence[Sitting]) -> Appraisal:
    """Return `appraisal` with the answers of this patient, from the days on which the task was done."""
    done = [Done(one.started_at, one.day, (), _values(one)) for one in sittings]

    def days_of(measure: Measure) -> tuple[DayToDay | None, str]:
        return days_of_measure(measure, [one for one in done if measure in one.values])

    return replace(appraisal, answers=over_days(appraisal.answers, days_of)) if done else appraisal


def _values(sitting: Sitting) -> dict[Measure, float]:
    decided = [one for one in sitting.figures if one.name in (LOWERING, HELD) and one.side is not None]
    return {(one.name, one.side): one.value for one in decided if one.side is not None}
