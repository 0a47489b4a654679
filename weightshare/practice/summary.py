"""What a session came to: its holds, or its sets as a table."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from weightshare.model import Floats
from weightshare.practice import sheet, words
from weightshare.practice.coach import Sets
from weightshare.practice.frame import Frame
from weightshare.practice.history import NO_COURSE, Course, without_ends
from weightshare.practice.message import retell
from weightshare.practice.outcome import outcomes
from weightshare.practice.prompt import name_of
from weightshare.practice.screen import Figures, Screen, Shape, Step, Summary
from weightshare.state import Snapshot
from weightshare.tongue import mark, plural, say

WARM_UP = mark("In the warm-up stand, by yourself: {percent:.0f} % on the {injured} foot.")
LEAST_HOLD_S = 1.0
"""Holds under this held time are not listed, s: neither is one that was under way at the end."""


@dataclass(frozen=True, slots=True, eq=False)
class Practised:
    """What is left of practice: its last snapshot, its sets, and the course of the share.

    `findings`: whether what was asked was reached, in words; only known once the session is over.
    """

    snapshot: Snapshot = field(default_factory=Snapshot)
    sets: Sets = field(default_factory=Sets)
    course: Course = NO_COURSE
    findings: tuple[str, ...] = ()


def summary_screen(practised: Practised, frame: Frame, messages: tuple[str, ...] = (), place: str = "") -> Screen:
    """Return what the session came to; `place` is where it is kept."""
    kept = (say("Kept in {place}", place=place),) if place else ()
    summary, done, asked = (_sum_sets if frame.lifts else _sum_holds)(practised, frame)
    # of supported work there is no course of a share
    course = NO_COURSE if frame.settings.is_supported else without_ends(practised.course)
    events = practised.snapshot.ceiling_events if frame.settings.ceiling is not None else ()
    crossings = sum(not event.unread for event in events)
    stood = _say_stand(practised.snapshot, frame)
    said = (*summary.lines, *stood, *sheet.say_ceiling(practised.snapshot, frame.settings), *kept)
    return Screen(
        step=Step.DONE,
        headline=words.summary_headline(done, asked, crossings),
        state=say("done"),
        shape=Shape.NONE,
        injured=frame.settings.injured,
        summary=replace(
            summary,
            lines=said,
            findings=practised.findings,
            course_time_s=course.time_s,
            course_percent=course.share_percent,
            band_percent=frame.settings.band_percent,
            edges_percent=_edges(course, frame),
        ),
        figures=Figures(holds=say("{done} of {holds}", done=done, holds=asked), holds_done=done, holds_asked=asked),
        warnings=tuple(map(retell, messages)) + frame.doubts,
        source=words.source_words(frame.source),
        key=say(words.NEW),
    )


def _say_stand(snapshot: Snapshot, frame: Frame) -> tuple[str, ...]:
    """Return how the person stood before practice, unsteered: told, and no mark to pass."""
    if snapshot.stand_percent is None or frame.settings.is_supported:
        return ()
    told = say(WARM_UP, percent=snapshot.stand_percent, injured=frame.settings.injured)
    return (told,)


def _edges(course: Course, frame: Frame) -> tuple[Floats, Floats] | None:
    """Return the lower and the upper edge of the band at each time of `course`, percent, NaN where nothing was asked;
    None where the band always stood at one place."""
    settings = frame.settings
    if settings.exercise is None or not settings.exercise.turns:
        return None
    aim = course.aim_percent
    high = np.full_like(aim, 100.0) if settings.one_sided else aim + settings.tolerance_percent
    return np.maximum(aim - settings.tolerance_percent, 0.0), np.where(np.isnan(aim), aim, np.minimum(high, 100.0))


def _sum_holds(practised: Practised, frame: Frame) -> tuple[Summary, int, int]:
    goal, snapshot = frame.goal, practised.snapshot
    under_way = (snapshot.held_s,) if snapshot.holding and snapshot.held_s >= LEAST_HOLD_S else ()
    done = snapshot.holds_done(goal.hold_s)
    counted = say("{done} of {holds} holds of {hold:g} s", done=done, holds=goal.holds, hold=goal.hold_s)
    held_s = snapshot.held_each_s + under_way
    in_band = say("{lasted:.0f} s in the band in all", lasted=snapshot.time_in_band_s)
    if not frame.settings.has_band:
        # without a band nothing can be held
        return Summary(lines=(say(words.NO_TARGET),)), done, goal.holds
    return Summary(held_s=held_s, goal_s=goal.hold_s, lines=(counted, in_band)), done, goal.holds


def _sum_sets(practised: Practised, frame: Frame) -> tuple[Summary, int, int]:
    goal, settings, spans = frame.goal, frame.settings, practised.sets.spans
    found = outcomes(practised.snapshot, spans, settings)
    done, count = sum(span.to_s is not None for span in spans), sum(one.count for one in found)
    counted = plural(
        "{done} of {n} set, {count} {raises}",
        "{done} of {n} sets, {count} {raises}",
        goal.sets,
        done=done,
        count=count,
        raises=name_of(settings, count),
    )
    rows = tuple(sheet.row(one, settings, goal, practised.sets.faults_s) for one in found)
    said = sheet.say_fatigue(found)
    return Summary(lines=(counted, *said), heads=sheet.heads(settings), rows=rows), done, goal.sets
