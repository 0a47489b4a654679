"""What a capture holds and lacks: frames by kind, gaps, damage, restarts, duration."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass

import numpy as np

from weightshare.errors import RecordError
from weightshare.model import NO_READING, Chunk, Identity, LinkDown, LinkUp
from weightshare.scales.capture import RawRecord
from weightshare.scales.frame import PROTOCOL
from weightshare.scales.reading import TickCounter
from weightshare.scales.receiver import Heard, Receiver, replay
from weightshare.scales.stream import Counts

SCHEMA = "weightshare.decode/1"
_FRAMES = ("identity", "samples", "condition", "reply", "echo")
_DROPPED = ("damaged", "over_long", "unknown_kind", "wrong_length", "wrong_content", "before_identity")
_ORDER = ("gaps", "lost_frames", "out_of_order", "restarts", "empty")


@dataclass(frozen=True, slots=True)
class Survey:
    """What was heard from one source of a capture."""

    source: int
    items: list[Heard]
    counts: Counts
    identity: Identity | None
    """The last that it told; one of another protocol version where it told no other."""
    duration_s: float
    """By the scale's own ticks: the time that its samples span, restarts apart."""
    host_duration_s: float | None
    """From its first entry to its last; None for bare bytes, which have no instants."""

    @property
    def unreadable(self) -> str:
        """Why its readings cannot be told apart, in words; empty where they can."""
        if self.identity is None:
            return "the readings cannot be told apart, since the scale never says who it is"
        if self.identity.protocol != PROTOCOL:
            theirs = self.identity.protocol
            return f"the scale speaks protocol version {theirs}, and this program reads version {PROTOCOL}"
        return ""

    @property
    def chunks(self) -> list[Chunk]:
        """Its samples."""
        return [item for item in self.items if isinstance(item, Chunk)]

    def to_json(self) -> dict[str, object]:
        """Return the figures as plain values."""
        counted = asdict(self.counts)
        readings = [chunk.readings for chunk in self.chunks]
        return {
            "source": self.source,
            "scale": _scale_to_json(self.identity),
            "bytes": self.counts.bytes,
            "frames": {name: counted[name] for name in _FRAMES},
            "dropped": {name: counted[name] for name in _DROPPED},
            **{name: counted[name] for name in _ORDER},
            "links_opened": sum(isinstance(item, LinkUp) for item in self.items),
            "links_closed": sum(isinstance(item, LinkDown) for item in self.items),
            "samples": sum(array.shape[0] * array.shape[1] for array in readings),
            "missing_readings": sum(int(np.count_nonzero(array == NO_READING)) for array in readings),
            "duration_s": round(self.duration_s, 6),
            "host_duration_s": None if self.host_duration_s is None else round(self.host_duration_s, 6),
        }


def survey(record: RawRecord) -> list[Survey]:
    """Return what was heard from each source. Raises RecordError, naming the file, where not one frame was valid."""
    surveys = [_survey_source(record, source) for source in record.sources]
    if not any(each.counts.frames + each.counts.before_identity for each in surveys):
        came = sum(each.counts.bytes for each in surveys)
        faults = sum(each.counts.dropped for each in surveys)
        what = f"{came} bytes, {faults} damaged frames" if came else "it is empty"
        raise RecordError(f"{record.path}: not one valid frame of a scale was found ({what})")
    return surveys


def _survey_source(record: RawRecord, source: int) -> Survey:
    receiver = Receiver()
    items = replay(record, source, receiver)
    receiver.decoder.start()  # a frame that was cut at the end is one that was damaged
    identities = [item for item in items if isinstance(item, Identity)]
    ours = [identity for identity in identities if identity.protocol == PROTOCOL] or identities
    arrivals_ns = [entry.arrival_ns for entry in record.entries if entry.source == source]
    host_s = None if record.bare else (max(arrivals_ns) - min(arrivals_ns)) / 1e9
    return Survey(source, items, receiver.counts, ours[-1] if ours else None, _sum_duration(items), host_s)


def _sum_duration(items: Sequence[Heard]) -> float:
    """The time that the samples span, s: by ticks, for each run of the scale from power-on by itself."""
    total_s = run_s = 0.0
    told: Identity | None = None
    counter = TickCounter()
    for item in items:
        if isinstance(item, Identity):
            if told is not None and (item.device_id, item.boot_count) != (told.device_id, told.boot_count):
                total_s, run_s = total_s + run_s, 0.0
                counter.restart()
            told = item
        elif isinstance(item, Chunk) and told is not None:
            end = counter.unwrap(item.tick)[-1] + int(item.step[-1]) * item.readings.shape[1]
            run_s = max(run_s, float(end) / told.tick_rate_Hz)
    return total_s + run_s


def _scale_to_json(identity: Identity | None) -> dict[str, object] | None:
    if identity is None:
        return None
    if identity.protocol != PROTOCOL:
        return {"protocol": identity.protocol}
    return {
        "protocol": identity.protocol,
        "device_id": identity.device_id,
        "name": identity.name,
        "firmware": ".".join(map(str, identity.firmware)),
        "boot_count": identity.boot_count,
        "tick_rate_Hz": identity.tick_rate_Hz,
        "rate_Hz": identity.rate_Hz,
        "channels": len(identity.channels),
    }


def to_json(record: RawRecord, surveys: Sequence[Survey]) -> dict[str, object]:
    """Return the whole report as plain values."""
    return {
        "schema": SCHEMA,
        "capture": str(record.path),
        "form": "bare bytes" if record.bare else "raw record",
        "complete": None if record.bare else record.complete,
        "damage": record.damage or None,
        "sources": [each.to_json() for each in surveys],
    }
