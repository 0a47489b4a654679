"""What is said while scales are set up: in words, with a remedy wherever something is wrong."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from tests.unit.test_startmeter import calibration, identity
from weightshare.model import Condition, Side
from weightshare.practice import startwords as words
from weightshare.practice.startmeter import PlateSeen, Seen
from weightshare.practice.startview import StartStep
from weightshare.scales.finder import Found, Sort, Way

LEFT, RIGHT = Side
TODAY = date(2026, 11, 29)


@pytest.mark.parametrize(
    ("dBm", "bars", "word"),
    [(-40, 4, "strong"), (-65, 3, "good"), (-80, 2, "weak"), (-95, 1, "very weak"), (-300, 1, "very weak")],
)
def test_a_signal_has_bars_and_a_word(dBm: int, bars: int, word: str) -> None:
    assert words.signal_of(dBm) == (bars, f"signal {word}")
    assert words.signal_of(None) == (None, "")


def test_noise_is_told_in_newtons_and_what_lies_there_is_asked_off() -> None:
    still = PlateSeen(LEFT, 0.4, 0.21, in_newtons=True)
    assert words.noise_words(still) == (True, "noise 0.21 N")
    well, said = words.noise_words(replace(still, level=78.0))
    assert not well and said.startswith("78 N lie on it: take everything off")
    well, said = words.noise_words(replace(still, sd=7.5))
    assert not well and "7.5 N of noise" in said and "touch" in said
    assert not words.noise_words(replace(still, sd=None))[0]
    assert "calibration" in words.noise_words(replace(still, in_newtons=False))[1]


def test_a_rate_that_is_off_is_told_with_a_remedy() -> None:
    assert words.rate_words(Seen(rate_Hz=99.2, told_rate_Hz=100.0)) == (
        True,
        "99.2 samples a second (the scale says 100)",
    )
    well, said = words.rate_words(Seen(rate_Hz=80.0, told_rate_Hz=100.0))
    assert not well and "80.0 samples a second, but the scale says 100: move it nearer" in said
    assert not words.rate_words(Seen(told_rate_Hz=100.0))[0]


def test_a_rate_that_reads_high_is_the_computers_and_no_socket_helps() -> None:
    """Samples that waited while the computer was busy come at once, and are counted over too short a time."""
    well, said = words.rate_words(Seen(rate_Hz=114.5, told_rate_Hz=100.0))
    assert not well and said.startswith("114.5 samples a second, but the scale says 100: was this computer busy?")
    assert "socket" not in said


def test_a_calibration_is_told_by_its_day_and_one_that_ended_as_such() -> None:
    made = calibration(1)
    assert words.calibration_words(made, "", TODAY) == (True, True, "calibrated 2026-11-02")
    ended = replace(made, valid_until=date(2026, 11, 20))
    usable, well, said = words.calibration_words(ended, "", TODAY)
    assert usable and not well and "valid until 2026-11-20: calibrate anew (C)" in said
    usable, _well, said = words.calibration_words(None, "", TODAY)
    assert not usable and "not calibrated yet" in said and "C" in said
    assert words.calibration_words(None, "the file is damaged", TODAY) == (False, False, "the file is damaged")


def test_a_battery_and_faults() -> None:
    assert words.battery_words(Seen()) == ""
    assert words.battery_words(Seen(battery_mV=0)) == "powered by its cable"
    assert words.battery_words(Seen(battery_mV=4012)) == "battery 4.0 V"
    low = Seen(battery_mV=3300, faults=Condition.BATTERY_LOW | Condition.CELL_SILENT)
    assert "charge it soon" in words.battery_words(low)
    assert "does not answer" in words.fault_words(low) and "charge it" in words.fault_words(low)


def test_what_was_chosen_has_to_be_a_pair() -> None:
    assert words.count_words(1, 1).endswith("choose the scale of the other foot as well.")
    assert words.count_words(2, 1) == words.count_words(2, 2) == words.count_words(0, 0) == ""
    assert "choose that one alone" in words.count_words(3, 2)


def test_what_a_scale_can_do_is_told_before_it_is_chosen() -> None:
    one = Found("ble:00:00:5E:00:53:21", Way.AIR, Sort.SETTLED, "a bathroom scale", signal_dBm=-60)
    assert "cannot time a hold" in words.kind_words(one, None)
    assert words.way_words(one) == f"by Bluetooth{words.DOT}signal strong"
    cable = Found("serial:COM3", Way.CABLE, Sort.SCALE, "board", identity(LEFT, RIGHT))
    assert (words.way_words(cable), words.kind_words(cable, None)) == ("by cable, COM3", "reads both feet")
    assert words.kind_words(replace(cable, identity=identity(RIGHT)), None) == "reads one foot (right)"
    assert words.kind_words(replace(cable, identity=identity(None)), None) == "reads one foot"


def test_ports_without_a_scale_are_named_in_one_line() -> None:
    silent = [Found(f"serial:COM{n}", Way.CABLE, Sort.NONE, said="no scale answers") for n in range(5)]
    assert words.passed_over([]) == ""
    assert words.passed_over(silent[:1]) == "No scale answers on COM0."
    assert words.passed_over(silent) == "No scale answers on COM0, COM1, COM2, \u2026."


@pytest.mark.parametrize(
    ("source", "way"),
    [("ble:AA", Way.AIR), ("tcp://h:1", Way.NETWORK), ("serial:COM3", Way.CABLE), ("rig:", Way.INSIDE)],
)
def test_each_source_has_a_way(source: str, way: Way) -> None:
    assert words.way_of(source) is way


def test_each_step_that_can_refuse_says_why() -> None:
    assert set(words.WHY_NOT) == set(StartStep) - {StartStep.PLACE}
