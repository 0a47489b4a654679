"""Days on which a stage was met, counted over a patient's sessions in the store."""

from __future__ import annotations

import shutil
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.lab.weeks import CODE
from weightshare.cli import main
from weightshare.practice.clinic.sight import charge_of, find_stage
from weightshare.practice.option import PractiseOptions
from weightshare.programme.judgement import Course
from weightshare.records.assessment import Elsewhere, assess_session
from weightshare.records.session import appraise_session
from weightshare.records.setting import read_head
from weightshare.records.store.patient import find_patient
from weightshare.records.store.sheaf import gather, met_before
from weightshare.records.store.store import open_store
from weightshare.records.store.visit import list_visits, opened


def now() -> datetime:
    return datetime.now().astimezone()


def test_the_days_are_those_that_the_evidence_tells_of(weeks: Path, tmp_path: Path) -> None:
    """`lowering-90` asks for two days: one before and the one itself."""
    with open_store(weeks, "tester", now) as store:
        patient = find_patient(store, CODE)
        kept, prescription = find_stage(patient)
        told = gather(store, patient, prescription, {}).days_met
        newest = list_visits(store, patient)[-1]
        with opened(store, newest) as folder:
            head, appraisal = read_head(folder), appraise_session(folder)
            found = met_before(store, patient, head)
            alone, with_store = assess_session(folder, appraisal), assess_session(folder, appraisal, found)
        earlier = [day for day in told if day < head.started_at[:10]]
        assert found.days == frozenset(earlier[-1:]), "no more are looked for than are asked for"
        assert alone is not None and with_store is not None
        assert alone.days_met == int(alone.is_met) and with_store.days_met == len(found.days) + int(alone.is_met)
        charge = charge_of(store, patient, head.settings.injured)
        assert charge.elsewhere is not None and charge.elsewhere.days == frozenset(told[-1:])
        stage = replace(prescription.stage, days=1)
        assert met_before(store, patient, replace(head, prescription=replace(prescription, stage=stage))).days == set()
    # days of another stage, of the other side, or to come, count for nothing
    shutil.copytree(folder, tmp_path / "session-1")
    other = replace(head, prescription=kept.prescription(kept.find("lowering-85")))
    swapped = replace(head, settings=replace(head.settings, injured=head.settings.injured.other))
    later = (datetime.fromisoformat(head.started_at) + timedelta(days=1)).date().isoformat()
    for elsewhere in (Elsewhere(other, frozenset(["2026-01-01"])), Elsewhere(swapped, frozenset(["2026-01-01"]))):
        bare = assess_session(tmp_path / "session-1", appraisal, elsewhere)
        assert bare is not None and bare.days_met == alone.days_met
    bare = assess_session(tmp_path / "session-1", appraisal, Elsewhere(head, frozenset([later])))
    assert bare is not None and bare.days_met == alone.days_met
    more = assess_session(tmp_path / "session-1", appraisal, Elsewhere(head, frozenset(["2026-01-01", "2026-01-02"])))
    assert more is not None and more.days_met == 1 + int(alone.is_met)
    assert (more.suggestion.course is Course.NEXT) is alone.is_met


def test_the_command_counts_them_too(
    weeks: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[PractiseOptions] = []

    def see(options: PractiseOptions, _args: object) -> int:
        seen.append(options)
        return 0

    monkeypatch.setattr("weightshare.cli.practise._run_headless", see)
    place = tmp_path / "s"
    shutil.copytree(weeks, place)
    words = ["--headless", "--source", "rig:raiser", "--store", str(place)]
    assert main(["practise", "--patient", CODE, *words]) == 0
    (options,) = seen
    assert options.elsewhere is not None and options.prescription is not None
    assert options.prescription.stage.key == "lowering-90" and len(options.elsewhere.days) == 1
    assert options.code == CODE, "the window says whose session it is"
