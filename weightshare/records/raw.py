"""From a session's raw record to what the pipeline is fed with, and the remarks between its bytes."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from weightshare.errors import RecordError
from weightshare.exercise import SetSpan
from weightshare.model import Item
from weightshare.records.value import from_plain, to_plain
from weightshare.scales.capture import read_raw
from weightshare.scales.receiver import is_item, replay

RAW_NAME = "raw.wsr"
_PRACTICE_KEY, _SET_KEY, _FAULT_KEY = "practice_from_s", "set", "fault_s"


@dataclass(frozen=True, slots=True)
class Record:
    """What a raw record holds for the pipeline. `counting_from_s`: where practice began, by its newest remark."""

    items: tuple[Item, ...]
    counting_from_s: float | None
    complete: bool
    sets: tuple[SetSpan, ...] = ()
    """The sets that were begun, each by its newest remark, in order."""
    faults_s: tuple[float, ...] = ()
    """Sample times at which somebody marked a fault, s."""


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
            tuple(filter(is_item, replay(record))),
            float(practice[-1]) if practice else None,
            record.complete,
            tuple(sets.values()),
            tuple(map(float, _find(remarks, _FAULT_KEY))),
        )
    except (TypeError, ValueError) as error:
        raise RecordError(f"{path}: was altered; a remark in it tells no time or no set") from error


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
