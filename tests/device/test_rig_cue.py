"""A session's cues reach the virtual person through the transport, and heel heights come back over the wire."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from weightshare.exercise import Exercise, Tempo
from weightshare.model import NO_READING, Chunk, Floats, Identity, Quantity, Side
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.frame import Ping, Start, Stop, Who, encode, to_stream
from weightshare.scales.rig import StepClock, rig_transport
from weightshare.task import Goal, Settings

SETTINGS = Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING, tempo=Tempo(1.0, 1.0, 2.0, 1.0))


class Listener:
    """Listens to a virtual scale on a clock that jumps; keeps heights (mm) and what it said of itself."""

    def __init__(self, spec: str, goal: Goal) -> None:
        self.clock = StepClock()
        self.transport = rig_transport(spec, SETTINGS, goal, clock=self.clock)
        self._decoder = StreamDecoder()
        self.identity: Identity | None = None
        self._heights: list[Floats] = []
        self.transport.open()
        self.say(Who(1), Start(2))

    def say(self, *commands: Who | Start | Stop | Ping) -> None:
        self.transport.write(b"".join(to_stream(encode(command)) for command in commands))

    def listen(self, until_s: float) -> None:
        """Read until the clock says so, a second at a time."""
        while self.clock.now_ns() < until_s * 1e9:
            self.say(Ping(1))
            end_ns = self.clock.now_ns() + 1_000_000_000
            while self.clock.now_ns() < end_ns:
                for message in self._decoder.feed(self.transport.read(0.5), 0):
                    self._take(message)

    def _take(self, message: Any) -> None:
        if isinstance(message, Identity):
            self.identity = message
        elif isinstance(message, Chunk) and self.identity is not None:
            rows = [k for k, c in enumerate(self.identity.channels) if c.quantity is Quantity.HEEL_HEIGHT]
            count = message.readings[:, :, 0].size
            self._heights.append(message.readings[:, :, rows].reshape(count, len(rows)).astype(np.float64))

    @property
    def height_mm(self) -> Floats:
        """Heights of both heels, shape (n, 2); NaN where there was no reading."""
        raw = np.concatenate(self._heights)
        return np.where(raw == NO_READING, np.nan, raw / 1000.0)


def rises(height_mm: Floats) -> int:
    """How often a heel came up through 50 mm."""
    over = np.nan_to_num(height_mm) > 50.0
    return int(np.count_nonzero(over[1:] & ~over[:-1]))


def test_a_set_is_done_when_it_is_cued_and_then_rest_is_kept(tmp_path: Path) -> None:
    truth_file = tmp_path / "truth.json"
    listener = Listener(f"raiser,rate=80,truth={truth_file}", Goal(sets=2, repetitions=4))
    listener.listen(16.0)
    assert rises(listener.height_mm[400:, 0]) == 0, "it waits for the first cue"
    listener.transport.cue()
    listener.listen(60.0)
    assert rises(listener.height_mm[400:, 0]) == 4
    listener.listen(110.0)
    assert rises(listener.height_mm[400:, 0]) == 4, "who was cued waits for the next cue"
    listener.transport.cue()
    listener.listen(140.0)
    listener.say(Stop(3))
    listener.transport.close()
    assert rises(listener.height_mm[400:, 0]) == 8
    truth = json.loads(truth_file.read_text())
    assert [one["set"] for one in truth["repetitions"]] == [1, 1, 1, 1, 2, 2, 2, 2]
    assert 16.0 < truth["sets"][0]["from_s"] < 18.0
    assert 110.0 < truth["sets"][1]["from_s"] < 112.0


def test_when_no_session_ever_cues_it_goes_by_itself_after_a_while() -> None:
    listener = Listener("raiser", Goal(sets=1, repetitions=2))
    listener.listen(27.0)
    assert rises(listener.height_mm[500:, 0]) == 0
    listener.listen(45.0)
    assert rises(listener.height_mm[500:, 0]) == 2


def test_a_cue_after_a_restart_still_reaches_the_person() -> None:
    listener = Listener("raiser,faults=restart", Goal(sets=1, repetitions=2))
    listener.listen(20.0)  # the scale restarted at 18 s
    listener.say(Who(4), Start(5))
    listener.listen(22.0)
    listener.transport.cue()
    listener.listen(36.0)
    person = listener.transport.scene.person
    assert person is not None
    begins = [deed.from_s for deed in person.deeds if deed.counts]
    assert len(begins) == 2
    assert 22.5 < begins[0] < 24.5


@pytest.mark.parametrize(("wish", "channels"), [("", 6), (",heels=none", 4)])
def test_heights_are_in_the_channel_table_unless_there_are_no_sensors(wish: str, channels: int) -> None:
    listener = Listener(f"raiser{wish}", Goal())
    listener.listen(8.0)
    assert listener.identity is not None
    assert len(listener.identity.channels) == channels
    if not wish:
        heights = listener.height_mm
        assert np.isnan(heights[:250]).all(), "nobody is there yet"
        assert np.abs(heights[500:]).max() < 4.0, "heels stand on the plates"


def test_the_metronomes_first_beat_is_met() -> None:
    listener = Listener("raiser", Goal(sets=1, repetitions=3))
    listener.listen(12.0)
    listener.transport.cue(beat_s=17.0)
    listener.listen(34.0)
    person = listener.transport.scene.person
    assert person is not None
    begins = [deed.from_s for deed in person.deeds if deed.counts]
    assert begins == pytest.approx([17.0, 22.0, 27.0], abs=0.15)
