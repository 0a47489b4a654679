"""What a person says beside what the scales measure: pain, effort, notes. The session's diary.json.

It is no part of the session's seal: pain after a session and on the next morning is said when that is sealed already.
It has a checksum of its own. Nothing in it is ever taken away: what is said anew stands after what was said before.
"""

from __future__ import annotations

import json
import math
from collections import Counter
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum
from pathlib import Path

from weightshare.errors import OptionError, RecordError
from weightshare.records.seal import KEY, is_altered, sealed
from weightshare.records.setting import read_head
from weightshare.records.value import from_plain, to_plain
from weightshare.records.whole import write_whole

DIARY_NAME = "diary.json"
SCHEMA = "weightshare.diary/1"
LONGEST_NOTE = 500
MORNING_WITHIN = timedelta(hours=48)
"""So long after a session its next morning is asked for."""


class About(StrEnum):
    """What is said; the names of a programme's measures where there is one."""

    PAIN_BEFORE = "pain-before"
    PAIN_DURING = "pain-during"
    PAIN_AFTER = "pain-after"
    PAIN_NEXT_MORNING = "pain-next-morning"
    EFFORT = "effort"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that was said: a figure of 10, or in a note words. `at` is local time with its offset, ISO 8601.

    Raises OptionError where the figure is out of its range, or the words are too long.
    """

    about: About
    at: str
    value: int | None = None
    words: str = ""

    def __post_init__(self) -> None:
        if self.about is About.NOTE:
            if self.value is not None or not self.words.strip() or len(self.words) > LONGEST_NOTE:
                raise OptionError(f"--note: give words, up to {LONGEST_NOTE} letters")
        elif self.words or self.value is None or not 0 <= self.value <= 10:
            raise OptionError(f"--{self.about} {self.value} is out of range: it may be 0 to 10")


@dataclass(frozen=True, slots=True)
class Diary:
    """All that was said of one session, in order."""

    entries: tuple[Entry, ...] = ()

    def newest(self, about: About) -> Entry | None:
        """Return what was said last about it; None where nothing was."""
        return next((one for one in reversed(self.entries) if one.about is about), None)

    @property
    def notes(self) -> tuple[str, ...]:
        """The words of all notes."""
        return tuple(one.words for one in self.entries if one.about is About.NOTE)


def read_diary(folder: Path) -> Diary:
    """Return the diary of the session `folder`, empty where nothing was said.

    Raises RecordError, which names the file, where it was altered or cannot be read.
    """
    path = folder / DIARY_NAME
    try:
        value = json.loads(path.read_bytes())
        if is_altered(value) or value.pop("schema") != SCHEMA or not value.pop(KEY):
            raise ValueError("altered")
        return from_plain(Diary, value)
    except FileNotFoundError:
        return Diary()
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError, OptionError) as error:
        raise RecordError(f"{path}: was altered or cut short; it holds no diary of a session") from error


def add_entries(folder: Path, *entries: Entry) -> Diary:
    """Put `entries` at the end of the diary of the session `folder`, whole or not at all; return it.

    Raises RecordError where the diary cannot be read or written.
    """
    diary = read_diary(folder)
    if not entries:
        return diary
    diary = replace(diary, entries=(*diary.entries, *entries))
    write_diary(folder, diary)
    return diary


def write_diary(folder: Path, diary: Diary) -> None:
    """Write the diary of the session `folder`, whole or not at all. Raises RecordError."""
    value = sealed({"schema": SCHEMA, **to_plain(diary)})
    path = folder / DIARY_NAME
    try:
        write_whole(path, json.dumps(value, indent=1).encode() + b"\n")
    except OSError as error:
        raise RecordError(f"{path}: cannot be written ({error.strerror or error})") from error


def join(here: Diary, there: Diary) -> Diary:
    """Return what was said at two places of one session: all of it, and nothing twice, in the order of time."""
    missing = Counter(there.entries) - Counter(here.entries)
    if not missing:
        return here
    if there.entries[: len(here.entries)] == here.entries:
        return there
    return Diary(tuple(sorted((*here.entries, *missing.elements()), key=_instant_s)))


def _instant_s(entry: Entry) -> float:
    try:
        return datetime.fromisoformat(entry.at).timestamp()
    except ValueError:
        return -math.inf


def find_morning(place: Path, now: datetime) -> Path | None:
    """Return the newest session in `place` of a day before `now` whose next morning was not told yet; None: none.

    One that lies over 48 h back is not asked for any more: nobody remembers.
    """
    for folder in sorted(place.glob("session-*"), reverse=True):
        try:
            began = datetime.fromisoformat(read_head(folder).started_at)
            told = read_diary(folder).newest(About.PAIN_NEXT_MORNING)
        except (RecordError, ValueError):
            continue
        if began.astimezone(now.tzinfo).date() == now.date() or began > now:
            continue
        return folder if told is None and now - began <= MORNING_WITHIN else None
    return None
