"""What has to be known before a saved session is judged: its origin, what it is worth, what is missing of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from weightshare.model import Calibration
from weightshare.pipeline.result import NO_HOLDS
from weightshare.practice import words
from weightshare.practice.message import retell
from weightshare.practice.past.opening import Past
from weightshare.records.manifest import Ending
from weightshare.state import Alignment
from weightshare.tongue import mark, number, plural, say

ENDINGS = {
    Ending.COMPLETE: "",
    Ending.RECOVERED: mark("The program was ended in the middle; all of it was made from the raw record afterwards."),
    Ending.CUT_SHORT: mark("Recording stopped before the session did; what came after is missing."),
}


@dataclass(frozen=True, slots=True)
class Fact:
    """One line. `is_caution`: something spoils the figures, or is missing."""

    text: str
    is_caution: bool = False


def facts_of(past: Past) -> tuple[Fact, ...]:
    """Return all of them; cautions first."""
    found = [
        *_of_origin(past),
        *(_of_calibration(one, _day(past.head.started_at)) for one in past.calibrations),
        *_of_share(past),
        *_of_clocks(past.digest.alignment),
        *_of_ceiling(past),
        *_of_gaps(past),
        *(Fact(say("{warning:C}.", warning=retell(one)), True) for one in past.digest.warnings if one != NO_HOLDS),
    ]
    return tuple(sorted((*found, *_of_corrections(past)), key=lambda fact: not fact.is_caution))


def _of_corrections(past: Past) -> list[Fact]:
    """Return each correction that is in force, who made it and why; what was struck has its reason in the table too."""
    text = mark("Correction {number}: {words}, by {by}: {reason}")
    force = past.corrections.in_force.items()
    return [Fact(say(text, number=k, words=one.words, by=one.by, reason=one.reason)) for k, one in force]


def _of_origin(past: Past) -> list[Fact]:
    said = {words.source_words(source) for source in past.head.sources} - {""}
    found = [Fact(f"{text}.", True) for text in sorted(said)]
    if ENDINGS[past.ending]:
        found.append(Fact(say(ENDINGS[past.ending]), True))
    if past.head.uneven:
        found.append(Fact(say("The two plates were found not to read alike."), True))
    if past.computed:
        found.append(Fact(say("Its analysis was of another version, and was made anew from the raw record.")))
    return found


def _day(started_at: str) -> date | None:
    try:
        return datetime.fromisoformat(started_at).date()
    except ValueError:
        return None


def _of_calibration(calibration: Calibration, day: date | None) -> Fact:
    until, made = calibration.valid_until, say("calibrated on {made_on}", made_on=calibration.made_on)
    who = say("Scale {name}", name=calibration.device_id[-4:])
    if until is None:
        return Fact(say("{who}: {made}; until when that holds is not told.", who=who, made=made))
    if day is not None and day > until:
        return Fact(
            say(
                "{who}: {made}; that held until {until}, and was out of date in this session.",
                who=who,
                made=made,
                until=until,
            ),
            True,
        )
    return Fact(say("{who}: {made}, which holds until {until}.", who=who, made=made, until=until))


def _of_share(past: Past) -> list[Fact]:
    share, points, exercise = past.digest.share_percent, past.digest.share_doubt_points, past.settings.exercise
    # where another share is asked for on the way down, a mean over both ways tells nothing
    if share is None or (exercise is not None and exercise.turns):
        return []
    worth = (
        say("what that is worth is not known")
        if points is None
        else say("\u00b1 {points:.2f} points (k = 2)", points=points)
    )
    return [
        Fact(
            say(
                "Mean share of the {injured} side {share:.1f} %, {worth}.",
                injured=past.settings.injured,
                share=share,
                worth=worth,
            )
        )
    ]


def _of_clocks(alignment: Alignment | None) -> list[Fact]:
    if alignment is None:
        return []
    if alignment.doubt_ms is None:
        return [Fact(say("Two scales; how well their clocks agree is not known."), True)]
    points = alignment.share_doubt_points
    cost = "" if points is None else say(": {points:.2f} points of the share", points=points)
    restarts = sum(scale.restarts for scale in alignment.scales)
    found = [Fact(say("Two clocks agree to {doubt_ms:.1f} ms{cost}.", doubt_ms=alignment.doubt_ms, cost=cost))]
    return (
        [*found, Fact(say("A scale started anew {times}.", times=words.times(restarts)), True)] if restarts else found
    )


def _of_ceiling(past: Past) -> list[Fact]:
    events, limit = past.digest.ceiling, past.settings.ceiling
    if events is None or limit is None:
        return []
    passed, unread = sum(not one.unread for one in events), sum(one.unread for one in events)
    much = (
        f"{number(limit.kg, 'g')} kg"
        if limit.kg is not None
        else say("{percent:g} % of body weight", percent=limit.percent)
    )
    found = [
        Fact(say("The limit of load, {much}, was passed {times}.", much=much, times=words.times(passed)), True)
        if passed
        else Fact(say("The limit of load, {much}, was not seen to be passed.", much=much))
    ]
    return (
        [*found, Fact(say("Under it the load could not be read {times}.", times=words.times(unread)), True)]
        if unread
        else found
    )


def _of_gaps(past: Past) -> list[Fact]:
    gaps = past.digest.gaps
    if not gaps:
        return []
    missing_s = sum(gap.end_s - gap.start_s for gap in gaps)
    return [
        Fact(
            plural(
                "{n} gap without a reading, {missing:.1f} s in all.",
                "{n} gaps without a reading, {missing:.1f} s in all.",
                len(gaps),
                missing=missing_s,
            ),
            True,
        )
    ]
