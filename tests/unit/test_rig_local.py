"""The rig as a transport inside the program: its spelling, its clocks, and how it opens, loses and closes a stream."""

from __future__ import annotations

import json
import time
from pathlib import Path

import numpy as np
import pytest

from weightshare.errors import DeviceError, OptionError
from weightshare.model import Chunk, Identity, Side
from weightshare.pipeline.chain import Pipeline
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.frame import Ping, Start, Stop, Who, encode, to_stream
from weightshare.scales.rig import HostClock, RigTransport, StepClock, known_calibration, rig_transport
from weightshare.scales.rig.wish import WISHES, parse_spec
from weightshare.scales.source import RigSource, open_source
from weightshare.task import Goal, Settings


def say(transport: RigTransport, *commands: Who | Start | Stop | Ping) -> None:
    transport.write(b"".join(to_stream(encode(command)) for command in commands))


def listen(transport: RigTransport, clock: StepClock, until_s: float) -> list[Chunk | Identity]:
    """Read until the clock says so, with a PING every 2 s."""
    decoder, heard, ping_s = StreamDecoder(), [], 0.0
    while clock.now_ns() < until_s * 1e9:
        if clock.now_ns() >= ping_s * 1e9:
            say(transport, Ping(1))
            ping_s += 2.0
        data = transport.read(0.05)
        heard += [item for item in decoder.feed(data, clock.now_ns()) if isinstance(item, Chunk | Identity)]
    return heard


def test_a_spec_may_be_empty_or_hold_wishes() -> None:
    assert parse_spec("") == ("steady", WISHES)
    person, wishes = parse_spec("shaky,seed=3,faults=jitter,truth=a=b.json,rate=80")
    assert (person, wishes["seed"], wishes["faults"], wishes["rate"]) == ("shaky", "3", "jitter", "80")
    assert wishes["truth"] == "a=b.json"
    assert parse_spec("seed=4")[0] == "steady"
    assert parse_spec("person=rail")[0] == "rail"


@pytest.mark.parametrize(
    ("spec", "says"),
    [
        ("bob", r"bob.*quiet, favouring, steady"),
        ("steady,faults=flood", r"flood.*clean, delay"),
        ("steady,colour=red", r"'colour=red'.*person, seed, faults, rate, truth, stage, tempo"),
        ("steady,shaky", r"'shaky'"),
        ("steady,seed=", r"'seed='"),
        ("seed=-1", r"seed=-1"),
        ("seed=1.5", r"seed=1.5"),
        ("rate=fast", r"rate=fast"),
        ("rate=9", r"rate 9 is out of range: it may be 10 to 1000 Hz"),
        ("rate=nan", r"rate nan"),
        ("truth=/no/such/folder/x.json", r"truth .*folder that exists"),
    ],
)
def test_a_wrong_spec_is_refused_in_one_line(spec: str, says: str) -> None:
    with pytest.raises(OptionError, match=says) as refusal:
        rig_transport(spec)
    assert "\n" not in str(refusal.value)


def test_it_is_the_source_called_rig() -> None:
    transport = open_source(RigSource("quiet"))
    assert isinstance(transport, RigTransport)
    assert transport.name == "rig:quiet"


@pytest.mark.parametrize("side", Side)
def test_it_is_measured_with_the_calibration_that_the_program_knows(side: Side) -> None:
    clock = StepClock()
    transport = rig_transport("rail,rate=80", Settings(side, 60.0), Goal(10.0), clock=clock)
    transport.open()
    say(transport, Who(1), Start(2))
    items = listen(transport, clock, 30.0)
    identity = next(item for item in items if isinstance(item, Identity))
    assert identity.rate_Hz == 80.0
    calibration = known_calibration(identity.device_id)
    assert calibration is not None
    pipeline = Pipeline(Settings(side, 60.0), [calibration])
    for item in items:
        pipeline.push(item)
    pipeline.finish()
    analysis = pipeline.analysis()
    assert analysis.body_weight_N == pytest.approx(803.0, rel=0.001)
    assert analysis.holds is not None
    assert any(9.0 < hold.held_s < 13.0 and hold.supported for hold in analysis.holds)
    snapshot = pipeline.snapshot()
    assert snapshot.on_plates_percent is not None
    assert 80.0 < snapshot.on_plates_percent < 86.0


def test_nothing_is_read_or_written_before_it_is_opened() -> None:
    transport = rig_transport(clock=StepClock())
    with pytest.raises(DeviceError, match="not open"):
        transport.read(0.1)
    with pytest.raises(DeviceError, match="not open"):
        transport.write(b"x")
    transport.open()
    assert transport.read(0.1) == b""
    transport.close()
    transport.close()
    with pytest.raises(DeviceError, match="not open"):
        transport.read(0.1)


def test_reading_waits_until_something_comes_and_no_longer_than_asked() -> None:
    clock = StepClock()
    transport = rig_transport(clock=clock)
    transport.open()
    assert transport.read(0.25) == b""
    assert clock.now_ns() == 250_000_000
    say(transport, Start(1))
    assert transport.read(1.0) != b""
    assert clock.now_ns() == 250_000_000
    assert transport.read(1.0) != b""
    assert clock.now_ns() == 270_000_000


def test_a_pulled_cable_is_an_error_until_it_is_back() -> None:
    clock = StepClock()
    transport = rig_transport("steady,faults=unplugged", clock=clock)
    transport.open()
    say(transport, Who(1), Start(2))
    with pytest.raises(DeviceError, match="cable"):
        listen(transport, clock, 20.0)
    assert clock.now_ns() == pytest.approx(14.01e9, abs=0.06e9)
    with pytest.raises(DeviceError, match="cable"):
        transport.open()
    clock.wait(2.5)
    transport.open()
    assert len(listen(transport, clock, 18.0)) == 0, "samples come, but who sends them was not asked"
    say(transport, Who(3))
    assert len(listen(transport, clock, 19.0)) > 40


def test_the_truth_is_written_when_the_visit_is_over(tmp_path: Path) -> None:
    clock = StepClock()
    path = tmp_path / "truth.json"
    transport = rig_transport(f"steady,seed=5,truth={path}", Settings(Side.LEFT, 60.0), Goal(10.0), clock=clock)
    transport.open()
    say(transport, Who(1), Start(2))
    listen(transport, clock, 12.0)
    transport.close()
    assert not path.exists(), "the link was closed, the visit goes on"
    transport.open()
    say(transport, Stop(3))
    transport.close()
    truth = json.loads(path.read_text())
    assert (truth["seed"], truth["band"]["target_percent"]) == (5, 60.0)
    assert truth["duration_s"] == pytest.approx(12.0, abs=0.1)


def test_a_truth_that_cannot_be_written_is_said_and_no_more(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    clock, path = StepClock(), tmp_path / "truth.json"
    transport = rig_transport(f"steady,truth={path}", clock=clock)
    path.mkdir()
    transport.open()
    say(transport, Start(2))
    listen(transport, clock, 1.0)
    say(transport, Stop(3))
    transport.close()
    assert "truth.json: cannot be written" in capsys.readouterr().err


def test_the_keys_steer() -> None:
    clock = StepClock()
    transport = rig_transport("steered", clock=clock)
    assert transport.steered
    assert not rig_transport("steady").steered
    transport.steer(10.0)
    transport.open()
    say(transport, Start(2))
    listen(transport, clock, 11.0)
    transport.steer(25.0)
    listen(transport, clock, 13.0)
    person = transport.scene.person
    assert person is not None
    force_N = person.forces(np.arange(12.0, 13.0, 0.01))
    assert force_N[:, :2].sum() / force_N.sum() == pytest.approx(0.75, abs=0.02)
    transport.lift()
    listen(transport, clock, 14.0)
    assert person.forces(np.array([13.9]))[0, 2:].sum() == pytest.approx(0.0, abs=1e-6)
    transport.step()
    listen(transport, clock, 15.0)
    assert person.forces(np.array([14.9])).sum() == pytest.approx(0.0, abs=1e-6)


def test_a_host_clock_runs_as_fast_as_asked() -> None:
    clock = HostClock(50.0)
    begin_ns, host_ns = clock.now_ns(), time.monotonic_ns()
    clock.wait(2.0)
    passed_s, host_s = (clock.now_ns() - begin_ns) / 1e9, (time.monotonic_ns() - host_ns) / 1e9
    assert passed_s >= 2.0
    assert passed_s == pytest.approx(50.0 * host_s, rel=0.2)


def test_in_real_time_samples_come_at_their_rate() -> None:
    transport = rig_transport("steady")
    transport.open()
    begin_ns = time.monotonic_ns()
    say(transport, Who(1), Start(2))
    decoder, rows = StreamDecoder(), 0
    while rows < 100:
        chunks = [item for item in decoder.feed(transport.read(0.5), 0) if isinstance(item, Chunk)]
        rows += sum(chunk.readings[:, :, 0].size for chunk in chunks)
    assert (time.monotonic_ns() - begin_ns) / 1e9 == pytest.approx(1.0, abs=0.2)
    transport.close()
