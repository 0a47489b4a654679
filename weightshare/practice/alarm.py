"""The ceiling's alarm: at once, over everything else, and long enough to be seen."""

from __future__ import annotations

from weightshare.practice import words
from weightshare.practice.screen import Alarm, AlarmKind
from weightshare.practice.view import LiveView
from weightshare.task import Settings

SEEN_S = 2.0
"""An alarm stays at least so long after what it was raised for has passed, s."""


class AlarmKeeper:
    """Raises the alarm with the first view that has a reason for it, and keeps it for a while.

    An event that came and went between two views is alarmed about as well.
    """

    def __init__(self) -> None:
        self._shown: Alarm | None = None
        self._until_s = float("-inf")
        self._events: int | None = None

    def push(self, view: LiveView, settings: Settings) -> Alarm | None:
        """Take the newest view; return the alarm that stands, if any. Without a ceiling there is none."""
        if settings.ceiling is None:
            return None
        now_s, alarm = view.now_s, _find_alarm(view, settings, self._events)
        self._events = len(view.snapshot.ceiling_events)
        if alarm is not None:
            self._shown = alarm
            self._until_s = float("-inf") if now_s is None else now_s + SEEN_S
        elif now_s is None or now_s >= self._until_s:
            self._shown = None
        return self._shown


def _find_alarm(view: LiveView, settings: Settings, events: int | None) -> Alarm | None:
    """Return the alarm that there is a reason for now; `events` were there with the view before, None: it was none."""
    snapshot = view.snapshot
    new = snapshot.ceiling_events[events:] if events is not None else ()
    if not view.stale and (snapshot.over_ceiling or any(not event.unread for event in new)):
        return _over(view, settings)
    if view.stale or snapshot.ceiling_unread or new:
        return Alarm(AlarmKind.UNREAD, words.unread_headline(settings.injured), words.unread_words(snapshot.ceiling_N))
    return None


def _over(view: LiveView, settings: Settings) -> Alarm:
    """Return the alarm of a load over the ceiling. It tells the greatest: the load beside it is filtered more."""
    snapshot = view.snapshot
    peaks = [event.peak_N for event in snapshot.ceiling_events if not event.unread]
    load_N = peaks[-1] if peaks and peaks[-1] is not None else snapshot.injured_N
    return Alarm(AlarmKind.OVER, words.over_headline(settings.injured), words.over_words(load_N, snapshot.ceiling_N))
