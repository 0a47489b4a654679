"""The saved sessions to choose from, newest first, each in a few words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import Any

from weightshare.errors import RecordError, WeightshareError
from weightshare.exercise import Exercise
from weightshare.practice.asked import DID
from weightshare.practice.past.opening import check_past, is_finished
from weightshare.practice.words import minutes
from weightshare.records.answer import asked_share_percent
from weightshare.records.current import read_current
from weightshare.records.figure import figures_of
from weightshare.records.place import session_place
from weightshare.records.session import FOLDER_PATTERN
from weightshare.records.setting import SETTINGS_NAME, SessionHead, read_head
from weightshare.task import Goal, Settings
from weightshare.tongue import mark, number, say

UNFINISHED = mark("not finished: it was cut short, or still runs")


@dataclass(frozen=True, slots=True)
class Entry:
    """One saved session. `trouble` says why it cannot be opened; empty where it can."""

    folder: Path
    when: str
    """As 2026-11-24 14:30; the folder's name where it does not say."""
    what: str
    trouble: str = ""
    share: str = ""
    """The mean of the share that was asked for; empty where none was, or it is not known."""
    done: str = ""
    """How many repetitions were counted, or how long was held in all."""
    length: str = ""
    """Of the whole session, in minutes and seconds."""


def find_entries(place: Path) -> tuple[Entry, ...]:
    """Return the sessions in the folder `place`, newest first; none where there is no such folder."""
    found = [_look(folder) for folder in _folders(place)]
    return tuple(sorted(found, key=lambda entry: (entry.when, entry.folder.name), reverse=True))


def _folders(place: Path) -> list[Path]:
    try:
        return [folder for folder in place.glob(FOLDER_PATTERN) if folder.is_dir()]
    except OSError:
        return []


@dataclass(frozen=True, slots=True)
class Wanted:
    """The folder of sessions to show, and the one of them to open at once, if one is."""

    place: Path
    session: Path | None = None
    kept: Callable[[], None] | None = field(default=None, compare=False)
    """What is to be done once it was corrected in its folder; None: it is shown only, and not to be corrected there."""


def find_wanted(path: Path | None) -> Wanted:
    """Return what is to be shown for `path`: a session's folder, a folder of sessions, or None for the user's own.

    Raises RecordError where there is nothing to show there.
    """
    if path is None:
        return Wanted(session_place())
    if (path / SETTINGS_NAME).is_file():
        check_past(path)
        return Wanted(path.resolve().parent, path, _nothing)
    if not path.is_dir():
        raise RecordError(f"{path}: is no folder, and no patient is known by it; give a session, or a folder of them")
    if not _folders(path):
        raise RecordError(f"{path}: holds no session; give a session's folder, or one with sessions in it")
    return Wanted(path)


def _nothing() -> None:
    """The folder is where it is kept."""


def _look(folder: Path) -> Entry:
    try:
        head = read_head(folder)
    except RecordError as error:
        return Entry(folder, folder.name.removeprefix("session-"), "", str(error))
    entry = Entry(folder, say_when(head), say_what(head))
    if not is_finished(folder):
        return replace(entry, trouble=say(UNFINISHED))
    try:
        share, done, length = _came(head.settings, head.goal, read_current(folder))
    except (WeightshareError, OSError, LookupError, TypeError, ValueError, RecursionError):
        # it is told when it is opened; the list goes without
        return entry
    return replace(entry, share=share, done=done, length=length)


def _came(settings: Settings, goal: Goal, content: Mapping[str, Any]) -> tuple[str, str, str]:
    """Return what a session came to: share, what was done, length. Raises as `figures_of` does."""
    share = asked_share_percent(settings, figures_of(content))
    told = "" if share is None else f"{number(share, '.1f')} %"
    return told, _done(settings, goal, content), minutes(float(content["duration_s"]))


def _done(settings: Settings, goal: Goal, content: Mapping[str, Any]) -> str:
    if settings.is_repeated:
        done, asked = len(content["repetitions"]), goal.sets * goal.repetitions
        return str(done) if goal.to_exhaustion else say("{done} of {asked}", done=done, asked=asked)
    held_s = content["total_held_s"]
    return "" if held_s is None else say("held {seconds} s", seconds=round(float(held_s)))


def say_when(head: SessionHead) -> str:
    """Return when a session began, by the clock on the wall where it was."""
    try:
        return f"{datetime.fromisoformat(head.started_at):%Y-%m-%d %H:%M}"
    except ValueError:
        return say("no date")


def say_what(head: SessionHead) -> str:
    """Return in words what was asked for."""
    settings, goal = head.settings, head.goal
    said = [say(DID[settings.exercise or Exercise.HOLD]), say("{injured} injured", injured=say(settings.injured))]
    if settings.load is not None:
        said.append(say("load {load}", load=settings.load))
    elif settings.target_percent is not None:
        said.append(f"{number(settings.target_percent, 'g')} \u00b1 {number(settings.tolerance_percent, 'g')} %")
    if settings.is_repeated:
        said.append(f"{goal.sets} \u00d7 {goal.repetitions}")
    else:
        said.append(f"{goal.holds} \u00d7 {number(goal.hold_s, 'g')} s")
    return "  \u00b7  ".join(said)
