"""Two recordings of quiet standing on two force platforms, one under each foot.

Source: dos Santos, Fukuchi, Fukuchi and Duarte (2017), A data set with kinematic and ground reaction forces of human
balance, PeerJ 5:e3626, doi 10.6084/m9.figshare.4525082 (CC BY 4.0), trials PDS13OR1 and PDS13OR2: 60 s at 100 Hz, one
adult of 65.35 kg. The expected figures were counted from the unfiltered vertical forces apart from this program. The
recordings are not ours to carry: they are looked for in a folder beside the checkout.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

import weightshare
from weightshare.cli import main
from weightshare.pipeline.band import Band, find_visits


def recording(checkout: Path, trial: str) -> pd.DataFrame:
    """Return the recording as a trace; skip the test where it is not at hand."""
    name = f"data/quiet-standing/{trial}grf.txt"
    path = next(checkout.parent.glob(f"*/{name}"), None)
    if path is None:
        pytest.skip(f"no folder beside the checkout has {name}")
    columns = {"Time": "time_s", "LGRF_Y": "left_N", "RGRF_Y": "right_N"}
    return pd.read_csv(path, sep="\t", usecols=list(columns)).rename(columns=columns)[list(columns.values())]


def analysed(frame: pd.DataFrame) -> weightshare.Analysis:
    return weightshare.analyse(frame, "left", 50.0, 5.0, grace_s=0.0, filter_Hz=None)


def test_the_first_stand_leans_to_the_left(checkout: Path) -> None:
    """Mean share 54.4453; 40.11 s of 60 in 45 to 55 % counting samples, 40.096 s with interpolated crossings."""
    analysis = analysed(recording(checkout, "PDS13OR1"))
    assert analysis.share_percent.mean == pytest.approx(54.4453, abs=5e-5)
    assert analysis.band is not None
    assert analysis.band.time_in_band_s == pytest.approx(40.096, abs=5e-4)
    assert analysis.band.time_present_s == pytest.approx(59.99)
    assert analysis.gaps == ()


def test_the_first_stand_visits_the_band_twenty_times(checkout: Path) -> None:
    """The longest of the 20 visits has 978 samples: 9.78 s counting samples, one interval less from first to last."""
    frame = recording(checkout, "PDS13OR1")
    left, total = frame["left_N"].to_numpy(), (frame["left_N"] + frame["right_N"]).to_numpy()
    share = 100.0 * left / total
    band = Band(50.0, 5.0)
    inside = band.holds(share)
    assert np.count_nonzero(inside) == 4011
    found = find_visits(band, frame["time_s"].to_numpy(), share, np.ones(share.size, dtype=np.bool_))
    assert found.enter_s.size == 20
    longest = int(np.argmax(found.leave_s - found.enter_s))
    assert np.count_nonzero(inside[found.first[longest] : found.last[longest] + 1]) == 978
    analysis = analysed(frame)
    assert analysis.longest_hold_s == pytest.approx(9.78, abs=0.01)


def test_the_second_stand_is_even(checkout: Path) -> None:
    """Mean share 49.9931, all 60 s in the band."""
    analysis = analysed(recording(checkout, "PDS13OR2"))
    assert analysis.share_percent.mean == pytest.approx(49.9931, abs=5e-5)
    assert analysis.band is not None
    assert analysis.band.time_in_band_s == pytest.approx(59.99)
    assert analysis.holds is not None
    assert [(hold.start_s, hold.end_s) for hold in analysis.holds] == [(0.0, 59.99)]


@pytest.mark.parametrize("trial", ["PDS13OR1", "PDS13OR2"])
def test_the_total_is_that_of_the_person(checkout: Path, trial: str) -> None:
    """635 to 636 N in both trials, counted from the same forces."""
    frame = recording(checkout, trial)
    assert 635.0 <= (frame["left_N"] + frame["right_N"]).mean() <= 636.0
    analysis = analysed(frame)
    assert analysis.body_weight_N is not None
    assert 635.0 <= analysis.body_weight_N <= 636.5
    assert analysis.on_plates_percent == pytest.approx(100.0, abs=0.1)


def test_the_command_gives_the_same_from_a_file(
    checkout: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    recording(checkout, "PDS13OR1").to_csv(tmp_path / "stand.csv", index=False)
    options = ["--injured", "left", "--target", "50", "--grace", "0", "--filter", "none", "--json"]
    assert main(["analyse", str(tmp_path / "stand.csv"), *options]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert found["share_percent"]["mean"] == pytest.approx(54.4453, abs=5e-5)
    assert found["band"]["time_in_band_s"] == pytest.approx(40.096, abs=5e-4)
