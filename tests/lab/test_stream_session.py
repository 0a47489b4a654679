"""Laboratory plates serve as scales: the library's own outlet on one side, a whole session on the other."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from tests.lab.conftest import Laboratory, person
from weightshare.model import Side
from weightshare.practice.engine import Engine
from weightshare.practice.option import PractiseOptions
from weightshare.records.session import appraise_session
from weightshare.records.trace import read_trace
from weightshare.scales.lab.calibration import is_laboratory
from weightshare.scales.link import Phase
from weightshare.task import Settings

Wait = Callable[..., None]


def begin(source: str, place: Path, wait_until: Wait) -> Engine:
    engine = Engine(PractiseOptions(Settings(Side.RIGHT, target_percent=75.0), sources=(source,), save=place))
    engine.start()
    wait_until(lambda: engine.phase is Phase.SAMPLING)
    return engine


def time_of(engine: Engine) -> float:
    return engine.view().snapshot.time_s or 0.0


def test_a_session_has_the_laboratorys_numbers(name: str, tmp_path: Path, wait_until: Wait) -> None:
    lab = Laboratory(name)
    engine = begin(f"lsl:{name}", tmp_path, wait_until)
    sent_N = person(seconds=12.0)
    try:
        lab.push(sent_N)
        wait_until(lambda: time_of(engine) > 11.985)  # the last of 1200
        read_as = [message for message in engine.view().messages if message.startswith(f"{name}: ")]
    finally:
        finished = engine.stop()
    assert finished.folder is not None and finished.appraisal is not None
    trace = read_trace(finished.folder / "trace.csv")
    shape = (len(sent_N), 2)
    assert read_as == [
        f"{name}: left is Left Fz in N, right is Right Fz in N, load positive; the calibration is the laboratory's own"
    ]
    got_N = np.stack([trace.columns["left_N"], trace.columns["right_N"]], axis=1)
    assert got_N.shape == shape
    # a count is 1 mN
    np.testing.assert_allclose(got_N, sent_N, atol=0.00051)
    np.testing.assert_allclose(np.diff(trace.time_s), 0.01, atol=2e-6)
    assert finished.appraisal.analysis.share_percent.mean == pytest.approx(75.0, abs=0.1)


def test_what_laboratory_forces_are_worth_is_not_made_up(name: str, tmp_path: Path, wait_until: Wait) -> None:
    lab = Laboratory(name)
    engine = begin(f"lsl:{name}", tmp_path, wait_until)
    try:
        lab.push(person(seconds=8.0))
        wait_until(lambda: time_of(engine) > 7.9)
    finally:
        finished = engine.stop()
    assert finished.appraisal is not None and finished.folder is not None
    assert finished.appraisal.doubt is None
    assert "does not say what the left and the right side is worth" in finished.appraisal.missing
    later = appraise_session(finished.folder)
    assert later.to_json() == finished.appraisal.to_json()


def test_a_stream_that_ends_is_lost_and_one_that_returns_goes_on(name: str, tmp_path: Path, wait_until: Wait) -> None:
    lab = Laboratory(name)
    engine = begin(f"lsl:{name}", tmp_path, wait_until)
    try:
        lab.push(person(seconds=6.0))
        wait_until(lambda: time_of(engine) > 5.9)
        lab.leave()
        wait_until(lambda: engine.phase is Phase.LOST)
        assert "start it" in engine.view().links[0].words
        again = Laboratory(name)
        wait_until(lambda: engine.phase is Phase.SAMPLING)
        lost_s = time_of(engine)
        again.push(person(empty_s=0.0, seconds=3.0))
        wait_until(lambda: time_of(engine) > lost_s + 2.9)
    finally:
        finished = engine.stop()
    assert finished.appraisal is not None
    assert len(finished.appraisal.analysis.gaps) == 1
    assert finished.appraisal.analysis.share_percent.mean == pytest.approx(75.0, abs=0.5)


def test_lost_samples_are_a_gap(name: str, tmp_path: Path, wait_until: Wait) -> None:
    lab = Laboratory(name)
    engine = begin(f"lsl:{name}", tmp_path, wait_until)
    try:
        lab.push(person(seconds=6.0))
        lab.push(person(empty_s=0.0, seconds=2.0), skip=50)
        wait_until(lambda: time_of(engine) > 8.4)
    finally:
        finished = engine.stop()
    assert finished.appraisal is not None
    (gap,) = finished.appraisal.analysis.gaps
    assert gap.end_s - gap.start_s == pytest.approx(0.51, abs=0.011)


def test_the_device_id_stays_with_the_source(name: str, tmp_path: Path, wait_until: Wait) -> None:
    from weightshare.scales.discovery import ask
    from weightshare.scales.lab.transport import LabTransport

    ids = []
    for source in ("plates-1", "plates-1", "plates-2"):
        lab = Laboratory(name, source=source)
        transport = LabTransport(name)
        transport.open()
        try:
            identity = ask(transport)
        finally:
            transport.close()
        lab.leave()
        assert identity is not None
        ids.append(identity.device_id)
    assert all(map(is_laboratory, ids))
    assert ids[0] == ids[1] != ids[2]
