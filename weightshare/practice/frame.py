"""What every screen of a session shares: what stands whatever comes, marks, and words about the links."""

from __future__ import annotations

from dataclasses import dataclass

from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.message import retell
from weightshare.practice.screen import Shape, Step
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.state import State
from weightshare.task import Goal, Settings
from weightshare.tongue import say

HOLLOW = (State.ONE_FOOT_OFF, State.ELSEWHERE, State.HEELS_DOWN)
"""Somebody stands there, and it cannot count."""
BROKEN = (State.NO_READING, State.OVERLOAD)
_WORST_FIRST = (LinkState.REFUSED, LinkState.LOST, LinkState.CONNECTING, LinkState.ENDED, LinkState.SAMPLING)


@dataclass(frozen=True, slots=True)
class Frame:
    """What holds whatever the view brings: settings, goal, source, and the questions that stand."""

    settings: Settings
    goal: Goal
    source: str = ""
    asking: bool = False
    """Whether to end is being asked."""
    unchecked: bool = False
    """Left and right were passed over."""
    silent: bool = False
    """No sound will be heard: none is wanted, or there is no loudspeaker."""
    clash: str = ""
    """Why the target cannot be reached under the ceiling, in words; empty where it can."""
    uncompared: str = ""
    """Why the share may be off: the two plates were not compared, or do not read alike; empty where they do."""
    clinical: bool = False
    """What the figures are worth is shown beside them: the clinician's view."""

    @property
    def lifts(self) -> bool:
        """Whether what is done is made of repetitions."""
        return self.settings.exercise is not None and self.settings.exercise.is_repeated

    @property
    def doubts(self) -> tuple[str, ...]:
        """Why the share may be off, in words: which checks were passed over, or what came of them."""
        return ((say(words.NOT_CHECKED),) if self.unchecked else ()) + ((self.uncompared,) if self.uncompared else ())


def worst_link(view: LiveView) -> LinkView | None:
    """Return the link that most needs someone's help; None where there is none yet."""
    return min(view.links, key=lambda link: (_WORST_FIRST.index(link.state), not link.in_trouble), default=None)


def shape_of(state: State, injured: Side) -> Shape:
    """Return the mark that says `state`; an arrowhead points to where the weight belongs."""
    more = injured if state is State.TOO_LITTLE else injured.other
    if state in (State.TOO_LITTLE, State.TOO_MUCH):
        return Shape.towards(more)
    if state is State.IN_BAND:
        return Shape.DISC
    return Shape.CROSS if state in BROKEN else Shape.DIAMOND if state in HOLLOW else Shape.RING


def broken_words(link: LinkView | None, step: Step) -> tuple[str, str]:
    """Return headline and state where no data come."""
    if link is not None and link.state is LinkState.REFUSED:
        lacks = words.NO_CALIBRATION in link.words
        return (say(words.UNCALIBRATED_HEADLINE) if lacks else say(words.REFUSED_HEADLINE)), say("no reading")
    return (say(words.UNREACHED_HEADLINE) if step is Step.CONNECT else say(words.LOST_HEADLINE)), say(words.LINK_LOST)


def warnings(view: LiveView, frame: Frame, *, in_set: bool = False) -> tuple[str, ...]:
    """Return what has to be said: of the link, of the recording, the last two messages, the check passed over.

    Without fresh data the messages wait: they tell times, and no number is on the screen then. `in_set`: a set, or a
    hold, is under way; they wait for its end, and only what bears on it now is said.
    """
    link = worst_link(view)
    said = (link_words(link),) if view.stale and link is not None else ()
    lost = (retell(view.recording),) if view.recording else ()
    told = () if view.stale or in_set else tuple(dict.fromkeys((*view.messages, *view.snapshot.warnings)))[-2:]
    silent = (say(words.ALARM_SILENT),) if frame.silent and frame.settings.ceiling is not None else ()
    return said + lost + tuple(map(retell, told)) + silent + frame.doubts


def link_words(link: LinkView) -> str:
    """Return what is going on with `link`."""
    return say(words.RECONNECTING) if link.state is LinkState.SAMPLING else retell(link.words) or say(link.state)


def trouble_words(link: LinkView | None, *states: LinkState) -> str:
    """Return why `link` cannot be used, its source named, where it is in one of `states`; else nothing."""
    if link is None or link.state not in states:
        return ""
    said = link_words(link)
    # which of two scales it is stands in the words, once that is known
    return said if link.side is not None or link.source in said else f"{link.source}: {said}"


def hints(frame: Frame, *others: str) -> str:
    """Return what the keyboard offers now, `others` first."""
    steered = (say(words.STEER_HINT),) if words.is_steered(frame.source) else ()
    return "  \u00b7  ".join((*others, *steered))
