"""The corridor of the coming seconds, held against the band that is measured when they have come."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from tests.unit.series import make_raise
from weightshare.exercise import PHASES, Basis, Exercise, Phase, Tempo
from weightshare.model import Floats, Side
from weightshare.pipeline.aim import Aim
from weightshare.pipeline.lowpass import delay_s
from weightshare.pipeline.motion import PhaseNumbers
from weightshare.practice.metronome import lengths_s
from weightshare.practice.preview import FIRST_TEMPO, LATE_S, find_edges, look_ahead, tempo_of
from weightshare.practice.screen import Ahead
from weightshare.state import Snapshot
from weightshare.task import Settings

TEMPO = Tempo(1.0, 1.0, 2.0, 1.0)
LOWERING = Settings(Side.RIGHT, 75.0, exercise=Exercise.LOWERING, tempo=TEMPO)
LATE = delay_s(LOWERING.filter_Hz)


def shot(phase: Phase | None, lasts_s: float | None, aim: float | None, **more: Any) -> Snapshot:
    since_s = None if lasts_s is None else 100.0 - lasts_s
    values: dict[str, Any] = {"time_s": 100.0, "phase": phase, "phase_since_s": since_s, "aim_percent": aim}
    return Snapshot(**(values | {"basis": Basis.HEIGHT} | more))


def ahead_of(snapshot: Snapshot, settings: Settings = LOWERING, **more: Any) -> Ahead:
    ahead = look_ahead(snapshot, settings, **more)
    assert ahead is not None
    return ahead


def measured(settings: Settings, tempo: Tempo, time_s: Floats) -> tuple[Floats, PhaseNumbers]:
    """Return the aim that the pipeline's own stage gives at `time_s` (n,), and the phases, of a person in time."""
    edges = np.cumsum([tempo.rise_s, tempo.top_s, tempo.lowering_s, tempo.pause_s])
    place = np.searchsorted(edges, np.mod(time_s, tempo.cycle_s), side="right")
    order = [PHASES.index(phase) for phase in (Phase.RISE, Phase.TOP, Phase.LOWERING, Phase.BOTTOM)]
    phases = np.array(order, dtype=np.int8)[place]
    return Aim(settings).push(time_s, phases), phases


@pytest.mark.parametrize("injured", list(Side))
@pytest.mark.parametrize("tempo", [TEMPO, Tempo(0.8, 0.4, 1.0, 0.6), Tempo(2.0, 2.0, 4.0, 0.4)])
@pytest.mark.parametrize("filter_Hz", [6.0, None])
def test_for_whoever_keeps_time_the_corridor_to_come_is_the_band_that_comes(
    injured: Side, tempo: Tempo, filter_Hz: float | None
) -> None:
    settings = replace(LOWERING, injured=injured, tempo=tempo, filter_Hz=filter_Hz)
    time_s = np.arange(0.0, 3 * tempo.cycle_s, 0.01)
    aims, phases = measured(settings, tempo, time_s)
    begins = np.flatnonzero(np.diff(phases, prepend=-1))
    late_s, to_come_s = delay_s(filter_Hz), np.arange(0, 400) * 0.01
    for now in range(0, time_s.size - 400, 7):
        # an instant that is told is earlier than the sample that it was found on, by the filter's delay
        since_s = float(time_s[begins[begins <= now][-1]]) - late_s
        lasts_s = float(time_s[now]) - since_s
        aim = float(aims[now])
        snapshot = shot(PHASES[phases[now]], lasts_s, aim, basis=Basis.PACED)
        ahead = ahead_of(snapshot, settings, paced_from_s=0.0)
        low, high = find_edges(settings, aims[now : now + 400])
        assert (ahead.low[0], ahead.high[0]) == (low[0], high[0]), "the band of now, to the last bit"
        drawn = np.interp(to_come_s, ahead.from_now_s, ahead.low)
        jumps = np.abs(np.diff(low, prepend=low[0])) > 1.0
        near_a_jump = np.convolve(jumps, np.ones(15), "same") > 0
        # a phase begins with a sample: what is drawn from instants differs by up to the step of one
        step = np.abs(np.diff(low))[~jumps[1:]].max()
        assert np.abs(drawn - low)[~near_a_jump].max() < step + 0.3


def test_it_waits_at_the_bottom_and_nothing_moves_until_the_person_starts() -> None:
    early, late = (ahead_of(shot(Phase.BOTTOM, lasts_s, 50.0)) for lasts_s in (None, 30.0))
    for ahead in (early, late):
        assert ahead.waits and ahead.marks[0] == (0.0, "up")
        np.testing.assert_array_equal(ahead.low, early.low)
    assert [word for _at_s, word in early.marks] == ["up", "hold", "down", "rest", "up"]
    resting = ahead_of(shot(Phase.BOTTOM, 0.4, 60.0))
    assert not resting.waits and [word for _at_s, word in resting.marks[:2]] == ["rest", "up"]
    assert [at_s for at_s, _word in resting.marks[:2]] == pytest.approx([-0.4 + LATE, 0.6 + LATE])


@pytest.mark.parametrize(("phase", "word"), [(Phase.RISE, "hold"), (Phase.TOP, "down"), (Phase.LOWERING, "rest")])
def test_who_is_late_sees_the_next_turn_ahead_and_never_behind(phase: Phase, word: str) -> None:
    aim = 50.0 if phase is Phase.RISE else 75.0
    for lasts_s in (0.2, 1.9, 2.5, 9.0):
        marks = ahead_of(shot(phase, lasts_s, aim)).marks
        assert marks[0][0] == pytest.approx(LATE - lasts_s) and marks[1][1] == word and marks[1][0] >= LATE_S - 1e-9
    assert ahead_of(shot(phase, 9.0, aim)).marks[1][0] == pytest.approx(LATE_S)


def test_it_reaches_far_enough_and_its_instants_rise_from_now() -> None:
    for phase in Phase:
        ahead = ahead_of(shot(phase, 0.35, 60.0))
        assert ahead.from_now_s[0] == 0.0 and ahead.from_now_s[-1] >= 4.8
        assert np.all(np.diff(ahead.from_now_s) > 0.0) and ahead.low.shape == ahead.from_now_s.shape
        assert np.all(np.isfinite(ahead.low)) and np.all(ahead.low < ahead.high)


def test_half_way_through_a_bend_the_corridor_goes_on_from_the_band_of_now() -> None:
    ahead = ahead_of(shot(Phase.TOP, 0.5, 61.0))
    assert ahead.low[0] == 56.0 and np.all(np.diff(ahead.low[:10]) >= 0.0) and ahead.low[1] - ahead.low[0] < 3.0
    back = ahead_of(shot(Phase.BOTTOM, 0.2, 66.0))
    assert back.low[0] == 61.0 and np.all(np.diff(back.low[:10]) <= 0.0)


def test_where_the_exercise_does_not_turn_the_corridor_is_straight_and_the_words_stand_beside_it() -> None:
    ahead = ahead_of(shot(Phase.RISE, 0.2, 60.0), replace(LOWERING, exercise=Exercise.RAISE, target_percent=60.0))
    assert np.all(ahead.low == 55.0) and np.all(ahead.high == 65.0)
    assert [word for _at_s, word in ahead.marks[:3]] == ["up", "hold", "down"]


def test_who_squats_goes_down_first() -> None:
    squat = replace(LOWERING, exercise=Exercise.SQUAT, target_percent=50.0)
    assert [word for _at_s, word in ahead_of(shot(Phase.BOTTOM, None, 50.0), squat).marks[:4]] == [
        "down",
        "hold",
        "up",
        "rest",
    ]
    assert [word for _at_s, word in ahead_of(shot(Phase.RISE, 0.2, 50.0), squat).marks[:2]] == ["up", "rest"]


def test_edges_are_cut_at_all_and_nothing_and_open_where_only_too_little_is_judged() -> None:
    aims = np.array([50.0, 97.0, np.nan])
    low, high = find_edges(LOWERING, aims)
    np.testing.assert_array_equal(low, [45.0, 92.0, np.nan])
    np.testing.assert_array_equal(high, [55.0, 100.0, np.nan])
    left_low, left_high = find_edges(replace(LOWERING, injured=Side.LEFT, one_sided=True), aims)
    np.testing.assert_array_equal(left_low, [0.0, 0.0, np.nan])
    np.testing.assert_array_equal(left_high, [55.0, 8.0, np.nan])


def test_a_metronome_is_not_waited_for_and_leads_in() -> None:
    silent = shot(Phase.BOTTOM, None, 50.0, basis=Basis.PACED)
    assert ahead_of(silent).waits
    led = ahead_of(silent, paced_from_s=103.0)
    assert not led.waits and led.marks[0][1] == "up" and led.marks[0][0] == pytest.approx(3.0 + LATE)


@pytest.mark.parametrize(
    "snapshot", [shot(None, None, 50.0), shot(Phase.RISE, 0.2, None), Snapshot(phase=Phase.RISE, aim_percent=50.0)]
)
def test_what_cannot_be_told_leaves_the_band_where_it_is(snapshot: Snapshot) -> None:
    assert look_ahead(snapshot, LOWERING) is None


@pytest.mark.parametrize("exercise", [None, Exercise.HOLD, Exercise.HEEL_HOLD])
def test_a_hold_has_no_phases_to_come(exercise: Exercise | None) -> None:
    assert look_ahead(shot(Phase.RISE, 0.2, 50.0), replace(LOWERING, exercise=exercise)) is None


def test_without_a_tempo_the_persons_own_is_taken_from_the_last_repetitions() -> None:
    own = replace(LOWERING, tempo=None)
    assert tempo_of(own, []) == FIRST_TEMPO == Tempo(2.0, 1.0, 3.0, 1.0)
    lifts = [
        make_raise(start_s, 4.0, rise_duration_s=rise_s, top_duration_s=0.5)
        for start_s, rise_s in ((0.0, 9.0), (10.0, 0.8), (14.5, 1.0), (19.5, 1.2))
    ]
    found = tempo_of(own, lifts)
    assert lengths_s(found) == pytest.approx(lengths_s(Tempo(1.0, 0.5, 2.0, 0.75)))
    assert tempo_of(LOWERING, lifts) == TEMPO


def test_a_rest_is_no_pause_and_a_phase_that_is_not_known_leaves_the_first_guess() -> None:
    own = replace(LOWERING, tempo=None)
    lifts = [make_raise(start_s, rise_duration_s=1.0, top_duration_s=None) for start_s in (0.0, 80.0)]
    assert tempo_of(own, lifts) == Tempo(1.0, 0.0, 2.0, FIRST_TEMPO.pause_s)
    assert tempo_of(own, [replace(lifts[0], lowering_duration_s=None)]) == FIRST_TEMPO
