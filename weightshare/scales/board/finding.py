"""What samples tell of a scale: its rate, its clock, what is missing, and what it says is wrong with itself."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from weightshare.model import NO_READING, Channel, Chunk, Condition, Identity, Quantity
from weightshare.pipeline.fault import fault_words
from weightshare.scales.frame import Message
from weightshare.scales.stream import Counts

RATE_OFF = 0.005
"""Of the rate that the scale says it has."""
CLOCK_OFF = 0.02
"""Of the scale's seconds against this computer's, over a few seconds of arrivals."""
MISSING_PART = 0.02
FEWEST_FRAMES = 5
CONDITIONS_OFF = 1.5
"""How many CONDITIONs more or less than seconds there may be: they are not counted from a whole second on."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was looked at: whether it is as it should be, and what was found, in words."""

    name: str
    ok: bool
    found: str


def judge_samples(heard: Sequence[Message], identity: Identity, counts: Counts, seconds: float) -> list[Finding]:
    """Return what is found of the SAMPLES and CONDITIONs in `heard`, which came within `seconds`."""
    chunks = [message for message in heard if isinstance(message, Chunk)]
    conditions = [message for message in heard if isinstance(message, Condition)]
    if sum(len(chunk.tick) for chunk in chunks) < FEWEST_FRAMES:
        return [Finding("samples", False, "hardly any came"), _condition(conditions, seconds)]
    readings = np.concatenate([chunk.readings.reshape(-1, len(identity.channels)) for chunk in chunks])
    return [
        _rate(chunks, identity),
        _clock(chunks, identity),
        _whole(chunks, counts),
        *(_channel(i, channel, readings[:, i]) for i, channel in enumerate(identity.channels)),
        _condition(conditions, seconds),
    ]


def tell_identity(identity: Identity) -> str:
    """Return who it is, in words."""
    version, channels = ".".join(map(str, identity.firmware)), len(identity.channels)
    name = identity.name or "no name"
    return f"{name}, {identity.device_id}, firmware {version}, {channels} channels, {identity.rate_Hz:g} Hz"


def _place(channel: Channel) -> str:
    side = channel.side.value if channel.side else "either side's"
    return f"{side} {channel.quantity.name.lower().replace('_', ' ')} at ({channel.x_mm}, {channel.y_mm})"


def _seconds(chunks: Sequence[Chunk], identity: Identity) -> NDArray[np.float64]:
    """Each frame's time by its tick, from the first frame's on, s."""
    ticks = np.concatenate([chunk.tick.astype(np.int64) for chunk in chunks])
    return np.concatenate(([0], np.cumsum((ticks[1:] - ticks[:-1]) % 2**32))) / identity.tick_rate_Hz


def _rate(chunks: Sequence[Chunk], identity: Identity) -> Finding:
    rows = np.concatenate([np.full(len(chunk.tick), chunk.readings.shape[1]) for chunk in chunks])
    rate_Hz = float(rows[:-1].sum()) / max(float(_seconds(chunks, identity)[-1]), 1e-9)
    off = rate_Hz / identity.rate_Hz - 1
    return Finding("rate", abs(off) <= RATE_OFF, f"{rate_Hz:.2f} Hz by its ticks, {100 * off:+.2f} % off what it says")


def _clock(chunks: Sequence[Chunk], identity: Identity) -> Finding:
    seconds = _seconds(chunks, identity)
    arrival_ns = np.concatenate([chunk.arrival_ns for chunk in chunks])
    arrival_s = (arrival_ns - arrival_ns[0]) / 1e9
    slope, start = np.polyfit(seconds, arrival_s, 1)
    jitter_ms = 1e3 * float(np.percentile(np.abs(arrival_s - slope * seconds - start), 99))
    words = (
        f"{100 * (slope - 1):+.2f} % against this computer's; 99 % of frames within {jitter_ms:.1f} ms of their time"
    )
    return Finding("clock", bool(abs(slope - 1) <= CLOCK_OFF), words)


def _whole(chunks: Sequence[Chunk], counts: Counts) -> Finding:
    first, frames = int(chunks[0].sequence[0]), sum(len(chunk.tick) for chunk in chunks)
    ok = first == 0 and not (counts.lost_frames or counts.out_of_order)
    return Finding("sequence", ok, f"{frames} frames from {first} on, {counts.lost_frames} lost")


def _channel(index: int, channel: Channel, readings: NDArray[np.int32]) -> Finding:
    there = readings[readings != NO_READING]
    missing = 1 - len(there) / len(readings)
    ok = missing <= MISSING_PART or channel.quantity is not Quantity.FORCE  # nobody need be over a heel sensor
    found = f"{there.min()} to {there.max()}, {100 * missing:.1f} % missing" if len(there) else "no reading"
    return Finding(f"channel {index}", ok, f"{_place(channel)}: {found}")


def _condition(conditions: Sequence[Condition], seconds: float) -> Finding:
    faults = 0
    for condition in conditions:
        faults |= condition.faults
    lost = max((condition.lost_samples for condition in conditions), default=0)
    words = "; ".join(
        [f"{len(conditions)} in {seconds:g} s, {lost} samples lost since it started", *fault_words(faults)]
    )
    on_time = abs(len(conditions) - seconds) <= CONDITIONS_OFF
    return Finding("condition", on_time and not faults, words)
