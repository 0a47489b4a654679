"""What holds of a share's uncertainty for any scale, and on the virtual scales, whose true share is known."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from weightshare.metrology.share import (
    COMMON,
    NOISE,
    filter_bandwidth_Hz,
    live_bandwidth_Hz,
    mean_bandwidth_Hz,
    noise_at,
    share_doubt,
)
from weightshare.model import Calibration, Chunk, Floats, Identity, Side, SideWorth, Worth
from weightshare.pipeline import Pipeline
from weightshare.practice.gauge import Gauge, doubt_now
from weightshare.scales.rig.catalog import FAULTS
from weightshare.scales.rig.cell import CHANNELS, COLUMNS, PAIR_ID, Cells, rig_calibration
from weightshare.state import Results, Snapshot
from weightshare.task import Settings

RATE_HZ, TICK_HZ = 100.0, 1_000_000
BLOCK = 50
ZERO_S = 1.5
STANDS = 400
COVERED = (365, 392)
"""How many of 400 intervals of 95 % may cover: five standard deviations below, and some above k = 1.96."""

forces = st.floats(20.0, 1500.0)
parts = st.floats(0.0, 0.05)
newtons = st.floats(0.0, 10.0)


@st.composite
def sides(draw: st.DrawFn, side: Side) -> SideWorth:
    gain, creep, corner = (draw(parts) for _ in range(3))
    repeated, noise, lag, drift = (draw(newtons) for _ in range(4))
    return SideWorth(side, gain, repeated, noise, draw(st.floats(10.0, 1000.0)), lag, creep, corner, drift)


@st.composite
def worths(draw: st.DrawFn) -> Worth:
    return Worth((draw(sides(Side.LEFT)), draw(sides(Side.RIGHT))), draw(parts))


@given(worths(), forces, forces)
def test_swapping_the_sides_leaves_the_uncertainty(worth: Worth, left_N: float, right_N: float) -> None:
    swapped = Worth(tuple(replace(one, side=one.side.other) for one in reversed(worth.sides)), worth.common_part)
    ours, mirrored = share_doubt(worth, left_N, right_N, 6.0), share_doubt(swapped, right_N, left_N, 6.0)
    assert ours is not None and mirrored is not None
    assert ours.u_points == pytest.approx(mirrored.u_points, rel=1e-9, abs=1e-12)
    assert ours.left.u_N == pytest.approx(mirrored.right.u_N, rel=1e-12)


@given(worths(), forces, forces, parts)
def test_what_both_sides_have_together_cancels(worth: Worth, left_N: float, right_N: float, common: float) -> None:
    ours = share_doubt(worth, left_N, right_N, 6.0)
    with_more = share_doubt(replace(worth, common_part=common), left_N, right_N, 6.0)
    assert ours is not None and with_more is not None
    assert with_more.parts[COMMON] == pytest.approx(0.0, abs=1e-9)
    assert with_more.u_points == pytest.approx(ours.u_points, rel=1e-6, abs=1e-6)


@given(worths(), forces, forces, st.floats(0.01, 100.0), st.floats(1.5, 50.0))
def test_noise_falls_with_averaging_and_nothing_else_does(
    worth: Worth, left_N: float, right_N: float, seconds: float, more: float
) -> None:
    short = share_doubt(worth, left_N, right_N, mean_bandwidth_Hz(seconds))
    long = share_doubt(worth, left_N, right_N, mean_bandwidth_Hz(seconds * more))
    assert short is not None and long is not None
    assert long.parts[NOISE] == pytest.approx(short.parts[NOISE] / math.sqrt(more), rel=1e-9)
    assert {**long.parts, NOISE: 0.0} == {**short.parts, NOISE: 0.0}


@given(st.floats(20.0, 1500.0), st.floats(1.1, 10.0))
def test_more_load_makes_what_is_fixed_in_newtons_matter_less(force_N: float, times: float) -> None:
    fixed = Worth(tuple(SideWorth(side, 0.0, 0.1, 0.2, 100.0, 0.1, 0.0, 0.0, 0.2) for side in Side))
    light, heavy = (share_doubt(fixed, force_N * much, force_N * much, 6.0) for much in (1.0, times))
    assert light is not None and heavy is not None
    assert heavy.u_points == pytest.approx(light.u_points / times, rel=1e-9)


def test_a_mean_of_white_noise_has_that_much_left() -> None:
    """Means over 0.5 s of readings at 100 a second: fifty each."""
    side = SideWorth(Side.LEFT, 0.0, 0.0, 0.3, 100.0)
    drawn = 0.3 * np.random.default_rng(4).standard_normal((20_000, 50))
    assert drawn.mean(axis=1).std() == pytest.approx(noise_at(side, mean_bandwidth_Hz(0.5)), rel=0.02)
    assert noise_at(side, live_bandwidth_Hz(None, 100.0)) == pytest.approx(0.3)
    assert live_bandwidth_Hz(6.0, 8.0) == 4.0, "a filter above half the rate lets all noise through"
    assert filter_bandwidth_Hz(6.0) == pytest.approx(6.664, abs=5e-4)


def measure(cells: Cells, force_N: Floats, calibration: Calibration, x_part: Floats | None = None) -> Measured:
    """Put forces (n, 4) on the cells, block by block, after nothing for a while; through the whole pipeline."""
    nothing = round(ZERO_S * RATE_HZ)
    whole = np.concatenate([np.zeros((nothing, 4)), force_N])
    whole = whole[: len(whole) // BLOCK * BLOCK]
    time_s = np.arange(len(whole)) / RATE_HZ
    rows = [slice(begin, begin + BLOCK) for begin in range(0, len(whole), BLOCK)]
    wide = None if x_part is None else np.broadcast_to(x_part, (BLOCK, 2))
    counts = [cells.read(time_s[row], whole[row], 1.0 / RATE_HZ, wide) for row in rows]
    step = round(TICK_HZ / RATE_HZ)
    ticks = np.arange(len(rows)) * BLOCK * step
    chunk = Chunk(
        np.arange(len(rows), dtype=np.uint16),
        ticks.astype(np.uint32),
        np.full(len(rows), step, np.uint32),
        ((ticks + BLOCK * step) * 1000).astype(np.int64),
        np.stack(counts),
    )
    pipeline = Pipeline(Settings(Side.LEFT), [calibration])
    pipeline.push(Identity(PAIR_ID, (1, 0, 0), 1, TICK_HZ, RATE_HZ, CHANNELS))
    return pipeline.push(chunk), pipeline.snapshot()


Measured = tuple[Results, Snapshot]

HIDDEN_SIDE = SideWorth(
    Side.LEFT,
    # two cells of 1 % each, that bear about half; a curve of 0.4e-5 a newton at some 170 N
    gain_part=math.hypot(0.01 * math.sqrt(0.515), 0.0007),
    repeatability_N=0.0,
    noise_N=0.17,
    noise_rate_Hz=100.0,
    creep_part=1.0e-4,
    # tilts of 0.003, one of four of 0.015, at -0.5 to 0.5 of the way to the supports
    corner_part=0.0017,
    zero_drift_N=0.01,
)
"""What is known of the cells that a seed draws: how they are drawn."""


def _stand(seed: int) -> tuple[Snapshot, float]:
    """Somebody stands still on cells that nobody knows: what is seen, and the true share in percent."""
    rng = np.random.default_rng([seed, 77])
    weight_N, share = rng.uniform(450.0, 900.0), rng.uniform(0.3, 0.8)
    front = rng.uniform(0.35, 0.65, 2)
    bears = np.array([share * front[0], share * (1 - front[0]), (1 - share) * front[1], (1 - share) * (1 - front[1])])
    cells = Cells(COLUMNS[PAIR_ID], seed, FAULTS["clean"], hidden=True)
    calibration = replace(rig_calibration(), worth=None)
    _, snapshot = measure(cells, np.tile(weight_N * bears, (400, 1)), calibration, rng.uniform(-0.5, 0.5, 2))
    return snapshot, 100.0 * share


def test_the_live_interval_covers_the_true_share_in_95_of_100_stands() -> None:
    """The scale's own calibration is nominal, and its cells are drawn; each stand is of another scale and person."""
    worth = Worth((HIDDEN_SIDE, replace(HIDDEN_SIDE, side=Side.RIGHT)))
    gauge = Gauge(replace(rig_calibration(), worth=worth), worth, RATE_HZ)
    covered = 0
    for seed in range(STANDS):
        snapshot, true_percent = _stand(seed)
        doubt = doubt_now(gauge, snapshot, 6.0)
        assert doubt is not None and snapshot.share_percent is not None
        covered += abs(snapshot.share_percent - true_percent) <= doubt.expanded_points
    assert COVERED[0] <= covered <= COVERED[1], covered


@pytest.mark.parametrize("share", [0.5, 0.75])
def test_the_rigs_share_is_as_noisy_as_is_said(share: float) -> None:
    """What the newest share wanders by from one 0.3 s to the next, behind the live filter, under a load like a rock."""
    bears = 700.0 * np.array([0.5 * share, 0.5 * share, 0.5 * (1 - share), 0.5 * (1 - share)])
    cells = Cells(COLUMNS[PAIR_ID], 5, FAULTS["clean"])
    results, snapshot = measure(cells, np.tile(bears, (12_000, 1)), rig_calibration())
    seen = results.share_percent[-11_000::30]
    calibration = rig_calibration()
    assert calibration.worth is not None
    doubt = doubt_now(Gauge(calibration, calibration.worth, RATE_HZ), snapshot, 6.0)
    assert doubt is not None
    # neighbours differ by two independent draws; drift takes minutes
    assert np.diff(seen).std() / math.sqrt(2.0) == pytest.approx(doubt.parts[NOISE], rel=0.1)


@pytest.mark.parametrize("seed", range(5))
def test_the_rigs_own_calibration_covers_its_own_cells(seed: int) -> None:
    """Its cells are always the same, so an interval either covers or does not: it has to."""
    bears = 700.0 * np.array([0.45, 0.3, 0.15, 0.1])
    cells = Cells(COLUMNS[PAIR_ID], seed, FAULTS["clean"])
    calibration = rig_calibration()
    assert calibration.worth is not None and calibration.made_on < date.today()
    _, snapshot = measure(cells, np.tile(bears, (3000, 1)), calibration)
    doubt = doubt_now(Gauge(calibration, calibration.worth, RATE_HZ), snapshot, 6.0)
    assert doubt is not None and snapshot.share_percent is not None
    assert abs(snapshot.share_percent - 75.0) <= doubt.expanded_points < 0.1
