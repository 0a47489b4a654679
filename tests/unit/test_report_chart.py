"""Digits, ticks at round numbers and at dates, a scale over the years."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from weightshare.model import Calibration, ChannelCalibration
from weightshare.records.bench import Kept
from weightshare.records.drift import Entry, make_drift
from weightshare.report.chart import Panel, Ribbon, Span, day_ticks, draw_panels, number_of, padded, round_ticks
from weightshare.report.digit import decimals_of, fixed, plus_minus, span, with_digits
from weightshare.report.drawing import Path as Line
from weightshare.report.drawing import Words
from weightshare.report.plot import drift_plot

DAY = date(2026, 11, 2)


@pytest.mark.parametrize(
    ("uncertainty", "decimals"),
    [
        (12.0, 0),
        (1.2, 1),
        (0.12, 2),
        (0.0996, 2),
        (0.0994, 3),
        (0.012, 3),
        (1e-9, 4),
        (0.0, 3),
        (math.inf, 3),
        (340, 0),
    ],
)
def test_a_value_has_two_digits_of_its_uncertainty(uncertainty: float, decimals: int) -> None:
    assert decimals_of(uncertainty) == decimals


@pytest.mark.parametrize(
    ("value", "digits", "said"),
    [
        (0.0, 2, "0"),
        (0.0996, 2, "0.10"),
        (1234.0, 2, "1200"),
        (0.018363, 2, "0.018"),
        (-0.5, 2, "\u22120.50"),
        (1.25e-7, 2, "1.2e\u22127"),
        (math.nan, 2, "\u2013"),
    ],
)
def test_significant_digits(value: float, digits: int, said: str) -> None:
    assert with_digits(value, digits) == said


def test_nothing_is_never_minus_nothing() -> None:
    assert fixed(-0.0004, 3) == "0.000"
    assert fixed(-0.0006, 3) == "\u22120.001"
    assert span(math.nan, 1.0, 2) == "\u2013"


@example(879609.9999999999, 1e-6)
@given(st.floats(-1e6, 1e6), st.floats(1e-6, 1e6))
def test_ticks_are_few_round_and_inside(low: float, wide: float) -> None:
    high = low + wide
    ticks = round_ticks(low, high)
    assert 1 <= len(ticks) <= 8
    # no tick can be nearer to an edge than the numbers themselves lie apart
    slack = 1e-6 * wide + 2.0 * math.ulp(max(abs(low), abs(high)))
    assert all(low - slack <= value <= high + slack for value, _words in ticks)
    assert len({words for _value, words in ticks}) == len(ticks)


def test_a_range_that_is_none_has_no_ticks() -> None:
    assert round_ticks(1.0, 1.0) == ()
    assert round_ticks(math.nan, 1.0) == ()


@pytest.mark.parametrize("days", [1, 5, 14, 40, 90, 200, 400, 1000, 3000, 9000])
def test_days_are_few_and_inside(days: int) -> None:
    low, high = number_of(DAY) - 0.4, number_of(DAY) + days + 0.4
    ticks = day_ticks(low, high)
    assert 2 <= len(ticks) <= 9
    assert all(low <= value <= high for value, _words in ticks)
    assert len({words for _value, words in ticks}) == len(ticks)


def test_the_word_of_a_tick_at_the_right_end_stays_in_the_picture() -> None:
    low, high = number_of(DAY), number_of(DAY) + 7
    panel = Panel("zero", "date", "N", (), (low, high), (0.0, 1.0), x_ticks=day_ticks(low, high))
    last = (DAY + timedelta(days=7)).isoformat()
    drawing = draw_panels((panel,), "zero")
    (word,) = [part for part in drawing.parts if isinstance(part, Words) and part.text == last]
    assert word.anchor == "middle" and word.x + 0.28 * word.size * len(last) <= drawing.width


def test_the_range_holds_all_values() -> None:
    low, high = padded([1.0, math.nan, 3.0], 1.0)
    assert low < 1.0
    assert high > 3.0
    assert padded([2.0], 1.0) == (1.5, 2.5)
    assert padded([math.nan], 2.0) == (-1.0, 1.0)


def kept_on(day: date, slope: float) -> Kept:
    return Kept(Calibration("0" * 16, day, (ChannelCalibration(0, 0.0, slope),)), Path("x.json"))


def log(values: list[float | None]) -> tuple[Entry, ...]:
    start = datetime(2026, 11, 3, 9, tzinfo=UTC)
    return tuple(
        Entry(
            start + timedelta(days=7 * k), "session", DAY, left_zero_N=value, right_zero_N=0.0, mismatch_percent=value
        )
        for k, value in enumerate(values)
    )


def titles(drawing: object) -> list[str]:
    return [part.text for part in getattr(drawing, "parts", ()) if isinstance(part, Words) and part.bold]


def test_what_there_is_gets_a_picture() -> None:
    assert drift_plot(make_drift("0" * 16, ())) is None
    assert drift_plot(make_drift("0" * 16, ()), [kept_on(DAY, 0.001)]) is None
    only_slopes = drift_plot(make_drift("0" * 16, ()), [kept_on(DAY, 0.001), kept_on(date(2027, 11, 2), 0.00101)])
    assert [title.partition(",")[0] for title in titles(only_slopes)] == ["Slope"]
    drawing = drift_plot(make_drift("0" * 16, log([0.1, 0.2])), [kept_on(DAY, 0.001)])
    assert titles(drawing) == ["Zero, against the calibration's", "Mismatch of the two sides"]


def test_a_day_without_a_zero_leaves_a_gap_not_a_nought() -> None:
    def marks(values: list[float | None]) -> int:
        entries = tuple(replace(entry, mismatch_percent=None, right_zero_N=None) for entry in log(values))
        drawing = drift_plot(make_drift("0" * 16, entries))
        assert drawing is not None
        shown = [part for part in drawing.parts if isinstance(part, Line) and part.closed]
        assert all(np.isfinite(np.array(part.points)).all() for part in shown)
        return len(shown)

    assert marks([0.1, None, 0.3]) == marks([0.1, 0.3])


def test_words_stay_on_the_paper() -> None:
    drawing = drift_plot(make_drift("0" * 16, log([0.1] * 60)), [kept_on(DAY + timedelta(days=7 * 60), 0.001)])
    assert drawing is not None
    ends = {"start": 1.0, "middle": 0.5, "end": 0.0}
    flat = [part for part in drawing.parts if isinstance(part, Words) and not part.turned]
    assert all(part.x + ends[part.anchor] * 0.6 * part.size * len(part.text) <= drawing.width for part in flat)


@pytest.mark.parametrize("spans", [(), (Span(0.0, 4.0, "1"),)], ids=["bare", "with bars"])
def test_words_of_upright_lines_stand_over_what_was_measured(spans: tuple[Span, ...]) -> None:
    curve = ((0.0, 0.0), (5.0, 10.0), (10.0, 10.0))
    panel = Panel("t", "x", "y", (), (0.0, 10.0), (0.0, 10.0), marks_at=((6.0, "here"),), curves=(curve,), spans=spans)
    parts = draw_panels([panel], "t").parts
    (said,) = [part for part in parts if isinstance(part, Words) and part.text == "here"]
    (line,) = [part for part in parts if isinstance(part, Line) and len(part.points) == 3]
    assert said.y < min(y for _x, y in line.points)
    bars = [part for part in parts if isinstance(part, Line) and part.width == 2.2]
    assert len(bars) == len(spans) and all(bar.points[0][1] < said.y - said.size for bar in bars)


def test_a_band_that_goes_its_own_way_has_edges() -> None:
    panel = Panel("t", "x", "y", (), (0.0, 10.0), (0.0, 10.0), ribbons=(Ribbon.level((0.0, 10.0), (4.0, 6.0)),))
    parts = draw_panels([panel], "t").parts
    (area,) = [part for part in parts if isinstance(part, Line) and part.stroke is None]
    edges = [part for part in parts if isinstance(part, Line) and part.dashed]
    assert sorted({y for _x, y in area.points}) == sorted(edge.points[0][1] for edge in edges)
    # over the lines of the axes: where one of these lies on an edge, the edge is still seen
    assert min(parts.index(edge) for edge in edges) > parts.index(area) + 1


@pytest.mark.parametrize(
    ("value", "half", "said"),
    [
        (74.95, 0.4, "74.95 \u00b1 0.40"),
        (74.95, 1.2, "75.0 \u00b1 1.2"),
        (-3.0, 29.0, "\u22123 \u00b1 29"),
        (74.95, 0.0012, "74.95 \u00b1 0.01"),
        (74.95, 1.21, "75.0 \u00b1 1.3"),
        (74.95, math.nan, "75.0"),
        (74.95, 0.0, "75.0"),
    ],
)
def test_a_value_with_its_half_width(value: float, half: float, said: str) -> None:
    assert plus_minus(value, half).replace("\u00a0", " ") == said
