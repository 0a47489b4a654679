"""From an analysis to the criteria of its stage: which number is which, and what was done of what was prescribed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from tests.unit.plates import make_trace
from weightshare.exercise import Basis, CeilingEvent, Exercise, Load, Repetition, SetSpan
from weightshare.metrology.decision import Verdict
from weightshare.model import STANDARD_GRAVITY, Calibration, Channel, ChannelCalibration, Quantity, Side
from weightshare.pipeline import Analysis, analyse_trace
from weightshare.pipeline.sets import sum_up
from weightshare.programme.criterion import Criterion, Measure
from weightshare.programme.judgement import Course, Found
from weightshare.programme.prescription import prescribe
from weightshare.programme.shelf import find_programme
from weightshare.programme.stage import Stage
from weightshare.records.appraisal import SUPPORTED, Appraisal, appraise
from weightshare.records.assessment import assess
from weightshare.records.diary import About, Diary, Entry
from weightshare.records.export.row import Origin, rows_of
from weightshare.records.proof import find_proof
from weightshare.records.setting import SessionHead
from weightshare.task import Goal, Settings

KEPT = find_programme("achilles")
LOWERING = KEPT.find("lowering-75")
SETTINGS = prescribe(LOWERING, Side.LEFT)
STOOD = analyse_trace(make_trace([(1.0, 0.0, 0.0), (9.0, 350.0, 350.0)]), SETTINGS)


def repetition(number: int, share: float = 75.0, height_mm: float = 80.0) -> Repetition:
    begin = 10.0 * number
    return Repetition(
        Basis.HEIGHT, begin, begin + 1.0, begin + 2.0, begin + 5.0,
        lowering_duration_s=2.9 + 0.1 * (number % 3), share_lowering_percent=share,
        height_injured_mm=height_mm, height_uninjured_mm=100.0, supported=False,
    )  # fmt: skip


def analysis_of(sets: int, each: int, height_mm: float = 80.0) -> Analysis:
    repetitions = tuple(repetition(number, height_mm=height_mm) for number in range(sets * each))
    spans = [SetSpan(n + 1, 10.0 * n * each, 10.0 * (n + 1) * each) for n in range(sets)]
    return replace(STOOD, repetitions=repetitions, sets=sum_up(repetitions, spans, SETTINGS))


def appraised(analysis: Analysis, settings: Settings = SETTINGS) -> Appraisal:
    return appraise(analysis, settings, None)


def value(found: tuple[Found, ...], measure: Measure) -> float | None:
    (one,) = [each for each in found if each.measure is measure]
    return one.value


def test_sets_with_all_repetitions_are_counted() -> None:
    found = find_proof(appraised(analysis_of(3, 10)), Goal(repetitions=10))
    assert (value(found, Measure.SETS_DONE), value(found, Measure.REPETITIONS)) == (3.0, 30.0)
    assert value(find_proof(appraised(analysis_of(3, 9)), Goal(repetitions=10)), Measure.SETS_DONE) == 0.0


def test_means_carry_the_error_of_their_spread() -> None:
    """Durations 2.9, 3.0, 3.1: mean 3.0, spread 0.1, its error 0.1 / sqrt(3), two degrees of freedom; by hand."""
    found = find_proof(appraised(analysis_of(1, 3)), Goal())
    (tempo,) = [one for one in found if one.measure is Measure.LOWERING_TIME]
    assert tempo.value == pytest.approx(3.0) and tempo.u == pytest.approx(0.1 / 3**0.5)
    assert tempo.dof == 2.0
    assert value(found, Measure.HEIGHT_INDEX) == pytest.approx(80.0)


def test_a_share_without_a_calibration_decides_nothing() -> None:
    shares = [one for one in find_proof(appraised(analysis_of(2, 3)), Goal()) if one.measure is Measure.SHARE_LOWERING]
    assert [(one.value, one.u, one.of) for one in shares] == [(75.0, None, "set 1"), (75.0, None, "set 2")]
    assert all("calibration" in one.why_not for one in shares)


@pytest.mark.parametrize(
    ("events", "crossed"),
    [((), 0.0), ((CeilingEvent(1.0, 2.0, 300.0),), 1.0), ((CeilingEvent(1.0, 2.0, None, unread=True),), None)],
)
def test_a_load_that_could_not_be_read_is_no_proof(events: tuple[CeilingEvent, ...], crossed: float | None) -> None:
    analysis = replace(analysis_of(1, 3), ceiling=events)
    assert value(find_proof(appraised(analysis), Goal()), Measure.OVER_CEILING) == crossed


def test_what_was_said_last_counts() -> None:
    at = "2026-11-24T10:15:00+01:00"
    diary = Diary((Entry(About.PAIN_DURING, at, 5), Entry(About.PAIN_DURING, at, 1)))
    found = find_proof(appraised(STOOD), Goal(), diary)
    assert value(found, Measure.PAIN_DURING) == 1.0 and value(found, Measure.EFFORT) is None


def session(stage: Stage, analysis: Analysis, diary: Diary | None = None) -> Course:
    prescription = KEPT.prescription(LOWERING)
    return assess(replace(prescription, stage=stage), appraised(analysis), diary).suggestion.course


def test_less_by_hand_is_no_proof_of_what_was_prescribed() -> None:
    """One set of three by hand is done, and is not the three of ten that the stage asks for."""
    found = assess(KEPT.prescription(LOWERING), appraised(analysis_of(1, 3)))
    assert [(one.prescribed, one.done) for one in found.done][:2] == [("3", "1"), ("10", "3")]
    assert found.rows[0].verdict is Verdict.NOT_MET and found.rows[0].value == 0.0


def test_all_met_goes_on_and_pain_eases() -> None:
    stage = replace(LOWERING, criteria=(Criterion(Measure.SETS_DONE, at_least=3.0),))
    assert session(stage, analysis_of(3, 10)) is Course.NEXT
    pain = Diary((Entry(About.PAIN_DURING, "2026-11-24T10:15:00+01:00", 3),))
    assert session(stage, analysis_of(3, 10), pain) is Course.EASE


def test_fatigue_in_a_set_is_told() -> None:
    tired = tuple(repetition(number, height_mm=90.0 if number < 3 else 60.0) for number in range(6))
    sets = sum_up(tired, [SetSpan(1, 0.0, 70.0)], SETTINGS)
    found = assess(KEPT.prescription(LOWERING), appraised(replace(STOOD, repetitions=tired, sets=sets)))
    assert "in set 1 the height fell by 33 %" in found.suggestion.reasons


def test_lines_and_json_say_the_same() -> None:
    prescription = KEPT.prescription(LOWERING, ("--sets 1, not 3",))
    found = assess(prescription, appraised(analysis_of(1, 10)))
    lines, plain = found.lines(), found.to_json()
    assert (
        lines[0] == "Achilles, version 1.0, stage lowering-75: Down with 75 %" and "by hand: --sets 1, not 3" in lines
    )
    assert (plain["version"], plain["stage"], plain["sha256"]) == ("1.0", "lowering-75", KEPT.sha256)
    assert [row["measure"] for row in plain["criteria"]] == [str(one.measure) for one in LOWERING.criteria]


def test_the_load_that_was_held_is_in_kilograms() -> None:
    settings = Settings(Side.LEFT, load=Load(kg=20.0), exercise=Exercise.HOLD)
    trace = make_trace([(1.0, 0.0, 0.0), (12.0, 21.0 * STANDARD_GRAVITY, 300.0), (1.0, 0.0, 0.0)])
    found = appraise(analyse_trace(trace, settings), settings, None, trace=trace)
    assert found.load is not None and found.load.kg == pytest.approx(21.0, abs=0.3)
    assert found.load.u_kg is None and found.doubt is None
    assert found.missing != SUPPORTED, "without a calibration that is what is missing"
    (held,) = [one for one in find_proof(found, Goal(hold_s=10.0)) if one.measure is Measure.LOAD_HELD]
    assert held.value == found.load.kg and "calibration" in held.why_not


def test_the_load_that_was_held_stands_in_the_results_and_in_an_export() -> None:
    settings = Settings(Side.LEFT, load=Load(kg=20.0), exercise=Exercise.HOLD)
    trace = make_trace([(1.0, 0.0, 0.0), (12.0, 21.0 * STANDARD_GRAVITY, 300.0), (1.0, 0.0, 0.0)])
    channels = tuple(ChannelCalibration(index, 0.0, 0.001, standard_uncertainty_N=2.0) for index in range(2))
    scale = Calibration("0" * 16, date(2026, 1, 2), channels)
    sides = tuple(Channel(Quantity.FORCE, side) for side in Side)
    found = appraise(analyse_trace(trace, settings), settings, scale, sides, trace=trace)
    content = found.to_json()
    held = content["held_load"]
    assert found.load is not None and found.load.u_kg is not None
    assert held == {"N": pytest.approx(found.load.kg * 9.80665), "u_N": pytest.approx(found.load.u_kg * 9.80665)}
    origin = Origin("0" * 32, SessionHead(settings, started_at="2026-11-24T10:15:00+01:00"), "complete")
    (row,) = rows_of(origin, content, ())["sessions"]
    assert row["held_load_N"] == held["N"] and row["held_load_expanded_uncertainty_N"] == 2.0 * held["u_N"]
    assert "held_load_N" not in rows_of(origin, {**content, "held_load": None}, ())["sessions"][0]
