"""The ceiling's alarm: at once, over everything else, and long enough to be seen."""

from __future__ import annotations

from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.practice import words
from weightshare.practice.screen import Alarm, AlarmKind, Step
from weightshare.practice.view import LiveView
from weightshare.task import Settings
from weightshare.tongue import say

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
            said = unread_words(view.snapshot.ceiling_N)
            return Alarm(kind, unread_headline(settings.injured), said, alarm_note(step))
        return Alarm(kind, over_headline(settings.injured), self._tell(view), alarm_note(step, over=True))

    def _tell(self, view: LiveView) -> str:
        """Return load now, the greatest, and the limit: who eases off sees that it helps."""
        snapshot, time_s = view.snapshot, view.snapshot.time_s or 0.0
        kind, told_s, said = self._told
        if kind is not AlarmKind.OVER or not 0.0 <= time_s - told_s < STEADY_S:
            peaks = [event.peak_N for event in snapshot.ceiling_events if not event.unread]
            said = over_words(snapshot.injured_N, peaks[-1] if peaks else None, snapshot.ceiling_N)
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


def over_headline(injured: Side) -> str:
    """Return what to do at once where the load is over the ceiling."""
    return say("Less weight on the {injured} foot now.", injured=injured)


def over_words(now_N: float | None, most_N: float | None, limit_N: float | None) -> str:
    """Return what happened where the load went over the ceiling, as `now 31.0 kg, at most 70.7 kg, limit 20 kg`."""
    now = "" if now_N is None else say("now {load}", load=words.load_kg(now_N))
    most = "" if most_N is None else say("at most {load}", load=words.load_kg(most_N))
    limit = "" if limit_N is None else say("limit {limit:.4g} kg", limit=limit_N / STANDARD_GRAVITY)
    return ", ".join(part for part in (now, most, limit) if part)


def alarm_note(step: Step, *, over: bool = False) -> str:
    """Return what an alarm means at `step`; `over`: the load was read, and is too much."""
    if step is Step.READY:
        return say("Practice does not begin while this stands.")
    if step is Step.REST:
        return say("The next set does not begin while this stands.")
    unchecked = over and step in (Step.WEIGH, Step.CHECK)
    return say("Left and right are not checked yet: are the plates swapped?") if unchecked else ""


def unread_headline(injured: Side) -> str:
    """Return what to do at once where the load cannot be read, and a ceiling is set for it."""
    return say("Hold the rail. Ease the weight off your {injured} foot.", injured=injured)


def unread_words(limit_N: float | None) -> str:
    """Return what happened where a ceiling is set and the load under it cannot be read."""
    limit = "" if limit_N is None else say("; the limit is {load}", load=words.load_kg(limit_N))
    return say("The load on it cannot be read{limit}.", limit=limit)
