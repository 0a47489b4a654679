"""Heel raises are physically honest: forces follow from the heights, the load leads the heel, shares go as asked."""

from __future__ import annotations

import numpy as np
import pytest

from tests.unit.visits import Seen, manner_of, task_of, watch
from weightshare.exercise import Exercise, Surface, Tempo
from weightshare.model import Floats, Side
from weightshare.scales.rig.body import LEVER
from weightshare.scales.rig.people import RAISING
from weightshare.scales.rig.plan import STANDING_FRONT, Deed, Lane

NAMES = [profile.name for profile in RAISING]
LIFTERS = [profile.name for profile in RAISING if not profile.manner.leans_only]
HEEL_RAISES = [exercise for exercise in Exercise if exercise.lifts_heels and exercise is not Exercise.HEEL_HOLD]
G = 9.80665
SLOW = Tempo(1.0, 1.0, 2.0, 3.0)
"""With a stop at the bottom in which everything comes to rest."""


def spans(seen: Seen, deed: Deed) -> tuple[Floats, Floats]:
    """The injured heel's height and the share while a repetition lasts."""
    rows = seen.within(deed.from_s, deed.to_s)
    return seen.heel(seen.person.task.injured)[rows], seen.share_percent[rows]


@pytest.mark.parametrize(("tempo", "percent"), [(Tempo(1, 0, 1, 0), 5.03), (Tempo(2, 0, 2, 0), 1.26)])
def test_a_swinging_rise_of_10_cm_changes_the_total_as_by_newton(tempo: Tempo, percent: float) -> None:
    # both heels alike, and as high as lifts the centre of mass by 10 cm
    who = manner_of("swinging", heel_mm=100.0 / LEVER, good_part=1.0, wobble_mm=0.0, shaking_mm=0.0)
    task = task_of(Exercise.RAISE, tempo, target_percent=50.0, repetitions=10)
    seen = watch(who, task, 60.0)
    deeds = seen.deeds("repetition")
    rows = seen.within(deeds[1].from_s, deeds[-2].to_s)
    wave = np.exp(-2j * np.pi * seen.time_s[rows] / tempo.cycle_s)
    assert 100.0 * 2 * abs(np.mean(wave * seen.total[rows])) == pytest.approx(percent, rel=0.02)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("exercise", [Exercise.LOWERING, Exercise.SINGLE_LOWERING])
def test_from_still_to_still_the_impulse_is_body_weight_times_duration(name: str, exercise: Exercise) -> None:
    seen = watch(name, task_of(exercise, repetitions=3), 40.0)
    with_rail = seen.person.profile.manner.rail_part > 0
    rows = seen.within(9.0, 40.0)
    mean = seen.total[rows].mean()
    assert mean == pytest.approx(1.0, abs=0.06 if with_rail else 0.005)
    assert (mean < 0.99) == with_rail


@pytest.mark.parametrize("name", ["raiser", "smooth", "jerky", "bouncing", "tall", "trembling", "swinging", "pausing"])
def test_the_total_is_mass_times_gravity_and_acceleration_of_the_course(name: str) -> None:
    # the centre of mass from the true heights and shares alone, differentiated twice by differences
    who = manner_of(name)
    seen = watch(who, task_of(Exercise.RAISE, Tempo(0.8, 0.4, 1.0, 1.0), repetitions=3), 30.0, rate_Hz=500.0)
    (deed, *_) = seen.deeds("repetition")
    rows = seen.within(deed.from_s - 0.2, deed.to_s + 0.2)
    part = seen.share_percent[rows] / 100.0
    kernel = np.hanning(51) / np.hanning(51).sum()  # the share sways, the centre of mass does not ride on that
    part = np.convolve(np.pad(part, 25, mode="edge"), kernel, mode="valid")
    left, right = seen.height_mm[rows].T
    centre_m = LEVER / 1000.0 * (part * left + (1 - part) * right)
    expected = 1.0 + np.diff(centre_m, 2) * 500.0**2 / G
    total = seen.total[rows][1:-1]
    smooth_total, smooth_expected = (np.convolve(x, kernel, mode="valid") for x in (total, expected))
    # what is left is the noise of standing, under 1 %, and what small corrections of the share throw
    assert np.abs(smooth_total - smooth_expected).max() < 0.012
    assert np.corrcoef(smooth_total, smooth_expected)[0, 1] > 0.95


@pytest.mark.parametrize(("name", "side"), [*((name, Side.LEFT) for name in LIFTERS), ("raiser", Side.RIGHT)])
def test_the_load_goes_to_the_ball_before_the_heel_leaves(name: str, side: Side) -> None:
    seen = watch(name, task_of(tempo=SLOW, injured=side, repetitions=3), 45.0, rate_Hz=500.0)
    ball = seen.person.profile.manner.front_part
    for deed in seen.repetitions:
        rows = seen.within(deed.from_s - 0.35, deed.to_s)
        front, heel = seen.front(side)[rows], seen.heel(side)[rows]
        off = int(np.argmax(heel > 2.0))
        half = int(np.argmax(front > (STANDING_FRONT + ball) / 2))
        assert 0.04 < (off - half) / 500.0 < 0.4
        assert abs(front[off:][heel[off:] > 15.0] - ball).max() < 0.07


@pytest.mark.parametrize("seed", range(4))
def test_the_load_starts_forward_100_to_200_ms_before_the_heel(seed: int) -> None:
    # without sway, the start itself can be read from the plan's lane
    seen = watch("raiser", task_of(tempo=SLOW, repetitions=6), 60.0, seed)
    for deed in seen.repetitions:
        time_s = np.arange(deed.from_s - 0.3, deed.from_s + 0.4, 0.001)
        lane = seen.person.value(Lane.FRONT, time_s)
        begins = time_s[np.argmax(lane > lane[0] + 1e-6)]
        assert 0.1 < deed.from_s - begins < 0.2


@pytest.mark.parametrize("name", LIFTERS)
def test_after_a_repetition_the_load_is_on_the_whole_foot_again(name: str) -> None:
    seen = watch(name, task_of(tempo=SLOW, repetitions=6), 70.0)
    for deed in seen.repetitions:
        rows = seen.within(deed.to_s + 0.4, deed.to_s + 0.55)
        assert np.nanmax(seen.front(Side.LEFT)[rows]) < 0.6


def test_on_a_step_the_heel_hangs_free_and_the_load_stays_on_the_forefoot() -> None:
    seen = watch("raiser", task_of(surface=Surface.STEP, reference_height_mm=95.0), 40.0)
    deeds = seen.deeds("repetition")
    for deed in deeds:
        height, _ = spans(seen, deed)
        assert height[0] == pytest.approx(-25.0, abs=4.0)
        assert height[-1] == pytest.approx(-25.0, abs=4.0)
        assert height.max() == pytest.approx(70.0, abs=9.0)
        rows = seen.within(deed.from_s - 0.5, deed.to_s + 0.5)
        assert np.nanmin(seen.front(Side.LEFT)[rows]) > 0.7
    assert np.nanmean(seen.front(Side.LEFT)[seen.within(4.0, 9.0)]) == pytest.approx(STANDING_FRONT, abs=0.05)
    for rows in (seen.within(4.5, 9.0), seen.within(38.0, 40.0)):
        assert np.abs(seen.height_mm[rows]).max() < 1e-9


def test_heels_on_the_floor_are_never_under_it() -> None:
    for name in NAMES:
        assert watch(name, task_of()).height_mm.min() > -1e-9


@pytest.mark.parametrize("side", Side)
@pytest.mark.parametrize("target", [60.0, 75.0, 90.0])
def test_in_a_lowering_the_share_turns_at_the_top_and_goes_back_at_the_bottom(side: Side, target: float) -> None:
    seen = watch("raiser", task_of(injured=side, target_percent=target, repetitions=6), 60.0)
    for deed in seen.repetitions:
        height, share = spans(seen, deed)
        peak = int(np.argmax(height))
        rising = share[:peak][(height[:peak] > 8.0) & (height[:peak] < 60.0)]
        lowering = share[peak:][(height[peak:] > 8.0) & (height[peak:] < 60.0)]
        assert rising.mean() == pytest.approx(50.0, abs=3.0)
        assert lowering.mean() == pytest.approx(target, abs=3.0)
        late = seen.within(deed.to_s + 0.75, deed.to_s + 0.9)
        assert seen.share_percent[late].mean() == pytest.approx(50.0, abs=3.5)


def test_in_a_raise_the_share_is_the_same_up_and_down() -> None:
    seen = watch("raiser", task_of(Exercise.RAISE, target_percent=70.0), 40.0)
    deeds = seen.deeds("repetition")
    share = seen.share_percent[seen.within(deeds[0].from_s, deeds[-1].to_s)]
    assert share.mean() == pytest.approx(70.0, abs=1.5)
    assert np.abs(share - 70.0).max() < 6.0


@pytest.mark.parametrize("working", Side)
def test_a_single_lowering_is_done_by_the_working_leg_alone(working: Side) -> None:
    seen = watch("raiser", task_of(Exercise.SINGLE_LOWERING, working=working), 50.0)
    free = seen.force_N[:, 2:] if working is Side.LEFT else seen.force_N[:, :2]
    deeds = seen.deeds("repetition")
    assert len(deeds) == 4
    for deed in deeds:
        rows = seen.within(deed.from_s, deed.to_s)
        height, other, load = seen.heel(working)[rows], seen.heel(working.other)[rows], free[rows].sum(axis=1)
        peak = int(np.argmax(height))
        down = np.arange(height.size) > peak
        assert load[~down & (height > 10.0) & (height < 60.0)].min() > 200.0
        assert load[down & (height < 55.0)].max() < 1e-6
        assert (other - height)[down & (height < 55.0)].min() > 20.0
        assert free[seen.within(deed.to_s + 1.0, deed.to_s + 1.05)].sum(axis=1).mean() > 250.0


@pytest.mark.parametrize("working", Side)
def test_a_single_raise_is_done_on_one_leg_from_its_beginning(working: Side) -> None:
    seen = watch("raiser", task_of(Exercise.SINGLE_RAISE, working=working), 45.0)
    free = seen.force_N[:, 2:] if working is Side.LEFT else seen.force_N[:, :2]
    deeds = seen.deeds("repetition")
    rows = seen.within(deeds[0].from_s, deeds[-1].to_s)
    assert len(deeds) == 4
    assert free[rows].max() < 1e-6
    assert seen.heel(working.other)[rows].min() > 50.0
    assert seen.heel(working)[rows].max() < seen.person.profile.manner.heel_mm
    assert free[seen.within(43.0, 45.0)].sum(axis=1).mean() > 300.0, "both feet are down again"


@pytest.mark.parametrize("exercise", HEEL_RAISES)
@pytest.mark.parametrize("surface", Surface)
def test_no_foot_bears_while_it_is_off_its_plate(exercise: Exercise, surface: Surface) -> None:
    for name in ("raiser", "stumbling", "stepping-off"):
        seen = watch(name, task_of(exercise, surface=surface, repetitions=6), 70.0)
        for side, columns in ((Side.LEFT, slice(0, 2)), (Side.RIGHT, slice(2, 4))):
            gone = seen.heel(side) > 160.0
            # stepping on takes a moment in which the foot comes down on to its plate
            stepping = np.zeros_like(gone)
            for event in seen.person.events:
                stepping |= (seen.time_s > event.time_s - 0.01) & (seen.time_s < event.time_s + 0.3)
            assert seen.force_N[gone & ~stepping][:, columns].max(initial=0.0) < 1e-6


@pytest.mark.parametrize("exercise", [exercise for exercise in Exercise if exercise is not Exercise.HOLD])
@pytest.mark.parametrize("name", ["raiser", "jerky", "swinging", "stumbling"])
def test_forces_and_heights_never_jump(exercise: Exercise, name: str) -> None:
    seen = watch(name, task_of(exercise, repetitions=5), 60.0)
    assert seen.force_N.min() >= 0.0
    # landing with the whole weight, or a stumble, is the fastest there is
    assert np.abs(np.diff(seen.force_N, axis=0)).max() < 75.0
    stands = seen.time_s > 5.0
    assert np.abs(np.diff(seen.height_mm[stands], axis=0)).max() < 7.0
