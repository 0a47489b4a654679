"""What the catalog says of each person who raises the heels can be seen in the true course."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from tests.unit.visits import Seen, cast_of, task_of, watch
from weightshare.exercise import Exercise, Surface, Tempo
from weightshare.model import Floats, Side
from weightshare.scales.rig.catalog import PEOPLE
from weightshare.scales.rig.plan import Deed
from weightshare.scales.rig.visit import measured_visit

LEFT = Side.LEFT


def ten(name: str, seed: int = 1, seconds: float = 100.0, **wishes: Any) -> Seen:
    """Ten repetitions of one person."""
    return watch(name, task_of(repetitions=10, **wishes), seconds, seed)


def heights(seen: Seen, what: str = "repetition") -> list[Floats]:
    return [seen.heel(LEFT)[seen.within(deed.from_s, deed.to_s)] for deed in seen.deeds(what)]


def lowering_share(seen: Seen, deed: Deed) -> tuple[Floats, Floats]:
    """Height and share on the way down, from 85 % to 15 % of the height."""
    rows = seen.within(deed.from_s, deed.to_s)
    height, share = seen.heel(LEFT)[rows], seen.share_percent[rows]
    down = (np.arange(height.size) > np.flatnonzero(height > 0.9 * height.max())[-1]) & (height > 0.15 * height.max())
    return height[down & (height < 0.85 * height.max())], share[down & (height < 0.85 * height.max())]


def test_people_are_of_different_height_and_weight() -> None:
    tops = {name: np.mean([height.max() for height in heights(ten(name))]) for name in ("tall", "raiser", "small")}
    assert tops["tall"] > tops["raiser"] + 20.0 > tops["small"] + 40.0
    weights = {profile.body_weight_N for profile in PEOPLE.values()}
    assert max(weights) > 2.0 * min(weights)


def test_the_weak_one_stays_low_and_short_of_the_target() -> None:
    seen = ten("weak")
    shares = [lowering_share(seen, deed)[1].mean() for deed in seen.repetitions]
    assert np.mean([height.max() for height in heights(seen)]) < 52.0
    assert np.mean(shares) == pytest.approx(67.5, abs=1.5)
    standing = seen.time_s > 5.0
    assert seen.heel(Side.RIGHT)[standing].max() > 1.3 * seen.heel(LEFT)[standing].max()


def test_the_tiring_one_loses_height_share_and_time() -> None:
    seen = ten("tiring")
    deeds, tops = seen.deeds("repetition"), [height.max() for height in heights(seen)]
    shares = [lowering_share(seen, deed)[1].mean() for deed in deeds]
    spans = [lowering_share(seen, deed)[0].size for deed in deeds]
    assert np.mean(tops[-2:]) < 0.75 * np.mean(tops[:2])
    assert np.mean(shares[:2]) - np.mean(shares[-2:]) > 7.0
    assert np.mean(spans[-2:]) < 0.75 * np.mean(spans[:2])


def test_to_exhaustion_the_heels_get_lower_and_lower_until_the_end() -> None:
    seen = watch("tiring", task_of(to_exhaustion=True), 110.0)
    tops = [height.max() for height in heights(seen)]
    assert len(tops) == PEOPLE["tiring"].manner.endurance
    assert np.mean(tops[-2:]) == pytest.approx(0.62 * np.mean(tops[:2]), abs=8.0)


def test_the_trembling_one_trembles_while_the_heels_are_up() -> None:
    def fast_mm(name: str) -> float:
        seen = watch(name, task_of(Exercise.HEEL_HOLD, hold_goal_s=10.0, holds=1), 30.0, rate_Hz=200.0)
        (deed,) = seen.deeds("hold")
        height = seen.heel(LEFT)[seen.within(deed.from_s + 4.0, deed.from_s + 11.0)]
        return float((height - np.convolve(height, np.ones(40) / 40, mode="same"))[40:-40].std())

    assert fast_mm("trembling") > 3.0 * fast_mm("raiser")
    assert np.abs(watch("trembling", task_of()).height_mm[:900][600:]).max() < 1e-9


def test_the_own_tempo_is_kept_whatever_is_asked() -> None:
    begins = [deed.from_s for deed in ten("own-tempo", tempo=Tempo(0.8, 0.4, 1.0, 1.0)).deeds("repetition")]
    assert np.mean(np.diff(begins)) == pytest.approx(1.4 + 0.6 + 2.6 + 1.8, abs=0.4)


@pytest.mark.parametrize("tempo", [Tempo(0.8, 0.4, 1.0, 1.0), Tempo(1.0, 1.0, 3.0, 1.0), Tempo(2.0, 2.0, 4.0, 2.0)])
def test_the_asked_tempo_is_followed_with_scatter_and_without_drift(tempo: Tempo) -> None:
    begins = np.array([deed.from_s for deed in ten("raiser", seconds=130.0, tempo=tempo).deeds("repetition")])
    assert begins.size == 10
    assert np.diff(begins).mean() == pytest.approx(tempo.cycle_s, rel=0.02)
    late = begins - begins[0] - tempo.cycle_s * np.arange(10)
    assert 0.01 < late.std() < 0.15


def test_the_late_one_shifts_when_the_heels_are_on_their_way_down() -> None:
    def shift_done_at(name: str) -> float:
        """The part of the height that is left when the share is where it is asked."""
        seen = ten(name, tempo=Tempo(1.0, 0.6, 2.0, 1.0))
        parts = []
        for deed in seen.repetitions:
            rows = seen.within(deed.from_s, deed.to_s)
            height = seen.heel(LEFT)[rows]
            parts.append(height[np.argmax(seen.share_percent[rows] > 72.0)] / height.max())
        return float(np.mean(parts))

    assert shift_done_at("late") < 0.85
    assert shift_done_at("raiser") > 0.93


def test_the_jerky_one_nearly_stops_on_the_way() -> None:
    def slow_places(name: str) -> float:
        seen = ten(name, tempo=Tempo(1.5, 1.0, 2.5, 1.0))
        counts = []
        for height in heights(seen):
            speed = np.gradient(height, 0.01)
            between = (height > 10.0) & (height < 0.85 * height.max())
            slow = between & (np.abs(speed) < 0.35 * np.percentile(np.abs(speed[between]), 90))
            counts.append(np.count_nonzero(np.diff(slow.astype(int)) == 1))
        return float(np.mean(counts))

    assert slow_places("jerky") >= 4.0
    assert slow_places("raiser") <= 1.0


def test_the_pausing_one_stops_half_way_and_goes_on() -> None:
    for height in heights(ten("pausing")):
        rising = height[: int(np.argmax(height))]
        part = rising / height.max()
        still = np.abs(np.gradient(rising, 0.01)) < 12.0
        assert 0.35 < np.count_nonzero(still & (part > 0.3) & (part < 0.7)) / 100.0 < 1.1


def test_the_sinking_one_sinks_as_the_load_shifts() -> None:
    def sunk_mm(name: str) -> float:
        seen = ten(name, tempo=Tempo(1.0, 2.0, 2.0, 1.0))
        sunk = []
        for deed in seen.repetitions:
            rows = seen.within(deed.from_s, deed.to_s)
            height, share = seen.heel(LEFT)[rows], seen.share_percent[rows]
            up = height > 0.87 * height.max()
            sunk.append(height[up & (share < 55.0)].max() - np.median(height[up & (share > 72.0)]))
        return float(np.mean(sunk))

    assert sunk_mm("sinking") > sunk_mm("raiser") + 4.0


def test_the_bouncing_one_bounces_at_the_top() -> None:
    def turns(name: str) -> float:
        counts = []
        for height in heights(ten(name)):
            top = height[height > 0.85 * height.max()]
            speed = np.diff(top)
            counts.append(np.count_nonzero((speed[1:] > 0.15) & (speed[:-1] <= 0.15)))
        return float(np.mean(counts))

    assert turns("bouncing") >= 1.0
    assert turns("raiser") <= 0.2


def test_the_swinging_one_never_stops() -> None:
    seen = ten("swinging", tempo=Tempo(1.0, 0.0, 1.0, 0.0), exercise=Exercise.RAISE)
    deeds = seen.deeds("repetition")
    height = seen.heel(LEFT)[seen.within(deeds[1].from_s, deeds[8].to_s)]
    still = np.abs(np.gradient(height, 0.01)) < 10.0
    longest = max(len(run) for run in "".join("x" if s else " " for s in still).split())
    assert longest < 15


def test_the_sliding_one_lets_the_share_slide() -> None:
    seen = ten("sliding")
    for deed in seen.repetitions:
        height, share = lowering_share(seen, deed)
        half = height.max() / 0.85 / 2
        # give or take the sway of standing
        assert share[height > half + 5.0].mean() == pytest.approx(90.0, abs=2.2)
        assert share[height < half - 5.0].mean() == pytest.approx(60.0, abs=2.2)
        assert share.mean() == pytest.approx(75.0, abs=4.0)
        assert np.mean(np.abs(share - 75.0) <= 5.0) < 0.05


def test_the_hand_on_the_rail_is_there_in_the_lowering_only() -> None:
    seen = ten("leaning-on")
    for deed in seen.repetitions:
        rows = seen.within(deed.from_s, deed.to_s)
        height, total = seen.heel(LEFT)[rows], seen.total[rows]
        peak = int(np.argmax(height))
        assert total[:peak][height[:peak] < 0.8 * height.max()].mean() == pytest.approx(1.0, abs=0.02)
        assert total[peak + 60 :][height[peak + 60 :] > 10.0].mean() == pytest.approx(0.87, abs=0.02)


def test_false_lifts_are_15_to_30_mm_high() -> None:
    for height in heights(ten("false-lifts"), "false lift"):
        assert 15.0 < height.max() < 31.0
        assert height[-1] < 1.0


def test_half_way_returns_wait_between_30_and_45_percent_and_come_back() -> None:
    seen = ten("half-way")
    lifts = heights(seen, "half-way return")
    assert len(lifts) == 3
    for height in lifts:
        assert 0.3 < height.max() / PEOPLE["half-way"].manner.heel_mm < 0.46
        assert np.count_nonzero(height > 0.97 * height.max()) > 50


@pytest.mark.parametrize("name", ["leaning", "leaner"])
@pytest.mark.parametrize("seed", range(5))
def test_leans_go_forward_with_the_heels_down_and_never_on_to_the_ball(name: str, seed: int) -> None:
    seen = ten(name, seed)
    leans = seen.deeds("forward lean")
    assert len(leans) == (10 if name == "leaner" else 4)
    for deed in leans:
        rows = seen.within(deed.from_s, deed.to_s)
        assert 0.5 < np.nanmax(seen.front(LEFT)[rows]) < 0.75
        assert np.abs(seen.height_mm[rows]).max() < 1e-9


def test_a_stumble_takes_a_foot_off_its_plate_for_a_moment() -> None:
    for seed in range(4):
        seen = ten("stumbling", seed)
        deeds = seen.deeds("stumble")
        assert len(deeds) == 2
        for deed in deeds:
            rows = seen.within(deed.from_s, deed.to_s)
            feet = np.stack((seen.force_N[rows, :2].sum(axis=1), seen.force_N[rows, 2:].sum(axis=1)))
            off = feet.min(axis=0) < 0.03 * seen.person.profile.body_weight_N
            assert 0.1 < off.sum() / 100.0 < 0.6
            assert 15.0 < seen.height_mm[rows].max() < 50.0


def test_stepping_off_leaves_the_plates_empty_and_comes_back() -> None:
    seen = ten("stepping-off")
    (deed,) = seen.deeds("stepping off")
    rows = seen.within(deed.from_s, deed.to_s)
    assert (seen.total[rows] < 0.01).sum() > 200
    assert seen.total[rows][-30:].mean() == pytest.approx(1.0, abs=0.01)
    assert [event.what for event in seen.person.events] == ["on", "off", "on"]


def test_the_deep_one_goes_further_down_on_a_step() -> None:
    lowest = {name: watch(name, task_of(surface=Surface.STEP)).height_mm.min() for name in ("deep", "raiser")}
    assert lowest["deep"] == pytest.approx(-35.0, abs=4.0)
    assert lowest["raiser"] == pytest.approx(-25.0, abs=4.0)


def test_misplaced_sensors_read_78_percent_of_the_height() -> None:
    task = task_of(repetitions=6)
    trace, truth = measured_visit(cast_of(PEOPLE["misplaced"], task), 50.0)
    seen_mm = trace.columns["left_heel_height_mm"]
    true_mm = watch("misplaced", task, 50.0).heel(LEFT)
    up = true_mm > 40.0
    up &= true_mm < 200.0
    assert np.polyfit(true_mm[up], seen_mm[up], 1)[0] == pytest.approx(0.78, abs=0.01)
    assert truth["heel_sensors"] == {"fitted": True, "placement_mm": 40.0}


@pytest.mark.parametrize("name", [name for name, who in PEOPLE.items() if who.manner.extra is not None])
def test_extras_come_between_repetitions_and_replace_none(name: str) -> None:
    seen = ten(name)
    manner = PEOPLE[name].manner
    assert len(seen.deeds("repetition")) == 10
    assert len(seen.deeds(str(manner.extra))) == 9 // manner.extra_every
    assert all(deed.to_s <= after.from_s for deed, after in pairwise(seen.person.deeds))
