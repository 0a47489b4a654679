"""Whole sessions without a screen, on a scale that shares no code with the program."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from weightshare.errors import CalibrationError, DeviceError, OptionError, RecordError
from weightshare.model import Side
from weightshare.practice.engine import Engine, Finished
from weightshare.practice.option import PractiseOptions
from weightshare.practice.view import LinkState, LiveView
from weightshare.records.manifest import Ending, verify
from weightshare.records.session import analyse_session, appraise_session, load_session, unfinished
from weightshare.scales.link import Phase
from weightshare.scales.replay import ReplayTransport
from weightshare.scales.rig import HostClock
from weightshare.state import State
from weightshare.task import Goal, Settings

RIGHT_75 = Settings(Side.RIGHT, target_percent=75.0)

Run = Callable[..., Engine]


@pytest.fixture
def run(tmp_path: Path, tiny_calibration: Path) -> Iterator[Run]:
    """Start sessions; they are stopped at the end."""
    engines: list[Engine] = []

    def start(source: str, settings: Settings = RIGHT_75, **changes: Any) -> Engine:
        options = PractiseOptions(
            settings, Goal(2.0, 1), (source,), (tiny_calibration,), save=tmp_path / "sessions"
        )  # fmt: skip
        engines.append(Engine(replace(options, **changes)))
        engines[-1].start()
        return engines[-1]

    yield start
    for engine in engines:
        engine.stop()


def finish(engine: Engine, wait_until: Callable[..., None]) -> Finished:
    if engine.phase is Phase.CONNECTING and engine.elapsed_s() == 0.0:
        engine.start()
    wait_until(lambda: engine.is_over)
    return engine.stop()


def test_twenty_kilograms_left_and_sixty_right_are_75_percent(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], run: Run, wait_until: Callable[..., None]
) -> None:
    host = tiny_scale(stand(2.0, 20.0, 60.0), speed=10)
    engine = run(host.source, seconds=14.0)
    wait_until(lambda: engine.view().snapshot.state is State.IN_BAND)
    view = engine.view()
    assert view.snapshot.share_percent == pytest.approx(75.0, abs=0.01)
    assert view.snapshot.injured_N == pytest.approx(60 * 9.80665, abs=0.01)
    assert view.links[0].state is LinkState.SAMPLING
    assert view.links[0].scale_name == "tiny"
    finished = finish(engine, wait_until)
    assert finished.analysis is not None
    assert finished.trouble == ""
    assert finished.analysis.share_percent.mean == pytest.approx(75.0, abs=0.1)
    assert finished.analysis.duration_s == pytest.approx(14.0, abs=1.0)
    assert finished.analysis.body_weight_N == pytest.approx(80 * 9.80665, rel=1e-3)
    assert finished.analysis.holds is not None
    assert finished.analysis.longest_hold_s == pytest.approx(finished.analysis.duration_s - 2.0, abs=0.1)
    assert host.scale.heard[-1][0] == 0x83


def test_a_finished_session_is_whole_and_gives_the_same_numbers_again(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], run: Run, wait_until: Callable[..., None]
) -> None:
    host = tiny_scale(stand(2.0, 20.0, 60.0), speed=20)
    finished = finish(run(host.source, seconds=20.0), wait_until)
    assert finished.folder is not None
    assert finished.analysis is not None
    names = {"raw.wsr", "calibration.json", "settings.json", "trace.parquet", "trace.csv", "analysis.json"}
    assert {path.name for path in finished.folder.iterdir()} == names | {"manifest.json"}
    manifest = verify(finished.folder)
    assert manifest.ending is Ending.COMPLETE
    assert {entry.name for entry in manifest.files} == names
    assert unfinished(finished.folder.parent) == []
    again = analyse_session(finished.folder)
    assert again == finished.analysis
    assert finished.appraisal is not None and finished.appraisal == appraise_session(finished.folder)
    assert json.loads((finished.folder / "analysis.json").read_text()) == finished.appraisal.to_json()
    assert load_session(finished.folder).settings == RIGHT_75


def test_live_and_later_agree(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], run: Run, wait_until: Callable[..., None]
) -> None:
    host = tiny_scale(stand(2.0, 20.0, 60.0), speed=20)
    engine = run(host.source, seconds=20.0)
    finished = finish(engine, wait_until)
    live = engine.view().snapshot
    assert finished.analysis is not None
    assert finished.analysis.holds is not None
    assert finished.analysis.samples == live.samples
    assert finished.analysis.band is not None
    assert finished.analysis.band.time_in_band_s == pytest.approx(live.time_in_band_s, abs=1e-9)
    assert [hold.held_s for hold in finished.analysis.holds] == pytest.approx(list(live.held_each_s), abs=1e-9)


def test_the_trail_is_the_newest_twelve_seconds(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], run: Run, wait_until: Callable[..., None]
) -> None:
    host = tiny_scale(stand(2.0, 20.0, 60.0), speed=20)
    engine = run(host.source)
    wait_until(lambda: (engine.view().snapshot.time_s or 0.0) > 16.0)
    view = engine.view()
    trail_s = view.trail_time_s
    assert trail_s[-1] - trail_s[0] == pytest.approx(12.0, abs=0.02)
    assert np.all(np.diff(trail_s) > 0)
    assert view.trail_share_percent.shape == trail_s.shape
    assert view.trail_share_percent[-1] == pytest.approx(75.0, abs=0.01)


def test_the_age_grows_when_samples_stop_and_the_numbers_are_stale(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], run: Run, wait_until: Callable[..., None]
) -> None:
    host = tiny_scale(stand(2.0, 20.0, 60.0))
    engine = run(host.source)
    assert LiveView().stale
    wait_until(lambda: not engine.view().stale)
    host.scale.mute = True
    wait_until(lambda: engine.view().stale, within_s=2.0)


def test_practice_begins_where_it_is_said_live_and_later(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], run: Run, wait_until: Callable[..., None]
) -> None:
    host = tiny_scale(stand(2.0, 20.0, 60.0), speed=20)
    engine = run(host.source, seconds=30.0)
    wait_until(lambda: (engine.view().snapshot.time_s or 0.0) > 12.0)
    assert engine.view().snapshot.held_s > 5.0
    engine.begin_practice()
    finished = finish(engine, wait_until)
    assert finished.folder is not None
    assert finished.analysis is not None
    assert finished.analysis.holds is not None
    session = load_session(finished.folder)
    began_s = session.settings.counting_from_s
    assert began_s is not None
    assert 12.0 < began_s < 30.0
    (hold,) = finished.analysis.holds
    assert began_s < hold.start_s <= began_s + 1 / 80
    assert list(engine.view().snapshot.held_each_s) == pytest.approx([hold.held_s], abs=1e-9)


def test_settings_can_be_changed_and_are_kept(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], run: Run, wait_until: Callable[..., None]
) -> None:
    host = tiny_scale(stand(2.0, 20.0, 60.0), speed=20)
    engine = run(host.source, Settings(Side.LEFT, target_percent=75.0), seconds=20.0)
    wait_until(lambda: engine.view().snapshot.state is State.TOO_LITTLE)
    engine.change(Settings(Side.LEFT, target_percent=25.0), Goal(5.0, 2))
    wait_until(lambda: engine.view().snapshot.state is State.IN_BAND)
    finished = finish(engine, wait_until)
    assert finished.folder is not None
    session = load_session(finished.folder)
    assert session.settings == Settings(Side.LEFT, target_percent=25.0)
    assert session.head.goal == Goal(5.0, 2)


def test_a_link_that_dies_and_comes_back_leaves_a_gap_and_so_it_does_played_back(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], run: Run, wait_until: Any, tiny_calibration: Path
) -> None:
    host = tiny_scale(stand(2.0, 20.0, 60.0))
    engine = run(host.source)
    wait_until(lambda: engine.view().snapshot.state is State.WEIGHING)
    host.close()
    wait_until(lambda: engine.phase is Phase.LOST)
    wait_until(lambda: engine.view().stale)
    before_s = engine.view().snapshot.time_s
    host.open()
    wait_until(lambda: (engine.view().snapshot.time_s or 0.0) > (before_s or 0.0) + 0.5)
    finished = engine.stop()
    assert finished.analysis is not None
    assert finished.folder is not None
    assert len(finished.analysis.gaps) == 1
    assert engine.view().messages[0].startswith("the link was lost at ")
    assert engine.view().messages[1].startswith("the link is back at ")
    assert analyse_session(finished.folder) == finished.analysis

    clock = HostClock(4.0)
    transport = ReplayTransport(finished.folder / "raw.wsr", clock)
    options = PractiseOptions(RIGHT_75, sources=(transport.name,), calibrations=(tiny_calibration,), record=False)
    again = finish(Engine(options, clock.now_ns, transport), wait_until)
    assert again.analysis is not None
    assert again.analysis.gaps == finished.analysis.gaps
    assert again.analysis.share_percent == finished.analysis.share_percent


def test_a_session_is_played_back_with_its_own_calibration(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], run: Run, wait_until: Callable[..., None]
) -> None:
    host = tiny_scale(stand(1.5, 20.0, 60.0), speed=8)
    first = finish(run(host.source, seconds=12.0), wait_until)
    assert first.folder is not None
    assert first.analysis is not None
    again = finish(run(f"file:{first.folder}", calibrations=()), wait_until)
    assert again.folder is not None
    assert again.analysis is not None
    assert again.analysis.share_percent == first.analysis.share_percent
    assert again.analysis.holds == first.analysis.holds
    assert again.analysis.samples == first.analysis.samples


def test_an_altered_session_is_not_played_back(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], run: Run, wait_until: Callable[..., None]
) -> None:
    host = tiny_scale(stand(1.0, 20.0, 60.0), speed=20)
    finished = finish(run(host.source, seconds=4.0), wait_until)
    assert finished.folder is not None
    raw = finished.folder / "raw.wsr"
    raw.write_bytes(raw.read_bytes()[:-100])
    with pytest.raises(RecordError, match=r"raw\.wsr: was cut short"):
        run(f"file:{finished.folder}")


def test_a_scale_without_calibration_is_refused(tiny_scale: Callable[..., Any], run: Run, wait_until: Any) -> None:
    host = tiny_scale(lambda sample: (0, 0))
    engine = run(host.source, calibrations=())
    wait_until(lambda: engine.phase is Phase.REFUSED)
    assert isinstance(engine.fault, DeviceError)
    assert "weightshare calibrate run --source" in str(engine.fault)
    assert engine.view().links[0].state is LinkState.REFUSED
    assert engine.stop() == Finished(None, None)


def test_another_scales_calibration_is_refused(
    tiny_scale: Callable[..., Any], run: Run, wait_until: Any, tmp_path: Path
) -> None:
    host = tiny_scale(lambda sample: (0, 0))
    host.scale.device_id = bytes.fromhex("00000000000000ff")
    engine = run(host.source)
    wait_until(lambda: engine.phase is Phase.REFUSED)
    assert isinstance(engine.fault, CalibrationError)
    for part in ("00000000000000ff", "0011223344556677", "tiny-calibration.json"):
        assert part in str(engine.fault)
    engine.stop()
    assert list((tmp_path / "sessions").iterdir()) == []


def test_nothing_is_kept_where_nothing_was_measured_or_wished(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], run: Run, wait_until: Any, tmp_path: Path
) -> None:
    host = tiny_scale(stand(1.0, 20.0, 60.0), speed=20)
    engine = run(host.source, record=False, seconds=8.0)
    finished = finish(engine, wait_until)
    assert finished.folder is None
    assert finished.analysis is not None
    assert finished.analysis.share_percent.mean == pytest.approx(75.0, abs=0.3)
    assert engine.stop() is finished
    assert not (tmp_path / "sessions").exists()


def test_seconds_count_host_time_where_samples_stop(
    tiny_scale: Callable[..., Any], stand: Callable[..., Any], run: Run, wait_until: Any
) -> None:
    host = tiny_scale(stand(1.0, 20.0, 60.0), speed=20)
    host.scale.last_sample = 80 * 6
    engine = run(host.source, seconds=7.5)
    wait_until(lambda: (engine.view().snapshot.time_s or 0.0) > 5.9)
    assert not engine.is_over
    wait_until(lambda: engine.is_over, within_s=4.0)
    assert (engine.view().snapshot.time_s or 0.0) < 6.1


def test_seconds_count_host_time_where_no_scale_is_there(run: Run, wait_until: Any) -> None:
    engine = run("tcp://127.0.0.1:9", seconds=0.5)
    assert not engine.is_over
    wait_until(lambda: engine.is_over, within_s=5.0)
    assert isinstance(engine.fault, DeviceError)
    assert engine.stop() == Finished(None, None)


def test_a_steered_person_goes_where_it_is_steered(run: Run, wait_until: Any) -> None:
    engine = run("rig:steered", Settings(Side.LEFT, target_percent=75.0), calibrations=())
    assert engine.rig is not None

    def press() -> bool:
        engine.steer(1.0)
        return (engine.view().snapshot.share_percent or 0.0) > 65.0

    wait_until(press)


def test_steering_a_real_scale_does_nothing(tiny_scale: Callable[..., Any], run: Run) -> None:
    engine = run(tiny_scale(lambda sample: (0, 0)).source)
    engine.steer(20.0)
    assert engine.rig is None


def test_what_cannot_be_is_refused_before_anything_starts(run: Run, tmp_path: Path) -> None:
    with pytest.raises(OptionError, match="misspelt"):
        run("tcp://nowhere")
    with pytest.raises(RecordError, match="cannot be read"):
        run(f"file:{tmp_path / 'absent'}")
    with pytest.raises(CalibrationError, match="no such file"):
        run("rig:", calibrations=(tmp_path / "absent.json",))
    assert not (tmp_path / "sessions").exists()


def test_a_session_that_was_never_started_ends_without_a_trace(tmp_path: Path) -> None:
    engine = Engine(PractiseOptions(RIGHT_75, sources=("tcp://127.0.0.1:9",), save=tmp_path / "sessions"))
    assert engine.view().stale
    assert engine.elapsed_s() == 0.0
    assert engine.stop() == Finished(None, None)
    assert not (tmp_path / "sessions").exists()


def test_a_failure_inside_the_pipeline_is_told_and_recording_goes_on(
    tiny_scale: Callable[..., Any],
    stand: Callable[..., Any],
    run: Run,
    wait_until: Callable[..., None],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    told: list[object] = []
    monkeypatch.setattr("threading.excepthook", told.append)
    host = tiny_scale(stand(2.0, 20.0, 60.0), speed=10)
    engine = run(host.source, seconds=30.0)
    wait_until(lambda: engine.view().snapshot.state is State.IN_BAND)
    with monkeypatch.context() as broken:
        broken.setattr("weightshare.pipeline.chain.Pipeline.snapshot", None)
        wait_until(lambda: bool(told))
    assert "the program failed inside; recording goes on" in engine.view().messages
    before = host.scale.frames_sent
    wait_until(lambda: host.scale.frames_sent > before + 50)
    finished = engine.stop()
    assert finished.analysis is not None
    assert finished.analysis.samples > 4 * (before + 40)
