"""A person's own sessions of one task: which are put together, which are passed over, and what they say."""

from __future__ import annotations

import json
import shutil
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest

from tests.unit.test_answer import BOTH, RAISE, RAISED, asked
from weightshare.errors import RecordError
from weightshare.exercise import Basis, Exercise, Surface, Tempo
from weightshare.metrology.decision import ONE_SESSION, Verdict
from weightshare.model import Side
from weightshare.programme.prescription import Prescription
from weightshare.programme.stage import Knee, Stage
from weightshare.records.appraisal import Appraisal
from weightshare.records.manifest import MANIFEST_NAME, Ending, seal
from weightshare.records.repeat import Task, find_repeats, read_done, task_of, with_repeats
from weightshare.records.setting import SessionHead, write_head
from weightshare.task import Goal, Settings

SOFAR = asked(RAISED, RAISE, BOTH[:1])
FIRST = datetime(2026, 3, 2, 10, 0, tzinfo=timezone(timedelta(hours=1)))
VALUES = (50.5, 48.0, 52.0, 49.5)


def head_on(day: int, settings: Settings = RAISE, hour: int = 0) -> SessionHead:
    return SessionHead(settings, started_at=(FIRST + timedelta(days=day, hours=hour)).isoformat())


def keep(place: Path, head: SessionHead, percent: float, appraisal: Appraisal = SOFAR, **changes: Any) -> Path:
    """Write what is read of a finished session: settings, analysis, manifest."""
    folder = place / f"session-{head.started_at[:19].replace(':', '')}"
    folder.mkdir(parents=True)
    content = {**appraisal.to_json(), **changes}
    for row in content["decisions"]:
        row["value"] = percent
    write_head(folder, head)
    (folder / "analysis.json").write_text(json.dumps(content))
    seal(folder, ["settings.json", "analysis.json"], Ending.COMPLETE, "weightshare 0")
    return folder


def keep_all(place: Path, values: Sequence[float] = VALUES) -> list[Path]:
    return [keep(place, head_on(3 * number), value) for number, value in enumerate(values)]


def with_value(percent: float) -> Appraisal:
    return replace(SOFAR, answers=tuple(replace(one, value_percent=percent) for one in SOFAR.answers))


def of_patient(place: Path, folder: Path, percent: float, **options: Any) -> Appraisal:
    head = head_on(30) if not folder.exists() else head_on(9)
    return with_repeats(with_value(percent), head, folder, place, **options)


def test_sessions_of_the_same_task_on_other_days_answer_of_the_patient(tmp_path: Path) -> None:
    keep_all(tmp_path)
    (answer,) = of_patient(tmp_path, tmp_path / "elsewhere", 50.0).answers
    second, days = answer.of_this_patient, answer.days
    assert second is not None and days is not None
    # the four that were kept, and the session itself
    assert (days.days, days.sessions) == (5, 5)
    assert second.decision.estimate.value == pytest.approx(50.0)
    assert second.decision.verdict is Verdict.MET
    told = answer.to_json()["of_this_patient"]
    assert (told["days"], told["first"], told["last"]) == (5, "2026-03-02", "2026-04-01")
    assert told["u"] == pytest.approx(days.mean.u, rel=0.01)


def test_the_session_itself_counts_once_wherever_it_lies(tmp_path: Path) -> None:
    folders = keep_all(tmp_path)
    shutil.copytree(folders[0], tmp_path / "session-copy")
    (answer,) = of_patient(tmp_path, folders[3], 49.5).answers
    assert answer.days is not None
    assert (answer.days.days, answer.days.sessions) == (4, 4)


def test_several_sessions_of_one_day_are_one_day(tmp_path: Path) -> None:
    for hour in range(4):
        keep(tmp_path, head_on(0, hour=hour), 50.0)
    (answer,) = of_patient(tmp_path, tmp_path / "elsewhere", 50.0).answers
    assert answer.of_this_patient is None
    assert answer.why_not == "5 sessions of this task on 2 days only: it takes 3 days or more"
    assert answer.in_this_set is not None


@pytest.mark.parametrize(
    "changes",
    [
        {"injured": Side.RIGHT},
        {"target_percent": 55.0},
        {"surface": Surface.STEP},
        {"tempo": Tempo(1, 1, 3)},
        {"added_weight_N": 50.0},
        {"exercise": None},
    ],
)
def test_another_task_is_never_mixed_in(tmp_path: Path, changes: dict[str, Any]) -> None:
    for number, value in enumerate(VALUES):
        keep(tmp_path, head_on(number, replace(RAISE, **changes)), value)
    found = of_patient(tmp_path, tmp_path / "elsewhere", 50.0)
    (answer,) = found.answers
    assert answer.of_this_patient is None
    assert "1 session of this task on 1 day only" in answer.why_not
    assert "4 sessions there are of another task, and counted for nothing" in found.analysis.warnings


def test_support_basis_and_for_holds_the_band_make_another_task() -> None:
    plain = task_of(RAISE, False, "height")
    assert plain == task_of(replace(RAISE, tolerance_percent=3.0), False, "height")
    assert plain != task_of(RAISE, True, "height")
    assert plain != task_of(RAISE, None, "height")
    assert plain != task_of(RAISE, False, str(Basis.FORCE))
    hold = Settings(Side.LEFT, 75.0)
    assert task_of(hold, False, None) != task_of(replace(hold, tolerance_percent=3.0), False, None)
    assert task_of(hold, False, None) != task_of(replace(hold, grace_s=0.5), False, None)


def test_knees_and_the_time_to_be_held_make_another_task(tmp_path: Path) -> None:
    """A longest hold of 30 s where 30 were asked for is no change from 10 s where 10 were."""

    def task(number: int, settings: Settings, knee: Knee, hold_s: float) -> Task:
        stage = Stage("a", "A", settings.exercise or Exercise.HOLD, knee=knee)
        kept = Prescription("own", "1", "0" * 64, stage)
        head = replace(head_on(number, settings), goal=Goal(hold_s), prescription=kept)
        return read_done(keep(tmp_path, head, 50.0)).task

    hold = Settings(Side.LEFT, 50.0)
    usual = task(1, RAISE, Knee.STRAIGHT, 10.0), task(2, hold, Knee.STRAIGHT, 10.0)
    assert usual == (task(3, RAISE, Knee.STRAIGHT, 30.0), task(4, hold, Knee.STRAIGHT, 10.0))
    assert task(5, RAISE, Knee.BENT, 10.0) != usual[0]
    assert task(6, hold, Knee.STRAIGHT, 30.0) != usual[1]


def test_supported_work_is_told_apart(tmp_path: Path) -> None:
    rows = [{**row, "supported": True} for row in SOFAR.to_json()["repetitions"]]
    keep(tmp_path, head_on(1), 50.0, repetitions=rows)
    found = of_patient(tmp_path, tmp_path / "elsewhere", 50.0)
    assert "1 session there is of another task, and counted for nothing" in found.analysis.warnings


def test_damaged_sessions_are_passed_over_with_a_warning_that_names_them(tmp_path: Path) -> None:
    folders = keep_all(tmp_path, (*VALUES, 50.0, 51.0, 49.0))
    (folders[0] / "analysis.json").write_text("{}")
    (folders[1] / MANIFEST_NAME).unlink()
    (folders[2] / "settings.json").unlink()
    for number, content in ((3, "{}"), (4, "[1]"), (5, '{"schema": "weightshare.analysis/9"}')):
        (folders[number] / "analysis.json").write_text(content)
        seal(folders[number], ["settings.json", "analysis.json"], Ending.COMPLETE, "weightshare 0")
    found = of_patient(tmp_path, tmp_path / "elsewhere", 50.0)
    (answer,) = found.answers
    assert "2 sessions of this task on 2 days only" in answer.why_not
    passed = [warning for warning in found.analysis.warnings if warning.startswith("passed over: ")]
    assert len(passed) == 6
    assert all(str(folder) in warning for folder, warning in zip(folders, passed, strict=False))
    assert "of another version" in passed[5]


def test_a_session_that_decided_nothing_is_passed_over_and_named(tmp_path: Path) -> None:
    folder = keep(tmp_path, head_on(1), 50.0, decisions=[])
    found = of_patient(tmp_path, tmp_path / "elsewhere", 50.0)
    assert any(str(folder) in warning and "nothing" in warning for warning in found.analysis.warnings)


@pytest.mark.parametrize("value", ["NaN", "null", '"much"', "Infinity"])
def test_a_value_that_is_none_is_refused(tmp_path: Path, value: str) -> None:
    folder = keep(tmp_path, head_on(1), 50.0)
    path = folder / "analysis.json"
    content = json.loads(path.read_text())
    content["decisions"][0]["value"] = "HERE"
    path.write_text(json.dumps(content).replace('"HERE"', value))
    seal(folder, ["settings.json", "analysis.json"], Ending.COMPLETE, "weightshare 0")
    with pytest.raises(RecordError, match=r"analysis\.json: was altered or cut short"):
        read_done(folder)


def test_what_was_never_sealed_and_a_session_without_a_date_are_refused(tmp_path: Path) -> None:
    folder = keep(tmp_path, head_on(1), 50.0)
    seal(folder, ["settings.json"], Ending.COMPLETE, "weightshare 0")
    with pytest.raises(RecordError, match=r"analysis\.json: is no part of its session"):
        read_done(folder)
    undated = keep(tmp_path, SessionHead(RAISE, started_at="yesterday"), 50.0)
    with pytest.raises(RecordError, match="does not say on which day"):
        read_done(undated)


def test_a_folder_that_is_none_is_refused(tmp_path: Path) -> None:
    done = read_done(keep(tmp_path, head_on(1), 50.0))
    with pytest.raises(RecordError, match="is no folder"):
        find_repeats(tmp_path / "nowhere", done)
    with pytest.raises(RecordError, match="is itself a session"):
        find_repeats(next(tmp_path.glob("session-*")), done)


def test_a_trend_is_told_and_taken_out_only_when_asked(tmp_path: Path) -> None:
    for number, value in enumerate((46.0, 47.1, 47.9, 49.0)):
        keep(tmp_path, head_on(7 * number), value)
    plain = of_patient(tmp_path, tmp_path / "elsewhere", 50.0)
    without = of_patient(tmp_path, tmp_path / "elsewhere", 50.0, detrend=True)
    (told,) = (warning for warning in plain.analysis.warnings if "points a month" in warning)
    assert "mean share in the lowering rises by" in told and "not taken out" in told
    assert any("taken out: it is told of the last day" in warning for warning in without.analysis.warnings)
    (mean,), (last,) = plain.answers, without.answers
    assert mean.of_this_patient is not None and last.of_this_patient is not None
    assert last.of_this_patient.decision.estimate.value > mean.of_this_patient.decision.estimate.value + 1.0
    assert last.of_this_patient.decision.estimate.u < mean.of_this_patient.decision.estimate.u


def test_not_asked_for_other_sessions_nothing_is_put_together() -> None:
    (answer,) = SOFAR.answers
    assert answer.of_this_patient is None
    assert answer.why_not == ONE_SESSION
