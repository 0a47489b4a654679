"""The same two streams through the clock fit of a general-purpose stream library: pyxdf, which reads XDF recordings.

It fits a straight line to all clock offsets of a recording, and a straight line to its time stamps: it sees the whole
recording, and restarts aside its lines never bend. Ours looks back only. (Its `load_xdf`, with clock synchronisation
and dejittering; the format is that of the XDF specification 1.0, sccn/xdf on GitHub.)
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import pyxdf

from tests.unit.links import MODELS, LinkModel, Played
from tests.unit.test_two_clocks import BEGIN_S, opposite, settle
from weightshare.model import Floats, Item, RoundTrip, Sourced
from weightshare.pipeline.clock import Clock

SECONDS = 100.0


def write_xdf(path: Path, streams: Iterable[Sequence[Item]], rate_Hz: float) -> None:
    """Write each scale's samples by its own clock, and a clock offset for each round trip: its middle."""
    with path.open("wb") as file:
        file.write(b"XDF:" + _chunk(1, b"<?xml version='1.0'?><info><version>1.0</version></info>"))
        for number, items in enumerate(streams, start=1):
            about = (
                f"<?xml version='1.0'?><info><name>{number}</name><type>force</type><channel_count>1</channel_count>"
                f"<nominal_srate>{rate_Hz}</nominal_srate><channel_format>double64</channel_format></info>"
            )
            file.write(_chunk(2, struct.pack("<I", number) + about.encode()))
            for chunk in _stamp(items, number):
                file.write(chunk)
            file.write(_chunk(6, struct.pack("<I", number) + b"<?xml version='1.0'?><info></info>"))


def _stamp(items: Sequence[Item], number: int) -> Iterable[bytes]:
    clock, head = Clock(), struct.pack("<I", number)
    for item in items:
        if isinstance(item, RoundTrip) and (scale_s := clock.second_of(item.tick)) is not None:
            offset_s = 0.5e-9 * (item.sent_ns + item.received_ns) - scale_s
            yield _chunk(4, head + struct.pack("<dd", scale_s, offset_s))
        for timed in clock.push(item):
            values = zip(timed.time_s.tolist(), timed.readings[0].tolist(), strict=True)
            rows = b"".join(b"\x08" + struct.pack("<dd", time_s, value) for time_s, value in values)
            yield _chunk(3, head + struct.pack("<BI", 4, len(timed.time_s)) + rows)


def _chunk(tag: int, content: bytes) -> bytes:
    return struct.pack("<BIH", 4, len(content) + 2, tag) + content


def errors_of_theirs(path: Path) -> list[tuple[Floats, Floats]]:
    """Return true times, s, and by how much the library's are over them, ms, for each stream."""
    streams, _ = pyxdf.load_xdf(path, verbose=False)
    found = []
    for stream in sorted(streams, key=lambda one: str(one["info"]["name"][0])):
        true_s: Floats = 1e-5 * stream["time_series"][:, 0]
        found.append((true_s, 1e3 * (stream["time_stamps"] - BEGIN_S - true_s)))
    return found


def play(model: LinkModel, seed: int, device: int) -> list[tuple[int, Item]]:
    return Played(model, seed, SECONDS, BEGIN_S, device).items()


@pytest.mark.parametrize("name", ["cable", "slow crystal", "bursts", "radio", "radio, bursts"])
def test_ours_looks_back_only_and_is_as_good(name: str, tmp_path: Path) -> None:
    # where frames are lost, it spreads the samples evenly over the holes
    model = replace(MODELS[name], loss=0.0)
    streams = [play(model, 1, 1), play(opposite(model), 1, 2)]
    write_xdf(tmp_path / "both.xdf", [[item for _, item in stream] for stream in streams], 100.0)
    (first_s, first), (second_s, second) = errors_of_theirs(tmp_path / "both.xdf")
    late = first_s > 60.0
    theirs_ms = np.percentile(np.abs(first - np.interp(first_s, second_s, second))[late], 95.0)
    rows = settle([Sourced(source, item) for source, stream in enumerate(streams) for _, item in stream])
    ours_ms = rows.apart_ms(rows.time_s > 60.0)
    assert theirs_ms < 5.0
    assert ours_ms < theirs_ms + 0.5
