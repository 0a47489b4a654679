"""From a session's raw record to what the pipeline is fed with."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from weightshare.errors import RecordError
from weightshare.model import Item, LinkDown, LinkUp
from weightshare.scales.capture import EntryKind, RawEntry, RawRecord, read_raw
from weightshare.scales.decoder import StreamDecoder
from weightshare.scales.link import is_item

RAW_NAME = "raw.wsr"
_PRACTICE_KEY = "practice_from_s"


@dataclass(frozen=True, slots=True)
class Record:
    """What a raw record holds for the pipeline. `counting_from_s`: where practice began, by its newest remark."""

    items: tuple[Item, ...]
    counting_from_s: float | None
    complete: bool


def read_record(path: Path, *, whole: bool) -> Record:
    """Return the content of the raw record `path`; `whole`: it has to be there to its end mark.

    Raises RecordError, which names the file, where it was altered, is none or, asked to be whole, was cut short.
    """
    record = read_raw(path)
    if whole and not record.complete:
        raise RecordError(f"{path}: was cut short; its end mark is missing")
    return Record(tuple(decode_entries(record.entries)), _find_practice(record), record.complete)


def decode_entries(entries: list[RawEntry]) -> Iterator[Item]:
    """Yield the items of one source's entries, in order; samples that follow each other in chunks as long as can be."""
    decoder = StreamDecoder()
    waiting: list[RawEntry] = []
    for entry in entries:
        if entry.kind is EntryKind.RX:
            waiting.append(entry)
        elif entry.kind in (EntryKind.UP, EntryKind.DOWN):
            yield from _decode(decoder, waiting)
            waiting = []
            if entry.kind is EntryKind.UP:
                decoder.start()
                yield LinkUp(entry.arrival_ns)
            else:
                yield LinkDown(entry.arrival_ns, entry.reason())
    yield from _decode(decoder, waiting)


def _decode(decoder: StreamDecoder, entries: list[RawEntry]) -> Iterator[Item]:
    if entries:
        pieces = [entry.payload for entry in entries]
        messages = decoder.feed_pieces(pieces, [entry.arrival_ns for entry in entries])
        yield from filter(is_item, messages)


def tell_practice(time_s: float) -> str:
    """Return the remark that a record gets where practice begins, at sample time `time_s`."""
    return json.dumps({_PRACTICE_KEY: time_s})


def _find_practice(record: RawRecord) -> float | None:
    told = [note[_PRACTICE_KEY] for note in record.notes() if _PRACTICE_KEY in note]
    return float(told[-1]) if told else None
