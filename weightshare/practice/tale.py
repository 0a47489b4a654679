"""What a person is asked to say of a session, when, and what it suggests: pain, effort, notes. No Qt."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from weightshare.practice.screen import Step
from weightshare.records.diary import About, Diary, Entry, add_entries
from weightshare.tongue import mark, say

WORDS = {
    About.PAIN_BEFORE: mark("Pain before"),
    About.PAIN_DURING: mark("The most pain during"),
    About.PAIN_AFTER: mark("Pain now, after it"),
    About.PAIN_NEXT_MORNING: mark("Pain on the next morning"),
    About.EFFORT: mark("How hard it was"),
    About.NOTE: mark("Note"),
}
SCALE = mark("Pain: 0 is none, 10 the worst you can think of.")
EFFORT_SCALE = mark("How hard it was: 0 is no effort, 10 all that you have.")
OVER = mark(
    "{pain} of 10 is over the limit of {limit}. It may be better to rest, and to ask your clinician before going on."
)
MORNING = mark("How was the pain on the morning after the session of {day}?")
HOW_WAS_IT = mark("How was it? Pain and effort are kept with the session.")
_PAINS = (About.PAIN_BEFORE, About.PAIN_DURING, About.PAIN_AFTER, About.PAIN_NEXT_MORNING)
_ASKED = {
    Step.REST: (About.PAIN_DURING, About.EFFORT, About.NOTE),
    Step.DONE: (About.PAIN_DURING, About.PAIN_AFTER, About.EFFORT, About.NOTE),
}

Told = dict[About, int | str]
"""What was said: figures of 10, and in a note words."""


def asked_at(step: Step) -> tuple[About, ...]:
    """Return what is asked for at `step` of a session."""
    return _ASKED.get(step, (About.PAIN_BEFORE, About.NOTE))


def say_scale(asked: Sequence[About]) -> str:
    """Return what the ends of the figures mean, of pain, and in a line more of effort where it is asked for."""
    return f"{say(SCALE)}\n{say(EFFORT_SCALE)}" if About.EFFORT in asked else say(SCALE)


def say_limits(told: Told, limit: int | None) -> str:
    """Return what pain over the `limit` suggests, in plain words; empty where none is, or there is no limit."""
    pains = [value for about in _PAINS if isinstance(value := told.get(about), int)]
    worst = max(pains, default=0)
    return "" if limit is None or worst <= limit else say(OVER, pain=worst, limit=limit)


class Tale:
    """Keeps what is said of a session until it is known where that is kept, and puts it into its diary then."""

    def __init__(self) -> None:
        self._waiting: list[Entry] = []
        self.told: Told = {}
        """The newest of each, of the session that is under way or just ended."""

    @property
    def is_waiting(self) -> bool:
        """Whether something that was said is not kept yet."""
        return bool(self._waiting)

    def take(self, told: Told, now: datetime) -> None:
        """Take what was said at `now`. Raises OptionError where a figure is none of 10, or a note is too long."""
        self._waiting += entries_of(told, now)
        self.told |= {about: value for about, value in told.items() if about is not About.NOTE}

    def keep(self, folder: Path) -> Diary:
        """Put what waits into the diary of the session `folder`. Raises RecordError; then it waits on."""
        diary = add_entries(folder, *self._waiting)
        self._waiting.clear()
        return diary

    def drop(self) -> bool:
        """Forget what waits: its session is kept nowhere, and it belongs to no other. Return whether anything did."""
        waited = self.is_waiting
        self._waiting.clear()
        return waited

    def begin(self) -> None:
        """Another session begins: of what was said before it only what still waits belongs to it."""
        self.told = {one.about: one.value for one in self._waiting if one.value is not None}


def keep_told(folder: Path, told: Told, now: datetime) -> None:
    """Put `told` into the diary of the session `folder`. Raises RecordError and OptionError."""
    tale = Tale()
    tale.take(told, now)
    tale.keep(folder)


def entries_of(told: Told, now: datetime) -> list[Entry]:
    """Return what was said at `now` as entries of a diary. Raises OptionError as `Tale.take` does."""
    at = now.isoformat(timespec="seconds")
    return [_entry(about, at, value) for about, value in told.items()]


def _entry(about: About, at: str, value: int | str) -> Entry:
    return Entry(about, at, words=value) if isinstance(value, str) else Entry(about, at, value)


def day_of(started_at: str) -> str:
    """Return the day of a session, as it is told: `Tuesday, 24 November`."""
    began = datetime.fromisoformat(started_at)
    weekday, month = say(_DAYS[began.weekday()]), say(MONTHS[began.month - 1])
    return say("{weekday}, {day} {month}", weekday=weekday, day=began.day, month=month)


# a person's own language settings would mix with the language that is chosen here
_DAYS: Sequence[str] = (
    mark("Monday"),
    mark("Tuesday"),
    mark("Wednesday"),
    mark("Thursday"),
    mark("Friday"),
    mark("Saturday"),
    mark("Sunday"),
)
MONTHS: Sequence[str] = (
    mark("January"),
    mark("February"),
    mark("March"),
    mark("April"),
    mark("May"),
    mark("June"),
    mark("July"),
    mark("August"),
    mark("September"),
    mark("October"),
    mark("November"),
    mark("December"),
)
