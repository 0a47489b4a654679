"""What a session suggests, offered: read by a patient, taken by the clinician, kept with the session and its reason."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.unit.test_assessment import KEPT, LOWERING, analysis_of, appraised
from weightshare.errors import WeightshareError
from weightshare.metrology.decision import Verdict
from weightshare.model import Side
from weightshare.practice.offer import ASK, find_offered, note_of, say_offer, take_offer
from weightshare.programme.criterion import Criterion, Measure
from weightshare.programme.judgement import AS_IT_IS, Course, Row, Suggestion
from weightshare.programme.shelf import find_programme
from weightshare.records.assessment import Assessment, assess
from weightshare.records.diary import LONGEST_NOTE, Diary, read_diary

NOW = datetime(2026, 11, 24, 10, 0, tzinfo=UTC)
REASONS = (
    "sets done with all repetitions: 3, asked at least 3: met",
    "share in the lowering: 75.0 %, asked 70 to 80: met",
)


def suggested(key: str = "lowering-80", course: Course = Course.NEXT, reasons: tuple[str, ...] = REASONS) -> Assessment:
    stage = KEPT.find(key)
    found = assess(KEPT.prescription(LOWERING), appraised(analysis_of(3, 10)), Diary())
    words = f"{stage.name} (from 75 to 80 %) could be next. The treating clinician decides."
    return replace(found, suggestion=Suggestion(course, words, stage, reasons))


def test_the_clinician_reads_the_numbers_and_a_patient_to_ask() -> None:
    found = suggested()
    told = say_offer(found, patient=False)
    assert told.startswith("Down with 80 % (from 75 to 80 %) could be next.") and ASK not in told
    assert (
        "It rests on: " in told
        and "sets done with all repetitions: 3, asked at least 3: met" in told
        and "75.0 %, asked 70 to 80" in told
    )
    patient = say_offer(found, patient=True)
    assert patient.endswith("decides. Ask your physiotherapist.") and "It rests on" not in patient


def test_what_it_rests_on_is_told_criterion_by_criterion() -> None:
    found = assess(KEPT.prescription(LOWERING), appraised(analysis_of(3, 10)), Diary())
    told = say_offer(found, patient=False)
    assert "sets done with all repetitions: 3, asked at least 3: met" in told
    assert "share in the lowering, each set (set 1): 75 %, asked 70 to 80: undecided, no calibration" in told
    assert "pain during: not known" in told


def test_each_number_stands_with_what_it_is_worth_how_sure_that_is_and_of_which_set() -> None:
    wanted = Criterion(Measure.SHARE_LOWERING, 70.0, 80.0)
    row = Row(wanted, (70.0, 80.0), 75.25, 1.2, "set 2", Verdict.MET, 0.975)
    told = say_offer(replace(suggested(), rows=(row,)), patient=False)
    assert "in the lowering, each set (set 2): 75.25 \u00b1 2.4 % (k = 2), asked 70 to 80: met (97 %)" in told
    bare = replace(row, u=None, of="", probability=None, note=AS_IT_IS)
    told = say_offer(replace(suggested(), rows=(bare,)), patient=False)
    assert told.endswith(f"each set: 75.25 %, asked 70 to 80: met, {AS_IT_IS}.")


def test_what_the_clinician_alone_can_judge_is_asked_of_them_and_of_no_patient() -> None:
    found = suggested()
    own = Row(Criterion(Measure.CLINICIAN, words="the wound is closed"), (None, None))
    found = replace(found, rows=(*found.rows, own))
    assert say_offer(found, patient=False).endswith("; for you to judge: the wound is closed.")
    assert "wound" not in say_offer(found, patient=True)


def test_only_another_stage_that_is_not_locked_is_offered() -> None:
    assert find_offered(suggested()) == KEPT.find("lowering-80")
    assert find_offered(suggested("lowering-60", Course.EASE)) == KEPT.find("lowering-60")
    assert find_offered(suggested("lowering-75", Course.AGAIN)) is None, "it is practised already"
    assert find_offered(suggested("one-leg-down")) is None, "locked until the clinician frees it"
    assert find_offered(replace(suggested(), suggestion=Suggestion(Course.NEXT, "the last"))) is None


def test_what_was_taken_is_practised_from_now_on_and_kept_with_its_reason(tmp_path: Path) -> None:
    assigned = take_offer(suggested(), tmp_path, Side.LEFT, NOW, folder=tmp_path / "own")
    assert assigned.prescription is not None and assigned.prescription.stage.key == "lowering-80"
    assert (assigned.settings.injured, assigned.settings.target_percent) == (Side.LEFT, 80.0)
    (note,) = read_diary(tmp_path).notes
    assert note == f"taken by the clinician: Down with 80 %, after Down with 75 %; it rests on {'; '.join(REASONS)}"


def test_reasons_that_do_not_fit_a_note_are_left_out_whole() -> None:
    found = suggested(reasons=(*REASONS, "x" * LONGEST_NOTE))
    assert note_of(found.prescription, found.suggestion).endswith(REASONS[-1])


def test_of_a_programme_that_was_changed_since_or_a_namesake_nothing_is_taken(tmp_path: Path) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_text(KEPT.text.replace('version = "1.0"', 'version = "1.1"'), encoding="utf-8")
    own = find_programme(str(mine))
    # the very text, whatever was practised by last
    exact = take_offer(suggested(), tmp_path, Side.LEFT, NOW, folder=tmp_path, place=str(mine))
    assert exact.prescription is not None and exact.prescription.version == "1.0"
    before = replace(suggested(), prescription=replace(own.prescription(own.find("lowering-75")), sha256="0" * 64))
    for place in ("", str(mine)):
        with pytest.raises(WeightshareError, match="was changed since that session, or is no longer here"):
            take_offer(before, tmp_path, Side.LEFT, NOW, folder=tmp_path, place=place)
    assert len(read_diary(tmp_path).notes) == 1, "of the one that was taken"


def test_of_a_programme_that_is_gone_nothing_is_taken_and_nothing_kept(tmp_path: Path) -> None:
    found = suggested()
    foreign = replace(found, prescription=replace(found.prescription, programme="Another", sha256="0" * 64))
    with pytest.raises(WeightshareError, match="Another was changed since"):
        take_offer(foreign, tmp_path, Side.LEFT, NOW, folder=tmp_path)
    assert read_diary(tmp_path).entries == ()
