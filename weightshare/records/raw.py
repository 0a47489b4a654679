"""From a session's raw record to what the pipeline is fed with."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from weightshare.errors import RecordError
from weightshare.model import Item
from weightshare.scales.capture import RawRecord, read_raw
from weightshare.scales.receiver import is_item, replay

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
    return Record(tuple(filter(is_item, replay(record))), _find_practice(record), record.complete)


def tell_practice(time_s: float) -> str:
    """Return the remark that a record gets where practice begins, at sample time `time_s`."""
    return json.dumps({_PRACTICE_KEY: time_s})


def _find_practice(record: RawRecord) -> float | None:
    told = [note[_PRACTICE_KEY] for note in record.notes() if _PRACTICE_KEY in note]
    return float(told[-1]) if told else None
