"""A session computed again, with all of its samples."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from weightshare.records.session import analyse_session, replay_session


def test_samples_and_figures_are_of_one_run(lowered: Path) -> None:
    replayed = replay_session(lowered)
    analysis, results = replayed.appraisal.analysis, replayed.results
    assert analysis == analyse_session(lowered)
    assert results.time_s.shape == replayed.trace.time_s.shape == (analysis.samples,)
    # the mean over all samples of the time in which somebody stood: half a second at the ends is all that differs
    assert np.nanmean(results.share_percent) == pytest.approx(analysis.share_percent.mean, abs=0.2)
    within = results.counts & np.isfinite(results.share_percent)
    assert np.all(np.abs(results.share_percent[within] - results.aim_percent[within]) <= 5.0 + 1e-9)
