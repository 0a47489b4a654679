"""From masses on a plate to a share and its uncertainty: a scale nobody knows is calibrated, and somebody stands on it.

The calibration on the bench says what the forces are worth; the share that is shown then is held against the true one,
with what that says it may be off. Between both lies the calibration's own file.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from tests.device.walk_bench import walk
from tests.property.test_share_doubt import measure
from weightshare.metrology.evaluate import evaluate
from weightshare.model import Calibration
from weightshare.practice.gauge import Gauge, doubt_now
from weightshare.records.calibration import read_calibration, write_calibration
from weightshare.scales.rig.bench import SCATTER_N
from weightshare.scales.rig.catalog import FAULTS
from weightshare.scales.rig.cell import COLUMNS, PAIR_ID, Cells

FEW, MANY = 5, 100
AT_MOST_POINTS = 0.6
"""What a bad corner of 2 % leaves of a share."""


def ratio_of(seed: int, path: Path) -> float:
    """Return how far the share that is shown is off, over its expanded uncertainty."""
    found = evaluate(walk(seed).record)
    write_calibration(path, Calibration(PAIR_ID, date(2026, 1, 1), found.channels, worth=found.worth))
    calibration = read_calibration(path)
    assert calibration.worth == found.worth
    rng = np.random.default_rng([seed, 78])
    weight_N, share, front = rng.uniform(450.0, 900.0), rng.uniform(0.3, 0.8), rng.uniform(0.35, 0.65, 2)
    bears = np.array([share * front[0], share * (1 - front[0]), (1 - share) * front[1], (1 - share) * (1 - front[1])])
    scatter_N = np.repeat(rng.normal(0.0, SCATTER_N / 2.0, 2), 2)
    cells = Cells(COLUMNS[PAIR_ID], seed, FAULTS["clean"], hidden=True)
    stand_N = np.tile(weight_N * bears + scatter_N, (400, 1))
    _, snapshot = measure(cells, stand_N, calibration, rng.uniform(-0.5, 0.5, 2))
    doubt = doubt_now(Gauge(calibration, found.worth, 100.0), snapshot, 6.0)
    assert doubt is not None and snapshot.share_percent is not None
    assert doubt.expanded_points < AT_MOST_POINTS and doubt.assumed == ()
    return abs(snapshot.share_percent - 100.0 * share) / doubt.expanded_points


@pytest.mark.soak
def test_the_share_on_a_calibrated_scale_is_within_what_it_says(tmp_path: Path) -> None:
    """With a chance of 0.95 each, fewer than 3 of 5 are covered once in a thousand times."""
    ratios = [ratio_of(seed, tmp_path / "scale.json") for seed in range(FEW)]
    assert sum(ratio <= 1.0 for ratio in ratios) >= 3, ratios
    assert max(ratios) > 0.1, "an uncertainty ten times too large would be of no use"


@pytest.mark.soak
@pytest.mark.timeout(1200)
def test_the_share_on_a_hundred_calibrated_scales(tmp_path: Path) -> None:
    ratios = [ratio_of(seed, tmp_path / "scale.json") for seed in range(MANY)]
    covered = sum(ratio <= 1.0 for ratio in ratios)
    print(f"the share lay within its interval on {covered} of {MANY} scales")
    assert covered >= 88
    assert np.mean(ratios) > 0.15, "not so wide that it says nothing"
