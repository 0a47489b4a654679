"""From a session's raw record to what the pipeline is fed with, and the remarks between its bytes."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any

from weightshare.errors import RecordError
from weightshare.exercise import SetSpan
from weightshare.model import Item, Side, Sourced
from weightshare.records.value import from_plain, to_plain
from weightshare.scales.capture import EntryKind, RawRecord, read_raw
from weightshare.scales.receiver import Receiver, is_item, replay, replay_entries

RAW_NAME = "raw.wsr"
_PRACTICE_KEY, _SET_KEY, _FAULT_KEY, _SIDES_KEY = "practice_from_s", "set", "fault_s", "sides"
SLICE_NS = 5_000_000_000
"""Two scales' records are handed on in slices of so much arrival time, each scale's part of one merged."""


@dataclass(frozen=True, slots=True)
class Record:
    """What a raw record holds for the pipeline. `counting_from_s`: where practice began, by its newest remark."""

    batches: tuple[tuple[Sourced, ...], ...]
    """Nothing of a later batch arrived before anything of an earlier one; of one scale it is a single batch."""
    counting_from_s: float | None
    complete: bool
    sets: tuple[SetSpan, ...] = ()
    """The sets that were begun, each by its newest remark, in order."""
    faults_s: tuple[float, ...] = ()
    """Sample times at which somebody marked a fault, s."""
    sides: tuple[Side, Side] | None = None
    """Which foot each of two sources is under, by the newest remark; None where none tells."""

    @property
    def items(self) -> tuple[Item, ...]:
        """All items, whatever source they came from."""
        return tuple(item for batch in self.batches for _, item in batch)


def read_record(path: Path, *, whole: bool) -> Record:
    """Return the content of the raw record `path`; `whole`: it has to be there to its end mark.

    Raises RecordError, which names the file, where it was altered, is none or, asked to be whole, was cut short.
    """
    record = read_raw(path)
    if whole and not record.complete:
        raise RecordError(f"{path}: was cut short; its end mark is missing")
    remarks = list(record.notes())
    try:
        practice = _find(remarks, _PRACTICE_KEY)
        sets = {span.number: span for span in (from_plain(SetSpan, told) for told in _find(remarks, _SET_KEY))}
        return Record(
            tuple(_cut(record)),
            float(practice[-1]) if practice else None,
            record.complete,
            tuple(sets.values()),
            tuple(map(float, _find(remarks, _FAULT_KEY))),
            _read_sides(_find(remarks, _SIDES_KEY)),
        )
    except (TypeError, ValueError) as error:
        raise RecordError(f"{path}: was altered; a remark in it tells no time or no set") from error


def _cut(record: RawRecord) -> Iterator[tuple[Sourced, ...]]:
    """Yield the batches of `record`."""
    sources = sorted({entry.source for entry in record.entries if entry.kind is EntryKind.UP})
    if len(sources) < 2:
        source = sources[0] if sources else 0
        yield tuple(Sourced(source, item) for item in filter(is_item, replay(record, source)))
        return
    receivers = {source: Receiver() for source in sources}
    for _, run in groupby(record.entries, lambda entry: entry.arrival_ns // SLICE_NS):
        entries = list(run)
        yield tuple(
            Sourced(source, item)
            for source, receiver in receivers.items()
            for item in filter(is_item, replay_entries((one for one in entries if one.source == source), receiver))
        )


def _read_sides(told: Sequence[Any]) -> tuple[Side, Side] | None:
    if not told:
        return None
    first, second = map(Side, told[-1])
    return first, second


def tell_sides(sides: tuple[Side, Side]) -> str:
    """Return the remark that a record gets where it is found which foot each of two scales is under."""
    return json.dumps({_SIDES_KEY: to_plain(sides)})


def tell_practice(time_s: float) -> str:
    """Return the remark that a record gets where practice begins, at sample time `time_s`."""
    return json.dumps({_PRACTICE_KEY: time_s})


def tell_set(span: SetSpan) -> str:
    """Return the remark that a record gets where a set begins, and again, with its end, where it ends."""
    return json.dumps({_SET_KEY: to_plain(span)})


def tell_fault(time_s: float) -> str:
    """Return the remark that a record gets where somebody marks a fault, at sample time `time_s`."""
    return json.dumps({_FAULT_KEY: time_s})


def _find(remarks: Sequence[dict[str, Any]], key: str) -> list[Any]:
    return [remark[key] for remark in remarks if key in remark]
