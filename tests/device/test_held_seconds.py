"""What is measured through cells, noise and protocol bytes, against what the virtual person really did."""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from weightshare.model import Side
from weightshare.pipeline import Analysis, Pipeline
from weightshare.scales.decoder import StreamDecoder, merge
from weightshare.scales.frame import Message, Ping, Start, Who, encode, to_stream
from weightshare.scales.receiver import is_item
from weightshare.scales.rig import rig_calibration, rig_transport
from weightshare.scales.rig.local import RigTransport, StepClock
from weightshare.scales.rig.truth import tell_truth
from weightshare.task import Goal, Settings

PEOPLE = ("quiet", "favouring", "steady", "shaky", "rail", "leaver")
TARGETS = (50.0, 60.0, 75.0, 90.0)
SECONDS = 60


def measure(transport: RigTransport, clock: StepClock, settings: Settings) -> Analysis:
    """Speak with the virtual scale for a minute of its own time, and analyse what came."""
    decoder, messages = StreamDecoder(), list[Message]()
    transport.open()
    for command in (Who(1), Start(2)):
        transport.write(to_stream(encode(command)))
    for second in range(SECONDS):
        clock.wait(1.0)
        messages += decoder.feed(transport.read(0.0), second)
        transport.write(to_stream(encode(Ping(second))))
    pipeline = Pipeline(settings, [rig_calibration()])
    for item in merge(message for message in messages if is_item(message)):
        pipeline.push(item)
    pipeline.finish()
    return pipeline.analysis()


def truth_of(transport: RigTransport) -> dict[str, Any]:
    truth = tell_truth(transport.scene)
    assert truth is not None
    return truth


@pytest.mark.parametrize(("person", "side", "target"), list(itertools.product(PEOPLE, Side, TARGETS)))
def test_held_seconds_are_those_of_the_truth(person: str, side: Side, target: float) -> None:
    clock = StepClock()
    transport = rig_transport(person, Settings(side, target), Goal(10.0), clock=clock)
    analysis = measure(transport, clock, Settings(side, target))
    truth = truth_of(transport)
    assert analysis.holds is not None
    assert analysis.band is not None
    assert truth["duration_s"] == pytest.approx(analysis.duration_s, abs=0.2)
    assert len(analysis.holds) == len(truth["holds"])
    for figure, true in (
        (analysis.total_held_s, truth["total_held_s"]),
        (analysis.longest_hold_s, truth["longest_hold_s"]),
    ):
        assert figure == pytest.approx(true, abs=max(0.15, 0.01 * true))
    assert analysis.band.time_in_band_s == pytest.approx(
        truth["band"]["time_in_band_s"], abs=max(0.15, 0.01 * truth["band"]["time_in_band_s"])
    )
    assert [hold.supported for hold in analysis.holds] == [hold["supported"] for hold in truth["holds"]]
    if person == "steady":
        for hold, true in zip(analysis.holds, truth["holds"], strict=True):
            assert hold.start_s == pytest.approx(true["start_s"], abs=0.1)
            assert hold.end_s == pytest.approx(true["end_s"], abs=0.1)
