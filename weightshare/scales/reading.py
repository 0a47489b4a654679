"""Raw readings as a table of text, and their time by the scale's own ticks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from weightshare.model import NO_READING, Channel, Chunk, Identity
from weightshare.scales.frame import PROTOCOL
from weightshare.scales.receiver import Heard


class TickCounter:
    """Ticks of 32 bits that wrap, made into ticks that go on; 0 is the first sample after `restart`."""

    def __init__(self) -> None:
        self._last: int | None = None
        self._sum = 0

    def restart(self) -> None:
        """The next tick has nothing to do with those before."""
        self._last, self._sum = None, 0

    def unwrap(self, tick: NDArray[np.uint32]) -> NDArray[np.int64]:
        """Return int64 ticks for the next uint32 ones, both of shape (n,); steps of under half the range are taken."""
        last = tick[0] if self._last is None else np.uint32(self._last)
        steps = np.diff(tick, prepend=last).view(np.int32)
        ticks = self._sum + np.cumsum(steps, dtype=np.int64)
        self._last, self._sum = int(tick[-1]), int(ticks[-1])
        return ticks


def column_names(channels: Sequence[Channel]) -> list[str]:
    """Return one name per channel: quantity, side, and its number, counted from 0 as calibrations do."""
    return [
        f"{channel.quantity.name.lower()}_{channel.side or 'unassigned'}_{number}"
        for number, channel in enumerate(channels)
    ]


def table_lines(items: Iterable[Heard]) -> Iterator[str]:
    """Yield the readings as CSV, in blocks of lines: a header, then one line per sample.

    `time_s` counts from the first sample, and anew from 0 where the scale restarted; `tick` and `sequence` are as they
    came. An empty field is a reading that there was none of. Other channels in a later IDENTITY bring a new header.
    """
    identity: Identity | None = None
    header: list[str] = []
    counter = TickCounter()
    for item in items:
        if isinstance(item, Identity) and item.protocol == PROTOCOL:
            if identity is None or (item.device_id, item.boot_count) != (identity.device_id, identity.boot_count):
                counter.restart()
            identity, names = item, column_names(item.channels)
            if names != header:
                header = names
                yield ",".join(["time_s", "tick", "sequence", *names]) + "\n"
        elif isinstance(item, Chunk) and identity is not None:
            yield _chunk_lines(item, counter, identity.tick_rate_Hz)


def _chunk_lines(chunk: Chunk, counter: TickCounter, tick_rate_Hz: int) -> str:
    frames, rows, channels = chunk.readings.shape
    offsets = chunk.step[:, None].astype(np.int64) * np.arange(rows)
    times = ((counter.unwrap(chunk.tick)[:, None] + offsets) / tick_rate_Hz).ravel()
    ticks = ((chunk.tick[:, None] + offsets) % 2**32).ravel()
    digits = 6 if tick_rate_Hz <= 1_000_000 else 9
    columns = zip(
        times.tolist(),
        ticks.tolist(),
        np.repeat(chunk.sequence, rows).tolist(),
        chunk.readings.reshape(frames * rows, channels).tolist(),
        strict=True,
    )
    lines = [f"{time:.{digits}f},{tick},{number},{','.join(map(str, row))}\n" for time, tick, number, row in columns]
    return "".join(lines).replace(f",{NO_READING}", ",")
