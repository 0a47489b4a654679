"""Repetitions by the metronome: which cycles count, what is measured in them, what is not told."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from tests.unit.moving import cut_motion, make_motion
from tests.unit.plates import make_block, seconds
from weightshare.exercise import (
    CUT_OFF,
    FOOT_LEFT,
    PHASES,
    TOO_LITTLE_LOAD,
    UNREAD,
    Basis,
    Exercise,
    Phase,
    Rejected,
    SetSpan,
    Tempo,
)
from weightshare.model import Bools, Floats, Side
from weightshare.pipeline.lowpass import LowPass, delay_s
from weightshare.pipeline.motion import Ground, Motion
from weightshare.pipeline.paced import METRONOME, NO_BEAT, NO_HEIGHT, NO_SET, NO_TOP, PacedCounter
from weightshare.task import Settings

TEMPO = Tempo(1.0, 1.0, 2.0, 1.0)
SETTINGS = Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING, tempo=TEMPO)
SET = SetSpan(1, 1.0, 21.5, paced_from_s=2.0)
"""Cycles begin at 2, 7, 12 and 17 s; the last one's lowering is over at 21 s."""
TIME_S = seconds(0, 25)


def count(motion: Motion, span: SetSpan | None = SET, filter_s: float = 0.0, **more: Any) -> PacedCounter:
    """Return a counter that has seen all of the samples."""
    counter = PacedCounter(Ground(replace(SETTINGS, **more), 0.01, filter_s))
    if span:
        counter.begin_set(span)
    counter.push(motion)
    counter.finish()
    return counter


def shared(time_s: Floats, percent: Floats | float) -> Motion:
    """Return the samples of 700 N with `percent` of it on the left."""
    return make_motion(time_s, 7.0 * percent, 700.0 - 7.0 * percent)


def by_phase(time_s: Floats, rise: float, top: float, lowering: float) -> Floats:
    """Return a share for each phase of the metronome that begins at 2 s; 50 % in the pause."""
    into_s = np.mod(time_s - 2.0, TEMPO.cycle_s)
    return np.select([into_s < 1.0, into_s < 2.0, into_s < 4.0], [rise, top, lowering], 50.0)


def test_each_whole_cycle_is_a_repetition_with_the_metronome_s_phases() -> None:
    counter = count(shared(TIME_S, 75.0))
    assert [one.start_s for one in counter.repetitions] == [2.0, 7.0, 12.0, 17.0]
    one = counter.repetitions[1]
    assert (one.basis, one.top_s, one.lowering_s, one.end_s) == (Basis.PACED, 8.0, 9.0, 11.0)
    assert (one.rise_duration_s, one.top_duration_s, one.lowering_duration_s) == (1.0, 1.0, 2.0)
    assert one.supported is False and not one.incomplete_return
    assert counter.rejected == []


def test_what_a_metronome_cannot_measure_is_not_told_and_said_once() -> None:
    counter = count(shared(TIME_S, 75.0))
    for one in counter.repetitions:
        assert one.height_injured_mm is None and one.height_uninjured_mm is None
        assert one.load_travel_injured_J is None and one.top_height_sd_mm is None
    assert counter.warnings == [METRONOME, NO_HEIGHT]


def test_shares_are_those_of_each_phase() -> None:
    one = count(shared(TIME_S, by_phase(TIME_S, 51.0, 62.0, 75.0))).repetitions[0]
    # a sample's interval at each edge goes over from one share to the next
    assert one.share_rise_percent == pytest.approx(51.0, abs=0.1)
    assert one.share_top_percent == pytest.approx(62.0, abs=0.1)
    assert one.share_lowering_percent == pytest.approx(75.0, abs=0.2)
    assert one.lowering_in_band_percent == pytest.approx(100.0, abs=1.0)


def test_thirds_of_the_lowering_are_thirds_of_its_time() -> None:
    """90, 75 and 60 % have a mean of 75, and only the middle third is in the band of 75 +- 5."""
    into_s = np.mod(TIME_S - 4.0, TEMPO.cycle_s)
    share = np.select([into_s < 2.0 / 3.0, into_s < 4.0 / 3.0], [90.0, 75.0], 60.0)
    one = count(shared(TIME_S, share)).repetitions[2]
    assert one.share_lowering_thirds_percent == pytest.approx((90.0, 75.0, 60.0), abs=0.2)
    assert one.share_lowering_percent == pytest.approx(75.0, abs=0.2)
    assert one.lowering_in_band_percent == pytest.approx(100.0 / 3.0, abs=1.0)
    assert one.lowering_least_N == pytest.approx(420.0)


@pytest.mark.parametrize("filter_Hz", [3.0, 6.0])
def test_loads_are_read_as_late_as_the_filter_makes_them(filter_Hz: float) -> None:
    """The load turns half-way through the lowering: read too early or too late, the mean is off by over a point."""
    percent = np.where(np.mod(TIME_S - 2.0, TEMPO.cycle_s) < 3.0, 90.0, 30.0)
    block = LowPass(filter_Hz).push(make_block(TIME_S, 7.0 * percent, 700.0 - 7.0 * percent))
    motion = make_motion(TIME_S, block.values[0], block.values[1])
    one = count(motion, filter_s=delay_s(filter_Hz)).repetitions[1]
    assert one.lowering_s == 9.0
    # the turn is half-way between two samples, half an interval early: 0.15 points of the whole, 0.45 of its third
    assert one.share_lowering_percent == pytest.approx(59.85, abs=0.05)
    thirds = one.share_lowering_thirds_percent
    assert thirds is not None and thirds[1] == pytest.approx(59.55, abs=0.05)


def test_a_repetition_is_given_out_as_soon_as_the_samples_cover_it() -> None:
    counter = PacedCounter(Ground(SETTINGS, 0.01, 0.0375))
    counter.begin_set(SET)
    motion, given_s = shared(TIME_S, 75.0), list[float]()
    for k in range(TIME_S.size):
        counter.push(cut_motion(motion, k, k + 1))
        if len(counter.repetitions) > len(given_s):
            given_s.append(float(TIME_S[k]))
    assert given_s == pytest.approx([6.04, 11.04, 16.04, 21.04])


def test_phases_are_the_metronome_s_as_late_as_the_loads() -> None:
    counter = PacedCounter(Ground(SETTINGS, 0.01, 0.0375))
    counter.begin_set(SET)
    phases = counter.push(shared(TIME_S, 75.0))
    turns = np.flatnonzero(np.diff(phases)) + 1
    told = [(round(TIME_S[k], 2), PHASES[phases[k]]) for k in turns[:5]]
    order = [Phase.RISE, Phase.TOP, Phase.LOWERING, Phase.BOTTOM, Phase.RISE]
    assert told == list(zip([2.04, 3.04, 4.04, 6.04, 7.04], order, strict=True))
    assert PHASES[phases[0]] is Phase.BOTTOM and PHASES[phases[-1]] is Phase.BOTTOM
    assert TIME_S[turns[-1]] == pytest.approx(21.04)


def where(begin_s: float, end_s: float) -> Bools:
    return np.isin(np.arange(TIME_S.size), np.arange(round(100 * begin_s), round(100 * end_s)))


@pytest.mark.parametrize(
    ("motion", "reason"),
    [
        (make_motion(TIME_S, np.where(where(8, 8.5), 10.0, 350.0), np.where(where(8, 8.5), 690.0, 350.0)), FOOT_LEFT),
        (make_motion(TIME_S, np.where(where(8, 8.5), 0.0, 350.0), np.where(where(8, 8.5), 0.0, 350.0)), FOOT_LEFT),
        (make_motion(TIME_S, 350.0, 350.0, np.where(where(8, 8.5), 79.0, 100.0)), TOO_LITTLE_LOAD),
        (make_motion(TIME_S, np.where(where(8, 8.04), np.nan, 350.0), 350.0), UNREAD),
    ],
)
def test_a_cycle_that_was_not_stood_through_is_rejected(motion: Motion, reason: str) -> None:
    counter = count(motion)
    assert [one.start_s for one in counter.repetitions] == [2.0, 12.0, 17.0]
    assert counter.rejected == [Rejected(7.0, 11.0, reason)]


def test_a_step_in_the_pause_is_free() -> None:
    counter = count(make_motion(TIME_S, np.where(where(6.2, 6.8), 0.0, 350.0), 350.0))
    assert len(counter.repetitions) == 4 and counter.rejected == []


def test_two_readings_may_be_missing() -> None:
    counter = count(make_motion(TIME_S, np.where(where(8, 8.02), np.nan, 350.0), 350.0))
    assert len(counter.repetitions) == 4


@pytest.mark.parametrize("leg", Side)
def test_on_the_other_leg_its_own_share_is_asked_for(leg: Side) -> None:
    alone = shared(TIME_S, 97.0 if leg is Side.LEFT else 3.0)
    counter = count(alone, replace(SET, working=leg), exercise=Exercise.SINGLE_RAISE, target_percent=97.0)
    assert [one.lowering_in_band_percent for one in counter.repetitions] == [100.0] * 4


@pytest.mark.parametrize(("leg", "found"), [(Side.LEFT, 0), (Side.RIGHT, 4), (None, 0)])
def test_in_single_leg_work_only_the_working_foot_has_to_stand(leg: Side | None, found: int) -> None:
    motion = make_motion(TIME_S, 0.0, 700.0)
    counter = count(motion, replace(SET, working=leg), exercise=Exercise.SINGLE_RAISE, target_percent=None)
    assert len(counter.repetitions) == found


def test_part_of_the_weight_elsewhere_is_marked() -> None:
    counter = count(make_motion(TIME_S, 350.0, 350.0, np.where(where(8, 8.5), 94.0, 100.0)))
    assert [one.supported for one in counter.repetitions] == [False, True, False, False]
    unknown = count(make_motion(TIME_S, 350.0, 350.0, np.nan))
    assert [one.supported for one in unknown.repetitions] == [None] * 4


@pytest.mark.parametrize(
    ("to_s", "found", "cut"),
    [(21.0, 4, []), (20.9, 3, [Rejected(17.0, 20.9, CUT_OFF)]), (17.9, 3, []), (16.0, 3, [])],
)
def test_the_set_s_end_ends_the_counting(to_s: float, found: int, cut: list[Rejected]) -> None:
    counter = count(shared(TIME_S, 75.0), replace(SET, to_s=to_s))
    assert len(counter.repetitions) == found
    assert counter.rejected == cut


def test_a_set_ends_when_it_is_told_to_and_when_the_next_begins() -> None:
    motion = shared(TIME_S, 75.0)
    counter = PacedCounter(Ground(SETTINGS, 0.01, 0.0))
    counter.begin_set(SetSpan(1, 1.0, paced_from_s=2.0))
    counter.push(cut_motion(motion, 0, 651))
    counter.end_set(6.5)
    counter.push(cut_motion(motion, 651, 801))
    counter.begin_set(SetSpan(2, 8.5, paced_from_s=9.0))
    counter.push(cut_motion(motion, 801, 1500))
    counter.begin_set(SetSpan(3, 15.0, paced_from_s=15.5))
    counter.push(cut_motion(motion, 1500, 2500))
    counter.finish()
    assert [one.start_s for one in counter.repetitions] == [2.0, 9.0, 15.5, 20.5]
    assert [cut.start_s for cut in counter.rejected] == []


def test_the_stream_s_end_cuts_the_cycle_under_way() -> None:
    counter = count(shared(seconds(0, 20), 75.0), replace(SET, to_s=None))
    assert len(counter.repetitions) == 3
    assert counter.rejected == [Rejected(17.0, 19.99, CUT_OFF)]


def test_a_stream_that_ends_with_the_lowering_has_all_of_its_repetitions() -> None:
    counter = count(shared(seconds(0, 21.01), 75.0), replace(SET, to_s=None), filter_s=0.0375)
    assert len(counter.repetitions) == 4 and counter.rejected == []


def test_beats_before_the_set_are_not_counted() -> None:
    counter = count(shared(TIME_S, 75.0), SetSpan(1, 8.0, 22.0, paced_from_s=2.0))
    assert [one.start_s for one in counter.repetitions] == [12.0, 17.0]


def test_without_a_metronome_nothing_is_counted_and_it_is_said() -> None:
    assert count(shared(TIME_S, 75.0), replace(SET, paced_from_s=None)).warnings == [NO_BEAT]
    assert count(shared(TIME_S, 75.0), tempo=None).warnings == [NO_BEAT]
    assert count(shared(TIME_S, 75.0), None).warnings == [NO_SET]


def test_a_tempo_without_a_top_has_no_share_there() -> None:
    counter = count(shared(TIME_S, 75.0), tempo=Tempo(1.0, 0.0, 2.0, 1.0))
    one = counter.repetitions[0]
    assert one.top_duration_s == 0.0 and one.share_top_percent is None and one.top_share_sd_points is None
    assert counter.warnings == [METRONOME, NO_HEIGHT, NO_TOP]


def test_steadiness_at_the_top_is_that_of_the_share() -> None:
    share = 60.0 + 2.0 * np.sin(2.0 * np.pi * 5.0 * TIME_S)
    one = count(shared(TIME_S, share)).repetitions[0]
    assert one.top_share_sd_points == pytest.approx(np.sqrt(2.0), rel=0.05)
