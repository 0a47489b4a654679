"""The made-up patient of the eight weeks: real sessions, none of them in the future, as the story has them."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

from tests.lab.weeks import CODE, MEETINGS, SPAN, TINY, TURNS
from weightshare.programme.shelf import find_programme
from weightshare.records.store.check import check_store
from weightshare.records.store.patient import find_patient
from weightshare.records.store.ruling import list_rulings
from weightshare.records.store.store import open_store
from weightshare.records.store.visit import list_visits


def now() -> datetime:
    return datetime.now().astimezone()


def test_the_story_goes_from_the_first_hold_to_the_eve_of_one_leg() -> None:
    stages = [stage.key for stage in find_programme("achilles").programme.stages]
    told = [one.stage for one in MEETINGS]
    assert told[0] == stages[0] and told[-1] == "lowering-90"
    assert stages[stages.index("lowering-90") + 1] == "one-leg-down"
    assert [one.day for one in MEETINGS] == sorted({one.day for one in MEETINGS})
    assert [stages.index(one) for one in told] == sorted(stages.index(one) for one in told)
    assert MEETINGS[-1].day < SPAN.days and timedelta(weeks=8) <= SPAN


def test_its_sessions_are_whole_and_of_days_that_are_over(weeks: Path) -> None:
    with open_store(weeks, "tester", now) as store:
        assert check_store(store).faults == ()
        patient = find_patient(store, CODE)
        visits = list_visits(store, patient)
        assert [one.stage_from for one in list_rulings(store, patient)] == [
            "hold-10",
            "hold-30",
            "raise-slow",
            "raise",
            *("lowering-60", "lowering-75", "lowering-80", "lowering-80", "lowering-85"),
        ]
    assert len(visits) == len(TINY) and len(TURNS) == 10
    assert not any(one.is_future(now()) for one in visits)
    assert [one.repetitions for one in visits] == [30] * len(TINY)
    assert {one.target_percent for one in visits} == {90.0}
