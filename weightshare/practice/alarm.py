"""The ceiling's alarm: at once, over everything else, and long enough to be seen."""

from __future__ import annotations

from weightshare.practice import words
from weightshare.practice.screen import Alarm, AlarmKind, Step
from weightshare.practice.view import LiveView
from weightshare.task import Settings

SEEN_S = 2.0
"""An alarm stays at least so long after what it was raised for has passed, s."""
STEADY_S = 0.2
"""Its figures change at most this often, s of sample time: faster, nobody reads them."""
ALARMED = (Step.WEIGH, Step.CHECK, Step.BALANCE, Step.READY, Step.PRACTISE, Step.REST)
"""Steps in which somebody may stand on the plates: from the first one on the limit holds."""


class AlarmKeeper:
    """Raises the alarm with the first view that has a reason for it, and keeps it for a while.

    An event that came and went between two views is alarmed about as well.
    """

    def __init__(self) -> None:
        self._kind: AlarmKind | None = None
        self._until_s = float("-inf")
        self._events: int | None = None
        self._told: tuple[AlarmKind | None, float, str] = (None, float("-inf"), "")
        """Kind, time and words of what was told last."""

    def push(self, view: LiveView, settings: Settings, step: Step = Step.PRACTISE) -> Alarm | None:
        """Take the newest view; return the alarm that stands, if any. Without a ceiling there is none."""
        if settings.ceiling is None or step not in ALARMED:
            self._kind = self._events = None
            return None
        now_s, kind = view.now_s, _find_kind(view, settings, self._events)
        self._events = len(view.snapshot.ceiling_events)
        if kind is not None:
            self._kind = kind
            self._until_s = float("-inf") if now_s is None else now_s + SEEN_S
        elif now_s is None or now_s >= self._until_s:
            self._kind = None
        return None if self._kind is None else self._make(self._kind, view, settings, step)

    def _make(self, kind: AlarmKind, view: LiveView, settings: Settings, step: Step) -> Alarm:
        if kind is AlarmKind.UNREAD:
            said = words.unread_words(view.snapshot.ceiling_N)
            return Alarm(kind, words.unread_headline(settings.injured), said, words.alarm_note(step))
        return Alarm(kind, words.over_headline(settings.injured), self._tell(view), words.alarm_note(step, over=True))

    def _tell(self, view: LiveView) -> str:
        """Return load now, the greatest, and the limit: who eases off sees that it helps."""
        snapshot, time_s = view.snapshot, view.snapshot.time_s or 0.0
        kind, told_s, said = self._told
        if kind is not AlarmKind.OVER or not 0.0 <= time_s - told_s < STEADY_S:
            peaks = [event.peak_N for event in snapshot.ceiling_events if not event.unread]
            said = words.over_words(snapshot.injured_N, peaks[-1] if peaks else None, snapshot.ceiling_N)
            self._told = AlarmKind.OVER, time_s, said
        return said


def _find_kind(view: LiveView, settings: Settings, events: int | None) -> AlarmKind | None:
    """Return what there is to alarm about now; `events` were there with the view before, None: it was none."""
    snapshot = view.snapshot
    in_percent = settings.ceiling is not None and settings.ceiling.percent is not None
    if in_percent and snapshot.ceiling_N is None and not snapshot.ceiling_unread:
        # body weight is not known: no limit holds yet
        return None
    new = snapshot.ceiling_events[events:] if events is not None else ()
    if not view.stale and (snapshot.over_ceiling or any(not event.unread for event in new)):
        return AlarmKind.OVER
    return AlarmKind.UNREAD if view.stale or snapshot.ceiling_unread or new else None
