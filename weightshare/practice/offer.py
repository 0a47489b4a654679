"""What a session suggests, as it is offered: in words for whoever is at the screen, taken, and kept with its reason."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from weightshare.metrology.decision import Verdict
from weightshare.model import Side
from weightshare.practice.message import retell
from weightshare.practice.stages import Stages
from weightshare.programme.criterion import ABOUT
from weightshare.programme.judgement import Row, Suggestion, say_probability, say_row
from weightshare.programme.prescription import Prescription
from weightshare.programme.reading import ProgrammeError
from weightshare.programme.shelf import find_programme
from weightshare.programme.stage import Stage
from weightshare.records.assessment import Assessment
from weightshare.records.assignment import Assignment
from weightshare.records.diary import LONGEST_NOTE, About, Entry, add_entries
from weightshare.tongue import mark, number, say

RESTS_ON = mark("It rests on: {reasons}.")
ASK = mark("Ask your physiotherapist.")
NOT_KNOWN, FOUND = mark("{measure}: not known"), mark("{measure}: {value}, asked {asked}: {verdict}")
TO_JUDGE = mark("for you to judge: {words}")
GONE = mark("{name} was changed since that session, or is no longer here: choose the stage yourself (F2).")


def say_offer(found: Assessment, *, patient: bool) -> str:
    """Return what a session suggests: to the clinician with the numbers that it rests on, to a patient to ask."""
    told, reasons = retell(found.suggestion.words), list(_say_reasons(found))
    if patient:
        return f"{told} {say(ASK)}"
    return f"{told} {say(RESTS_ON, reasons='; '.join(reasons))}" if reasons else told


def _say_reasons(found: Assessment) -> Iterator[str]:
    """Return what the suggestion rests on: what speaks against more, then each criterion, theirs to judge too."""
    of_rows = {say_row(row) for row in found.rows}
    yield from (retell(reason) for reason in found.suggestion.reasons if reason not in of_rows)
    for row in found.rows:
        if row.verdict is None:
            yield say(TO_JUDGE, words=row.criterion.words)
        else:
            yield _say_found(row, row.verdict)


def _say_found(row: Row, verdict: Verdict) -> str:
    """Return a row as `judgement.say_row` does, in the language chosen."""
    about = ABOUT[row.criterion.measure]
    if row.value is None:
        return say(NOT_KNOWN, measure=say(about.words))
    measure = f"{say(about.words)} ({retell(row.of)})" if row.of else say(about.words)
    sure = f" ({retell(say_probability(row.probability))})" if row.u and row.probability is not None else ""
    note = f", {retell(row.note)}" if row.note else ""
    told = f"{say(str(verdict))}{sure}{note}"
    return say(
        FOUND,
        measure=measure,
        value=_say_value(row.value, row.u, say(about.unit)),
        asked=_say_limits(row.limits),
        verdict=told,
    )


def _say_value(value: float, u: float | None, unit: str) -> str:
    """Return a value with its expanded uncertainty; `u`: the standard one, 0 or None where it is exact or not known."""
    worth = f" \u00b1 {number(2.0 * u, '.2g')}" if u else ""
    return " ".join(part for part in (f"{number(value, '.4g')}{worth}", unit, "(k = 2)" if u else "") if part)


def _say_limits(limits: tuple[float | None, float | None]) -> str:
    low, high = ("" if limit is None else number(limit, "g") for limit in limits)
    if not low:
        return say("at most {high}", high=high)
    return say("{low} to {high}", low=low, high=high) if high else say("at least {low}", low=low)


def find_offered(found: Assessment) -> Stage | None:
    """Return the stage that can be taken as it is suggested: another than the session's, and not locked; else None."""
    stage = found.suggestion.stage
    return None if stage is None or stage.shut or stage.key == found.prescription.stage.key else stage


def take_offer(
    found: Assessment, session: Path, injured: Side, now: datetime, *, folder: Path, place: str = ""
) -> Assignment:
    """Return what is practised from now on, and keep with `session` that it was taken, when, and why.

    `folder`: where the clinician's own programmes are kept; `place`: the name or file of the newest one practised by.
    Raises ProgrammeError where the programme that the session was of is not there any more as it was, OptionError where
    the stage is locked, RecordError where the session's diary cannot be written; nothing is kept then.
    """
    assignment = _find_stages(found, folder, place).take(injured)
    entry = Entry(About.NOTE, now.isoformat(timespec="seconds"), words=note_of(found.prescription, found.suggestion))
    add_entries(session, entry)
    return assignment


def note_of(kept: Prescription, suggestion: Suggestion) -> str:
    """Return that a suggestion was taken, and on what it rests, as a note of the session; whole reasons, that fit."""
    assert suggestion.stage is not None
    words = f"taken by the clinician: {suggestion.stage.name}, after {kept.stage.name}"
    for place, reason in enumerate(suggestion.reasons):
        longer = f"{words}{'; ' if place else '; it rests on '}{reason}"
        if len(longer) > LONGEST_NOTE:
            break
        words = longer
    return words


def _find_stages(found: Assessment, folder: Path, place: str) -> Stages:
    """Return the programme of the session, the stage that is suggested chosen in it.

    Only the very text that the session was of: another file may be called the same and ask for something else.
    """
    kept, stage = found.prescription, found.suggestion.stage
    assert stage is not None
    for where in _places(folder, place):
        stages = Stages(folder, where, stage.key) if _sha256(where) == kept.sha256 else None
        if stages is not None and stages.stage is not None and stages.stage.key == stage.key:
            return stages
    raise ProgrammeError(say(GONE, name=kept.programme))


def _places(folder: Path, place: str) -> Iterator[str]:
    yield from ([place] if place else [])
    yield from (one for one in Stages(folder).places if one != place)


def _sha256(place: str) -> str:
    with suppress(ProgrammeError):
        return find_programme(place).sha256
    return ""
