"""The guided calibration without a screen: it sees for itself what lies there, and says what is wrong."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from tests.unit.hands import BRIEF, GRAVITY, MASSES, PAIR, SLOPE, ZERO, Hands, begin, go_to, trouble
from weightshare.errors import CalibrationError
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.evaluate import evaluate
from weightshare.metrology.reading import Kind, Mass, Spot
from weightshare.model import Calibration, ChannelCalibration, Side
from weightshare.workbench.guide import Guide
from weightshare.workbench.plan import Wanted
from weightshare.workbench.view import Stage


def earlier(slope: float = SLOPE) -> Calibration:
    """Return the scale's calibration so far."""
    channels = tuple(ChannelCalibration(index, float(zero), slope) for index, zero in enumerate(ZERO))
    return Calibration(PAIR.device_id, date(2026, 1, 1), channels)


def begin_known(slope: float = SLOPE, wanted: Wanted = BRIEF) -> Hands:
    """Return hands at a scale that was calibrated before."""
    guide = Guide(wanted, earlier(slope))
    guide.meet(PAIR)
    return Hands(guide)


def finish(hands: Hands) -> None:
    """Do every step that is left."""
    while (ask := hands.guide.ask) is not None:
        hands.obey(ask)


def test_a_whole_calibration_needs_no_key() -> None:
    hands = begin()
    finish(hands)
    record = hands.guide.record(Estimate(GRAVITY, 0.001), 21.0)
    assert hands.guide.is_done
    found = evaluate(record)
    assert [channel.newton_per_count for channel in found.channels] == pytest.approx([SLOPE] * 2, rel=1e-3)
    assert [channel.zero_counts for channel in found.channels] == pytest.approx(ZERO[:2], abs=60)
    assert (record.gravity_m_s2, record.u_gravity_m_s2, record.temperature_degC) == (GRAVITY, 0.001, 21.0)
    assert record.rate_Hz == pytest.approx(20.0)


def test_drift_has_a_window_a_second_and_a_step_has_one() -> None:
    hands = begin()
    finish(hands)
    record = hands.guide.record(Estimate(GRAVITY, 0.0))
    counts = {p.number: sum(w.placement == p.number for w in record.windows) for p in record.placements}
    drift, series = (next(p.number for p in record.placements if p.kind is kind) for kind in (Kind.DRIFT, Kind.SERIES))
    assert (counts[drift], counts[series]) == (6, 1)
    assert list(record.changed_s) == sorted(record.changed_s)


def test_what_is_measured_does_not_depend_on_how_the_stream_is_cut() -> None:
    whole, cut = begin(), begin()
    for hands, sizes in ((whole, [400]), (cut, [1, 7, 92, 13, 287])):
        for size in sizes:
            hands.wait(size / 20.0)
    assert whole.guide.view() == cut.guide.view()
    assert whole.guide.view().number == 2


def test_it_is_not_complete_before_the_end() -> None:
    hands = begin()
    go_to(hands, 3)
    with pytest.raises(CalibrationError, match="not complete"):
        hands.guide.record(Estimate(GRAVITY, 0.0))


@pytest.mark.parametrize("masses", [(), MASSES[:1]])
def test_too_few_masses_are_refused_at_the_start(masses: tuple[Mass, ...]) -> None:
    with pytest.raises(CalibrationError, match="too few"):
        Guide(Wanted(masses))


def test_a_scale_without_the_plate_is_refused() -> None:
    guide = Guide(BRIEF)
    right = replace(PAIR, channels=PAIR.channels[2:])
    with pytest.raises(CalibrationError, match="no left plate"):
        guide.meet(right)


def test_another_scale_is_refused_and_the_same_goes_on_after_a_restart() -> None:
    hands = begin()
    go_to(hands, 2)
    hands.guide.meet(replace(PAIR, boot_count=2))
    assert hands.guide.view().number == 2
    with pytest.raises(CalibrationError, match="is being calibrated"):
        hands.guide.meet(replace(PAIR, device_id="00112233445566ab"))


def test_a_mass_on_the_wrong_plate_is_not_taken() -> None:
    hands = begin()
    go_to(hands, 2)
    hands.lay(0.0, 10.0, 8.0)
    assert (
        trouble(hands)
        == "The load on the RIGHT plate has changed, not that on the LEFT plate: it belongs on the LEFT plate"
    )
    hands.guide.confirm()
    hands.wait(6.0)
    assert (hands.guide.view().number, hands.guide.view().may_confirm) == (2, False)
    hands.lay(10.0, 0.0, 6.0)
    assert hands.guide.view().number == 3


def test_somebody_still_on_it_is_asked_to_step_off() -> None:
    hands = begin()
    go_to(hands, 3)
    hands.lay(85.0, seconds=6.0)
    assert "is somebody still on it? Step off" in trouble(hands)
    assert not hands.guide.view().may_confirm


def test_a_body_that_sways_is_told_from_a_load() -> None:
    hands = begin()
    go_to(hands, 3)
    for step in range(120):
        hands.lay(85.0 + 3.0 * np.sin(0.5 * step), seconds=0.1)
    assert "is somebody still on it" in trouble(hands)
    assert hands.guide.view().number == 3


def test_another_mass_is_told_and_may_be_taken() -> None:
    hands = begin()
    go_to(hands, 3)
    hands.lay(20.0, seconds=6.0)
    assert trouble(hands).startswith("About 20 kg lie on the LEFT plate, and 30 kg are asked for")
    assert hands.guide.view().may_confirm
    hands.guide.confirm()
    hands.wait(6.0)
    assert hands.guide.view().number == 4


def test_nothing_that_came_is_said_after_a_while() -> None:
    hands = begin()
    go_to(hands, 2)
    hands.wait(40.0)
    assert hands.guide.view().words.startswith("Nothing has changed on the LEFT plate yet")
    assert hands.guide.view().number == 2


@pytest.mark.parametrize(
    ("told", "hint"),
    [(9.81, "newtons, written as kilograms"), (1000.0, "grams, written as kilograms"), (2.2046, "pounds")],
)
def test_masses_in_the_wrong_unit_get_a_hint(told: float, hint: str) -> None:
    masses = tuple(Mass(f"{told * mass.kg:g} kg", told * mass.kg, 0.001) for mass in MASSES)
    hands = begin_known(wanted=replace(BRIEF, masses=masses))
    go_to(hands, 2)
    hands.lay(10.0, seconds=6.0)
    assert "Look at the list of masses" in trouble(hands)
    assert hint in trouble(hands)
    assert hands.guide.view().number == 2


@pytest.mark.parametrize("known", [False, True])
def test_a_plate_that_reads_less_under_load_is_refused(known: bool) -> None:
    hands = begin_known() if known else begin()
    hands.slope = -SLOPE
    go_to(hands, 2)
    hands.lay(10.0, seconds=6.0)
    assert "reads less as more lies on it" in trouble(hands)
    hands.guide.confirm()
    hands.wait(6.0)
    assert hands.guide.view().number == 2


def test_what_lies_there_at_the_beginning_is_told_where_the_zero_was_known() -> None:
    hands = begin_known()
    hands.lay(8.0, seconds=6.0)
    assert trouble(hands).startswith("About 8 kg still lie on the LEFT plate: take everything off")


def test_a_loose_foot_is_told_at_once_and_may_be_taken() -> None:
    hands = begin()
    ask = go_to(hands, next(k for k, a in enumerate(hands.guide.asks, 1) if a.placement.spot is Spot.REAR_RIGHT))
    hands.obey(ask, 0.94)
    assert trouble(hands).startswith("The rear right quarter of the LEFT plate reads 5.9 % less than its middle")
    hands.guide.confirm()
    hands.wait(6.0)
    assert hands.guide.view().number > ask.placement.number + 1


def test_readings_that_are_missing_are_said_and_nothing_is_taken() -> None:
    hands = begin()
    readings = hands.readings(200)
    readings[1] = np.nan
    hands.push(readings)
    assert trouble(hands) == "Readings are missing from channel 1: look at the cable of that cell"
    assert hands.guide.view().number == 1


def test_a_converter_at_its_end_is_said() -> None:
    hands = begin()
    go_to(hands, 2)
    readings = hands.readings(200)
    readings[0] = 2**23 - 1
    hands.push(readings)
    assert trouble(hands).startswith("Channel 0 is at the end of its range")
    assert hands.guide.view().number == 2


def test_a_load_that_is_touched_is_measured_anew() -> None:
    hands = begin(replace(BRIEF, creep_s=40.0))
    go_to(hands, 2)
    hands.lay(30.0, seconds=20.0)
    assert hands.guide.view().stage is Stage.MEASURE
    assert "Leave it there" in hands.guide.view().headline
    hands.lay(27.0, seconds=0.6)
    assert hands.guide.view().words.startswith("The load was touched after")
    hands.lay(30.0, seconds=20.0)
    assert hands.guide.view().number == 2
    hands.wait(25.0)
    assert hands.guide.view().number == 3


def test_a_lost_link_goes_on_at_its_step() -> None:
    hands = begin()
    go_to(hands, 2)
    hands.lay(10.0, seconds=3.0)
    assert hands.guide.view().stage is Stage.MEASURE
    hands.guide.lose()
    hands.time_s += 30.0
    hands.wait(7.0)
    assert hands.guide.view().number == 3


def test_a_step_back_is_measured_anew_and_replaces_what_was_measured() -> None:
    hands = begin()
    go_to(hands, 3)
    assert hands.guide.view().may_go_back
    hands.guide.back()
    view = hands.guide.view()
    assert (view.number, view.stage) == (2, Stage.ASK)
    hands.wait(3.0)
    assert hands.guide.view().words.startswith("Lay it on anew; or press Space")
    hands.lay(0.0)
    hands.lay(10.0, seconds=6.5)
    assert hands.guide.view().number == 3
    finish(hands)
    record = hands.guide.record(Estimate(GRAVITY, 0.0))
    assert sum(window.placement == 1 for window in record.windows) == 1
    assert list(record.changed_s) == sorted(record.changed_s)


def test_loads_are_shown_once_they_can_be_told() -> None:
    hands = begin()
    hands.wait(2.0)
    assert hands.guide.view().load_kg == (None, None)
    go_to(hands, 3)
    left_kg, right_kg = hands.guide.view().load_kg
    assert left_kg == pytest.approx(10.0, abs=0.05)
    assert right_kg is None


def test_both_plates_are_walked_one_after_the_other() -> None:
    hands = begin(replace(BRIEF, sides=tuple(Side)))
    finish(hands)
    record = hands.guide.record(Estimate(GRAVITY, 0.0))
    assert [layout.side for layout in record.plates] == [Side.LEFT, Side.RIGHT]
    assert len(evaluate(record).channels) == 4
