"""A patient's sessions of one stage, put together as the evidence for the next one."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from weightshare.errors import StoreError, WeightshareError
from weightshare.exercise import Basis
from weightshare.model import Side
from weightshare.programme.criterion import Measure
from weightshare.programme.judgement import Found, find_warnings
from weightshare.programme.prescription import Prescription, goal_of, prescribe
from weightshare.records.appraisal import Appraisal
from weightshare.records.assessment import Elsewhere, days_met
from weightshare.records.begun import is_broken_off
from weightshare.records.diary import read_diary
from weightshare.records.evidence import Evidence, Sitting, weigh
from weightshare.records.proof import find_proof
from weightshare.records.repeat import task_of
from weightshare.records.session import appraise_session
from weightshare.records.setting import SessionHead, read_head
from weightshare.records.store.patient import Affected, Patient
from weightshare.records.store.store import Store, Tell, quiet
from weightshare.records.store.visit import Visit, list_visits, opened

FUTURE = "is dated in the future: a clock was wrong"
BROKEN_OFF = "was broken off: less than half of a set was done, and no hold"
OTHER_SIDE = "was of the other side"
BY_HAND = "was done otherwise than the stage is prescribed"
NO_OTHER_LEG = "both sides are injured: there is no uninjured one to hold it against"
AGAINST_OTHER = (Measure.HEIGHT_INDEX, Measure.REPETITIONS_INDEX, Measure.WORK_INDEX)
OTHER_BASIS = "has repetitions that rest on another basis than the newest's"


def gather(
    store: Store,
    patient: Patient,
    kept: Prescription,
    sources: dict[str, str],
    *,
    bring: Callable[[Path], Appraisal] = appraise_session,
    tell: Tell = quiet,
) -> Evidence:
    """Return the evidence that the sessions of `patient` of the stage `kept.stage` bring; others are passed by.

    bring: what computes a session again. Those of it that count for nothing are told with the reason. Raises StoreError
    where the list of sessions was altered.
    """
    left_out: list[str] = []
    brought: list[_Brought] = []
    visits = list_visits(store, patient)
    for done, visit in enumerate(visits):
        tell(done, len(visits))
        try:
            one = _bring(store, patient, kept, visit, bring)
        except WeightshareError as error:
            one = f"cannot be used: {' '.join(str(error).split())}"
        if isinstance(one, _Brought):
            brought.append(one)
        elif one:
            left_out.append(f"{visit.started_at}: {one}")
    whys = [one.unlike(brought[-1]) for one in brought]
    left_out += [f"{one.sitting.started_at}: {why}" for one, why in zip(brought, whys, strict=True) if why]
    alike = [one.sitting for one, why in zip(brought, whys, strict=True) if not why]
    followed = brought[-1].injured if brought else None
    return replace(weigh(kept, alike, sources, tuple(left_out)), followed=followed)


def met_before(store: Store, patient: Patient, head: SessionHead) -> Elsewhere:
    """Return on which days before that of `head` sessions of `patient` of its stage met all criteria: as many as it
    takes. Raises StoreError where the list of sessions was altered."""
    if head.prescription is None or head.prescription.stage.days < 2:
        return Elsewhere(head)
    return Elsewhere(head, frozenset(days_met(head, _newest_first(store, patient))))


def _newest_first(store: Store, patient: Patient) -> Iterator[Path]:
    now = store.clock()
    for visit in reversed(list_visits(store, patient)):
        # one that was altered is no proof, and keeps nobody from the others
        with suppress(StoreError, OSError):
            if not visit.is_future(now):
                with opened(store, visit) as folder:
                    yield folder


@dataclass(frozen=True, slots=True)
class _Brought:
    """What a session brings, and what has to be the same for two of them to be put together."""

    sitting: Sitting
    injured: Side
    basis: Basis | None

    def unlike(self, newest: _Brought) -> str:
        """Return why it is not put together with the newest one; empty where it is."""
        if self.injured is not newest.injured:
            return OTHER_SIDE
        return "" if self.basis is newest.basis else OTHER_BASIS


def _bring(
    store: Store, patient: Patient, kept: Prescription, visit: Visit, bring: Callable[[Path], Appraisal]
) -> _Brought | str:
    """Return what a session brings; else why it counts for nothing, empty where it is of another stage."""
    with opened(store, visit) as folder:
        head = read_head(folder)
        theirs, injured = head.prescription, head.settings.injured
        if theirs is None or (theirs.programme, theirs.stage.key) != (kept.programme, kept.stage.key):
            return ""
        if visit.is_future(store.clock()):
            return FUTURE
        if patient.injured not in (None, injured):
            return OTHER_SIDE
        if task_of(head.settings, None, None) != task_of(prescribe(kept.stage, injured), None, None):
            return BY_HAND
        appraisal = bring(folder)
        # less that was asked for by hand is no proof of what is prescribed
        found = find_proof(appraisal, goal_of(kept.stage), read_diary(folder))
        if patient.affected is Affected.BOTH:
            found = tuple(_bare(one) if one.measure in AGAINST_OTHER else one for one in found)
        done = appraisal.analysis
        broken_off = is_broken_off(head.settings, head.goal, done.repetitions, done.holds)
        if broken_off and not find_warnings(found, kept.pain_limit):
            return BROKEN_OFF
        day = datetime.fromisoformat(head.started_at).date()
        return _Brought(Sitting(head.started_at, day, found), injured, appraisal.analysis.basis)


def _bare(one: Found) -> Found:
    return Found(one.measure, None, of=one.of, why_not=NO_OTHER_LEG)
