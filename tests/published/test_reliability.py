"""Reliability against published tables, and against the analysis of variance of a reference library."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest
from scipy import stats

from weightshare.cli import main
from weightshare.metrology.reliability import limits_of_agreement, reliability
from weightshare.model import Floats

SHROUT_FLEISS = np.array([[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]], float)
"""Six targets by four judges: Shrout and Fleiss (1979), Intraclass correlations: uses in assessing rater reliability,
Psychol Bull 86:420, table 2."""

WRIGHT = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427]
MINI = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451]
"""Peak expiratory flow of 17 people by two meters, l/min, the first of two readings each: Bland and Altman (1986),
Statistical methods for assessing agreement between two methods of clinical measurement, Lancet 1:307, table."""


def test_the_table_of_shrout_and_fleiss() -> None:
    """Their table 4 and text: .17, .29, .71; to four digits .1657, .2898, .7148. Mean squares as in table 3."""
    found = reliability(SHROUT_FLEISS)
    icc = found.icc_1_1.value, found.icc_a_1.value, found.icc_c_1.value
    assert icc == pytest.approx((0.1657, 0.2898, 0.7148), abs=5e-5)
    squares = found.squares
    told = squares.rows, squares.between_columns, squares.error, squares.within
    assert told == pytest.approx((11.24, 32.49, 1.02, 6.26), abs=5e-3)


def test_the_intervals_that_another_program_prints_for_that_table() -> None:
    """-0.13 to 0.72, 0.02 to 0.76, 0.34 to 0.95: from memory, as statistics packages print them."""
    found = reliability(SHROUT_FLEISS)
    ends = [(one.low, one.high) for one in (found.icc_1_1, found.icc_a_1, found.icc_c_1)]
    assert np.ravel(np.array(ends, float)) == pytest.approx([-0.13, 0.72, 0.02, 0.76, 0.34, 0.95], abs=5e-3)


def test_the_peak_flow_of_bland_and_altman() -> None:
    """Mean difference -2.1, SD 38.8; the mean's interval -22.0 to 17.8, the lower limit's (of 2 SD) 34.5 either way."""
    found = limits_of_agreement(np.array([WRIGHT, MINI], float).T, 0, 1)
    assert found.mean.value == pytest.approx(-2.118, abs=5e-4)
    assert found.sd == pytest.approx(38.765, abs=5e-4)
    assert (found.mean.low, found.mean.high) == pytest.approx((-22.0, 17.8), abs=0.06)
    assert found.lower.value is not None and found.lower.low is not None and found.mean.value is not None
    assert found.lower.value - found.lower.low == pytest.approx(34.5, abs=0.1)
    two_sd = [found.mean.value + sign * 2.0 * found.sd for sign in (-1, 1)]
    assert two_sd == pytest.approx([-79.7, 75.5], abs=0.1)


def random_scores(seed: int, people: int, columns: int) -> Floats:
    rng = np.random.default_rng(seed)
    own = rng.normal(50.0, rng.uniform(0.1, 8.0), (people, 1))
    return own + rng.normal(0.0, 3.0, (1, columns)) + rng.normal(0.0, 2.0, (people, columns))


@pytest.mark.parametrize("seed", range(12))
def test_mean_squares_are_those_of_a_reference_library(seed: int) -> None:
    """statsmodels: two-way and one-way analysis of variance by least squares, on random tables."""
    from statsmodels.formula.api import ols
    from statsmodels.stats.anova import anova_lm

    people, columns = 4 + seed, 2 + seed % 4
    scores = random_scores(seed, people, columns)
    row, column = np.indices(scores.shape)
    frame = pd.DataFrame({"score": scores.ravel(), "person": row.ravel(), "column": column.ravel()})
    both = anova_lm(ols("score ~ C(person) + C(column)", frame).fit())
    alone = anova_lm(ols("score ~ C(person)", frame).fit())
    squares = reliability(scores).squares
    ours = squares.rows, squares.between_columns, squares.error, squares.within
    assert ours == pytest.approx([*both["mean_sq"], alone["mean_sq"]["Residual"]], rel=1e-9)


def with_gaps(seed: int) -> pd.DataFrame:
    """Return a random table of 24 people and 3 days, in wide form, with scores missing here and there."""
    rng = np.random.default_rng(seed)
    scores = rng.normal(50.0, 5.0, (24, 1)) + rng.normal(0.0, 1.0, (1, 3)) + rng.normal(0.0, 2.0, (24, 3))
    scores[rng.random(scores.shape) < 0.08] = np.nan
    return pd.DataFrame(scores, columns=["a", "b", "c"])


def told(frame: pd.DataFrame, place: Path, capsys: pytest.CaptureFixture[str]) -> Any:
    """Return what the command says of a table."""
    frame.to_csv(place / "scores.csv", index=False)
    assert main(["reliability", str(place / "scores.csv"), "--json"]) == 0
    return json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_with_scores_missing_the_complete_rows_are_what_counts(
    seed: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """pandas leaves the others out (`dropna`), statsmodels analyses the rest: mean squares by least squares, and
    variances by restricted likelihood (REML), which of a complete table give the same ICC(1,1) and ICC(C,1) wherever
    they are above 0 (McGraw and Wong, 1996)."""
    from statsmodels.formula.api import mixedlm, ols
    from statsmodels.stats.anova import anova_lm

    table = with_gaps(seed)
    whole = table.dropna()
    found = told(table, tmp_path, capsys)
    assert found["rows_left_out"] == len(table) - len(whole) > 0 and found["people"] == len(whole)
    long = whole.reset_index(names="person").melt("person", var_name="day", value_name="score")
    rows, columns, error = anova_lm(ols("score ~ C(person) + C(day)", long).fit())["mean_sq"]
    n, k = whole.shape
    assert found["icc_a_1"]["value"] == pytest.approx(
        (rows - error) / (rows + (k - 1) * error + k / n * (columns - error)), rel=1e-9
    )
    assert found["sem"] == pytest.approx(math.sqrt(error), rel=1e-9)
    assert found["mdc95"] == pytest.approx(1.96 * math.sqrt(2.0 * error), rel=1e-9)
    for name, formula in (("icc_1_1", "score ~ 1"), ("icc_c_1", "score ~ C(day)")):
        fitted = mixedlm(formula, long, groups="person").fit(reml=True)
        person, noise = float(fitted.cov_re.iloc[0, 0]), float(fitted.scale)
        assert found[name]["value"] == pytest.approx(person / (person + noise), abs=2e-4), name


@pytest.mark.parametrize("seed", [4, 5])
def test_limits_of_agreement_with_scores_missing_are_of_the_complete_rows(
    seed: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """statsmodels (`DescrStatsW`) has mean, standard deviation and the mean's interval; of two columns that are whole
    in a row whose third is missing that row is left out too."""
    from statsmodels.stats.weightstats import DescrStatsW

    table = with_gaps(seed)
    whole = table.dropna()
    assert len(whole) < max(len(table[[a, b]].dropna()) for a, b in ("ab", "ac", "bc"))
    for one in told(table, tmp_path, capsys)["limits_of_agreement"]:
        known = DescrStatsW(whole[one["first"]] - whole[one["second"]], ddof=1)
        mean, half = float(known.mean), 1.96 * float(known.std)
        ours = [one[key]["value"] for key in ("lower", "mean_difference", "upper")]
        assert ours == pytest.approx([mean - half, mean, mean + half], rel=1e-9)
        assert one["sd"] == pytest.approx(float(known.std), rel=1e-9)
        ends = one["mean_difference"]["low"], one["mean_difference"]["high"]
        assert ends == pytest.approx(known.tconfint_mean(), rel=1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_one_way_and_consistency_intervals_are_those_of_the_f_test(seed: int) -> None:
    """At an end of the interval the F test just fails to tell the ICC from it (Shrout and Fleiss, 1979)."""
    scores = random_scores(seed, 12, 3)
    found, k = reliability(scores), 3
    for one, noise, dof in (
        (found.icc_1_1, found.squares.within, found.squares.within_dof),
        (found.icc_c_1, found.squares.error, found.squares.error_dof),
    ):
        assert one.low is not None and one.high is not None
        for rho, tail in ((one.low, 0.025), (one.high, 0.975)):
            expected = (1.0 + (k - 1) * rho) / (1.0 - rho)
            assert stats.f.sf(found.squares.rows / noise / expected, 11, dof) == pytest.approx(tail, abs=1e-9)


def test_intervals_cover_what_they_say() -> None:
    """Of 2,000 tables of 15 people and 3 columns with a true ICC(A,1) of 0.6, 95 % of the intervals hold it.

    The columns are random, as McGraw and Wong's case 2A has it; their interval is an approximation.
    """
    rng = np.random.default_rng(7)
    covered = 0
    for _ in range(2000):
        scores = (
            rng.normal(0.0, math.sqrt(6.0), (15, 1))
            + rng.normal(0.0, 1.0, (1, 3))
            + rng.normal(0.0, math.sqrt(3.0), (15, 3))
        )
        one = reliability(scores).icc_a_1
        assert one.low is not None and one.high is not None
        covered += one.low <= 0.6 <= one.high
    assert covered / 2000 == pytest.approx(0.95, abs=0.02)
