"""An analysis with what its numbers are worth: what goes into it, what averages, and why there is none."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from tests.unit.heels import heeled
from tests.unit.plates import make_trace
from tests.unit.raises import raises
from tests.unit.test_analyse_command import analysed, refused
from weightshare.cli import main
from weightshare.cli.table import appraisal_table
from weightshare.exercise import Ceiling, Exercise
from weightshare.metrology.build import standard_side, standard_worth
from weightshare.metrology.share import APART, CLOCK, NOISE, PARTS, noise_at, share_u
from weightshare.model import Calibration, ChannelCalibration, Side, Trace, Worth
from weightshare.pipeline import analyse_trace
from weightshare.records.appraisal import NOBODY, NOT_GIVEN, ZERO_NOT_TAKEN, Appraisal, Doubt, appraise
from weightshare.records.calibration import write_calibration
from weightshare.records.trace import write_csv
from weightshare.state import Alignment, ScaleClock
from weightshare.task import Settings

ASKED = Settings(Side.LEFT, 75.0, filter_Hz=None)
MEASURED = Worth((standard_side(Side.LEFT), standard_side(Side.RIGHT)), 3e-5)
CALIBRATION = Calibration("0011223344556677", date(2026, 11, 2), (ChannelCalibration(0, 0.0, 0.001),), worth=MEASURED)
STAND = make_trace([(20.0, 525.0, 175.0)])


def appraised(
    trace: Trace = STAND, settings: Settings = ASKED, calibration: Calibration | None = CALIBRATION
) -> Appraisal:
    return appraise(analyse_trace(trace, settings), settings, calibration)


def doubt_of(appraisal: Appraisal) -> Doubt:
    assert appraisal.doubt is not None
    return appraisal.doubt


def test_the_keys_stand_after_those_of_the_analysis_and_leave_them_alone() -> None:
    appraisal = appraised()
    content, plain = appraisal.to_json(), appraisal.analysis.to_json()
    assert list(content)[: len(plain)] == list(plain)
    assert {name: content[name] for name in plain} == plain
    assert content["uncertainty_missing"] is None
    uncertainty = content["uncertainty"]
    assert uncertainty["coverage_factor"] == 2
    assert tuple(uncertainty["parts"]) == PARTS
    assert uncertainty["share_mean_points"] == pytest.approx(2 * math.hypot(*uncertainty["parts"].values()), abs=1e-5)
    assert json.loads(json.dumps(content)) == content


def test_the_mean_share_is_worth_what_its_two_mean_forces_are() -> None:
    share = doubt_of(appraised()).share
    assert (share.left.force_N, share.right.force_N) == pytest.approx((525.0, 175.0))
    expected = 100.0 * share_u(525.0, 175.0, share.left.u_N, share.right.u_N, share.correlation)
    assert share.u_points == pytest.approx(expected)


def test_noise_averages_over_the_time_on_the_plates_and_in_a_hold_over_its_held_time() -> None:
    doubt = doubt_of(appraised())
    side = MEASURED.sides[0]
    # 20 s at 100 readings a second: two thousand of them
    assert doubt.share.left.parts[NOISE] == pytest.approx(side.noise_N / math.sqrt(2000.0), rel=0.01)
    (hold,) = doubt.holds
    assert hold == pytest.approx(doubt.share.expanded_points, rel=0.01)
    short = doubt_of(appraised(make_trace([(20.0, 525.0, 175.0), (5.0, 0.0, 0.0), (1.2, 525.0, 175.0)])))
    assert short.holds[1] > short.holds[0]


def test_sides_are_not_mixed_up() -> None:
    worse = replace(standard_side(Side.RIGHT), zero_drift_N=30.0)
    calibration = replace(CALIBRATION, worth=replace(MEASURED, sides=(MEASURED.sides[0], worse)))
    for injured, share in ((Side.LEFT, 75.0), (Side.RIGHT, 25.0)):
        doubt = doubt_of(
            appraised(settings=replace(ASKED, injured=injured, target_percent=share), calibration=calibration)
        )
        assert doubt.share.right.u_N > 30.0 > doubt.share.left.u_N
        assert doubt.share.right.force_N == pytest.approx(175.0)


def test_each_repetition_has_the_doubt_of_each_of_its_shares() -> None:
    settings = Settings(Side.LEFT, 75.0, exercise=Exercise.RAISE)
    appraisal = appraised(heeled(raises((1.0, 1.0, 2.0), 3)), settings)
    assert appraisal.analysis.repetitions
    for one, doubt in zip(appraisal.analysis.repetitions, doubt_of(appraisal).repetitions, strict=True):
        assert one.share_lowering_percent is not None and doubt.share_lowering_points is not None
        assert 0.01 < doubt.share_lowering_points < 0.5
    missing = replace(appraisal.analysis.repetitions[0], share_top_percent=None)
    changed = replace(appraisal.analysis, repetitions=(missing,))
    (doubt,) = doubt_of(appraise(changed, settings, CALIBRATION)).repetitions
    assert doubt.share_top_points is None and doubt.share_rise_points is not None


def test_a_ceiling_is_judged_without_a_filter_and_body_weight_over_three_seconds() -> None:
    settings = replace(ASKED, ceiling=Ceiling(kg=20.0), filter_Hz=6.0)
    doubt = doubt_of(appraised(settings=settings))
    assert doubt.ceiling_N is not None and doubt.ceiling_N >= 2.0 * MEASURED.sides[0].noise_N
    assert doubt.body_weight_N is not None
    assert doubt.body_weight_N > 2.0 * math.sqrt(2.0) * noise_at(MEASURED.sides[0], 0.5 / 3.0)
    given = doubt_of(appraised(settings=replace(ASKED, body_weight_N=700.0)))
    assert given.body_weight_N is None, "a body weight that was given is not this scale's to judge"
    assert given.ceiling_N is None


@pytest.mark.parametrize(
    ("calibration", "trace", "zero_taken", "why"),
    [
        (None, STAND, True, NOT_GIVEN),
        (CALIBRATION, STAND, False, ZERO_NOT_TAKEN),
        (CALIBRATION, STAND, None, ZERO_NOT_TAKEN),
        (CALIBRATION, make_trace([(5.0, 0.0, 0.0)]), True, NOBODY),
        (
            replace(CALIBRATION, worth=Worth(MEASURED.sides[:1])),
            STAND,
            True,
            "does not say what the right side is worth",
        ),
    ],
)
def test_where_it_cannot_be_had_it_is_null_and_says_why(
    calibration: Calibration | None, trace: Trace, zero_taken: bool | None, why: str
) -> None:
    appraisal = appraise(analyse_trace(trace, ASKED), ASKED, calibration, zero_taken=zero_taken)
    content = appraisal.to_json()
    assert content["uncertainty"] is None
    assert why in content["uncertainty_missing"]
    assert content["warnings"] == list(appraisal.analysis.warnings), "scripts compare the warnings of plain traces"


def test_the_table_has_the_mean_share_with_its_doubt_and_what_is_assumed() -> None:
    table = appraisal_table(appraised())
    assert "mean 75.00 +- 0.0" in table and "uncertainty with k = 2, measured on this scale" in table
    assumed = replace(CALIBRATION, worth=None)
    assert "assumed, not measured: masses and gravity, slope" in appraisal_table(appraised(calibration=assumed))
    assert "+-" not in appraisal_table(appraised(calibration=None)).split("band")[0]


def test_a_session_whose_zero_was_not_taken_says_so_in_the_table() -> None:
    analysis = analyse_trace(STAND, ASKED)
    table = appraisal_table(appraise(analysis, ASKED, CALIBRATION, zero_taken=False))
    assert f"its uncertainty is not known: {ZERO_NOT_TAKEN}" in table


def test_the_command_takes_the_calibration_of_a_trace(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    trace, calibration = tmp_path / "trace.csv", tmp_path / "scale.json"
    write_csv(STAND, trace)
    write_calibration(calibration, CALIBRATION)
    arguments: list[str | Path] = [trace, "--injured", "left", "--target", "75"]
    plain = analysed(capsys, arguments)
    assert plain["uncertainty"] is None and plain["uncertainty_missing"] == NOT_GIVEN
    judged = analysed(capsys, [*arguments, "--calibration", calibration])
    assert judged["uncertainty"]["share_mean_points"] > 0.0
    assert judged["warnings"] == plain["warnings"]
    assert main(["analyse", *map(str, arguments), "--calibration", str(calibration)]) == 0
    assert "+-" in capsys.readouterr().out
    calibration.write_text("{}")
    assert str(calibration) in refused(capsys, ["analyse", *arguments, "--calibration", calibration])
    assert "a saved session has its own" in refused(capsys, ["analyse", tmp_path, "--calibration", calibration])


def test_what_is_all_assumed_says_so() -> None:
    share = doubt_of(appraised(calibration=replace(CALIBRATION, worth=None))).share
    assert share.assumed == standard_worth().assumed


def test_two_scales_clocks_are_a_part_of_what_a_share_is_worth() -> None:
    clock = ScaleClock("0011223344556677", Side.LEFT, 12.0, 1.0, 2.0, 65, 0)
    analysis = analyse_trace(STAND, ASKED)
    agreed = Alignment(3.0, 100.0, 0.3, (clock, replace(clock, side=Side.RIGHT)))
    alone = doubt_of(appraise(analysis, ASKED, CALIBRATION)).share
    share = doubt_of(appraise(replace(analysis, alignment=agreed), ASKED, CALIBRATION)).share
    assert (alone.parts[CLOCK], share.parts[CLOCK]) == (0.0, 0.3)
    assert share.u_points == pytest.approx(math.hypot(alone.u_points, 0.3))
    unknown = replace(analysis, alignment=replace(agreed, doubt_ms=None, share_doubt_points=None))
    assert appraise(unknown, ASKED, CALIBRATION).missing == APART
