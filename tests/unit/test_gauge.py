"""What the clinician's view says: figures with what they are worth, and how the calibration stands."""

from __future__ import annotations

import io
import math
from dataclasses import replace
from datetime import date

import pytest

from tests.shown import snapshot
from weightshare.metrology.build import standard_worth
from weightshare.metrology.share import APART, UNEVEN
from weightshare.model import Calibration, ChannelCalibration, Side, Worth
from weightshare.practice.compose import practise_screen
from weightshare.practice.frame import Frame
from weightshare.practice.gauge import (
    ZERO_NOT_TAKEN,
    Gauge,
    calibration_words,
    doubt_now,
    evidence_lines,
    is_expired,
    tenths,
)
from weightshare.practice.screen import Step
from weightshare.practice.terminal import LiveLine, live_text
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.practice.words import fine_percent
from weightshare.state import Snapshot, State
from weightshare.task import Goal, Settings

CALIBRATION = Calibration("0011223344556677", date(2026, 1, 1), (ChannelCalibration(0, 0.0, 0.001),), date(2027, 1, 1))
MEASURED = replace(standard_worth(), assumed=())
GAUGE = Gauge(CALIBRATION, MEASURED, 100.0)
SETTINGS = Settings(Side.RIGHT, target_percent=75.0)
FRAME = Frame(SETTINGS, Goal(30.0, 3), "serial:COM3")
CLINICAL = replace(FRAME, clinical=True)
STANDING: Snapshot = replace(
    snapshot(State.IN_BAND, 74.3), left_N=180.0, right_N=520.0, injured_N=520.0, zero_taken=True
)


def view(shot: Snapshot = STANDING, gauge: Gauge | None = GAUGE, age_s: float = 0.01) -> LiveView:
    return LiveView(shot, (LinkView("serial:COM3", LinkState.SAMPLING, "sampling"),), age_s, gauge=gauge)


def test_the_patients_view_stays_as_it_was() -> None:
    figures = practise_screen(view(), FRAME).figures
    assert (figures.share, figures.share_doubt, figures.evidence) == ("74", "", ())


def test_the_clinicians_view_has_what_the_figures_are_worth() -> None:
    figures = practise_screen(view(), CLINICAL).figures
    assert (figures.share, figures.share_doubt) == ("74.3", "\u00b1 0.1")
    loads, calibration = figures.evidence
    assert loads.split("  \u00b7  ") == [
        "left 18.4 \u00b1 0.1 kg",
        "right 53.0 \u00b1 0.1 kg",
        "share 74.3 \u00b1 0.1 %",
        "k = 2",
    ]
    assert calibration == "calibrated 2026-01-01; valid until 2027-01-01; what it is worth was measured on this scale"


def test_it_goes_with_the_number() -> None:
    for shown in (view(age_s=0.4), view(replace(STANDING, share_percent=None, left_N=None))):
        figures = practise_screen(shown, CLINICAL, Step.READY).figures
        assert figures.share_doubt == "" and "\u00b1" not in " ".join(figures.evidence)


@pytest.mark.parametrize("taken", [False, None])
def test_on_a_zero_that_was_not_taken_nothing_is_said_of_worth(taken: bool | None) -> None:
    shot = replace(STANDING, zero_taken=taken)
    assert doubt_now(GAUGE, shot, 6.0) is None
    figures = practise_screen(view(shot), CLINICAL).figures
    assert figures.share_doubt == "" and (figures.evidence[0] == ZERO_NOT_TAKEN) is (taken is False)


def test_a_worth_of_one_side_is_no_worth_of_a_share() -> None:
    assert doubt_now(replace(GAUGE, worth=Worth(MEASURED.sides[:1])), STANDING, 6.0) is None
    assert doubt_now(None, STANDING, 6.0) is None
    assert evidence_lines(None, STANDING, None, "74.3") == ()


def test_what_two_clocks_do_to_a_share_that_moves_is_in_it() -> None:
    """It was in the analysis alone: while the load was shifted, the screen said that the share was worth more."""
    still, moving = (doubt_now(GAUGE, replace(STANDING, clock_points=points), 6.0) for points in (0.0, 0.6))
    assert still is not None and moving is not None
    assert moving.u_points == pytest.approx(math.hypot(still.u_points, 0.6))
    figures = practise_screen(view(replace(STANDING, clock_points=0.6)), CLINICAL).figures
    assert figures.share_doubt == "\u00b1 1.3"


def test_of_clocks_that_may_be_off_by_anything_nothing_is_said() -> None:
    deaf = replace(STANDING, clock_points=None)
    assert doubt_now(GAUGE, deaf, 6.0) is None
    assert practise_screen(view(deaf), CLINICAL).figures.evidence == (APART, calibration_words(GAUGE))


def test_a_slower_filter_leaves_less_noise() -> None:
    slow, fast, none = (doubt_now(GAUGE, STANDING, cutoff) for cutoff in (1.0, 6.0, None))
    assert slow is not None and fast is not None and none is not None
    assert slow.u_points < fast.u_points < none.u_points


def test_what_is_assumed_or_overdue_is_said_in_words() -> None:
    assumed = replace(GAUGE, worth=standard_worth(), expired=True)
    words = calibration_words(assumed)
    assert "expired 2027-01-01" in words
    assert "assumed, not measured: masses and gravity, slope, repeatability" in words and "_" not in words


def test_a_calibration_holds_through_its_last_day() -> None:
    assert not is_expired(CALIBRATION, date(2027, 1, 1))
    assert is_expired(CALIBRATION, date(2027, 1, 2))
    assert not is_expired(replace(CALIBRATION, valid_until=None), date(2100, 1, 1))


@pytest.mark.parametrize(
    ("value", "text"), [(0.001, "0.1"), (0.1, "0.1"), (0.1001, "0.2"), (0.3, "0.3"), (2.31, "2.4")]
)
def test_an_uncertainty_is_rounded_up(value: float, text: str) -> None:
    assert tenths(value) == text


@pytest.mark.parametrize(("share", "text"), [(69.97, "69.9"), (70.0, "70.0"), (74.26, "74.3"), (80.04, "80.1")])
def test_a_tenth_is_not_rounded_over_an_edge_of_the_band(share: float, text: str) -> None:
    assert fine_percent(share, SETTINGS) == text


def test_the_terminals_line_has_it_too() -> None:
    text = live_text(view(), Goal())
    assert "share  74.3 +- 0.1 %" in text
    assert "+-" not in live_text(view(age_s=0.4), Goal())
    assert "+-" not in live_text(view(gauge=None), Goal())
    stream = io.StringIO()
    LiveLine(stream, Goal(), columns=120).show(view(), 0.0)
    assert "74.3 +- 0.1 %" in stream.getvalue()


def test_nothing_is_said_to_be_worth_anything_on_plates_that_do_not_read_alike() -> None:
    uneven = replace(GAUGE, uneven=True)
    figures = practise_screen(view(gauge=uneven), CLINICAL).figures
    assert (figures.share, figures.share_doubt) == ("74.3", "")
    assert figures.evidence == (UNEVEN, calibration_words(uneven)) and "measured" not in figures.evidence[1]
    assert "+-" not in live_text(view(gauge=uneven), Goal())
