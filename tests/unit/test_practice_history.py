"""The course of the share after a session: stepping on and off are no part of it."""

from __future__ import annotations

import numpy as np

from weightshare.practice.history import ENDS_S, NO_COURSE, Course, without_ends


def test_stepping_on_and_off_is_left_out_as_in_a_report() -> None:
    """The line began at 0, from where somebody stepped on with the sound leg first."""
    time_s = np.arange(0.0, 10.0, 0.1)
    share = np.full(time_s.size, 50.0)
    share[(time_s < 1.95) | (time_s > 7.95)] = np.nan
    share[20:24], share[77:80] = [0.0, 10.0, 25.0, 40.0], [60.0, 80.0, 100.0]
    seen = without_ends(Course(time_s, share, np.full(time_s.size, 50.0)))
    known = np.isfinite(seen.share_percent)
    assert set(seen.share_percent[known].tolist()) == {50.0}
    assert time_s[known][0] >= 2.0 + ENDS_S - 1e-9 and time_s[known][-1] <= 7.9 - ENDS_S + 1e-9 and known.sum() > 45
    assert share[20] == 0.0, "what is kept is not touched"
    np.testing.assert_array_equal(seen.aim_percent, np.full(time_s.size, 50.0))


def test_who_was_on_for_a_moment_leaves_nothing_and_nothing_stays_so() -> None:
    time_s = np.arange(0.0, 0.9, 0.1)
    assert not np.isfinite(without_ends(Course(time_s, np.full(9, 40.0), np.full(9, 50.0))).share_percent).any()
    assert without_ends(NO_COURSE).time_s.size == 0
