"""Eight weeks of a made-up patient, from the first hold to the eve of the decision for one leg, in a store of its own.

    python -m tests.lab.weeks DIR

All of it is invented. The sessions are real ones of the virtual scales, dated over the eight weeks before today.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.lab.played import Asked, play_session
from weightshare.exercise import Ceiling
from weightshare.model import Side
from weightshare.programme.prescription import Prescription, goal_of, prescribe
from weightshare.programme.shelf import Kept, find_programme
from weightshare.records.diary import About, Entry
from weightshare.records.store.patient import Affected, Patient, add_patient, change_patient, make_patient
from weightshare.records.store.ruling import Choice, keep_ruling, make_ruling
from weightshare.records.store.saying import say
from weightshare.records.store.sheaf import gather
from weightshare.records.store.store import Store, make_store
from weightshare.records.store.visit import take_in
from weightshare.scales.rig.cell import rig_calibration
from weightshare.scales.rig.people import RAISING
from weightshare.scales.rig.profile import Profile


@dataclass(frozen=True, slots=True)
class Pace:
    """How long the rests between sets truly are (None: as asked), and how often the scale samples."""

    rest_s: float | None = None
    rate_Hz: float = 100.0


CODE, NAME, SIGNED = "A-017", "Sample Patient", "C. L."
PROGRAMME = "achilles"
SPAN, SINCE_INJURY, SINCE_CALIBRATION = timedelta(days=57), timedelta(days=125), timedelta(days=90)
HOUR = time(17, 40)


@dataclass(frozen=True, slots=True)
class Meeting:
    """One session of the eight weeks: its day, its stage, the pain during it and on the next morning."""

    day: int
    stage: str
    during: int = 1
    morning: int | None = 1
    ceiling: float | None = None
    """A limit in percent of body weight, set by hand."""


@dataclass(frozen=True, slots=True)
class Turn:
    """What the clinician decides (None: nothing, what is practised is changed alone), and the stage from then on."""

    day: int
    choice: Choice | None
    reason: str
    to: str


MEETINGS = (
    *(Meeting(day, "hold-10", during) for day, during in ((0, 2), (2, 1), (4, 1))),
    *(Meeting(day, "hold-30") for day in (7, 9, 11)),
    *(Meeting(day, "raise-slow", during) for day, during in ((14, 2), (16, 1), (18, 1))),
    *(Meeting(day, "raise") for day in (20, 22)),
    Meeting(24, "raise-bent"),
    *(Meeting(day, "lowering-60", during) for day, during in ((25, 2), (27, 1))),
    Meeting(29, "lowering-75", 2, 2),
    Meeting(31, "lowering-75", 2, 1, ceiling=75.0),
    *(Meeting(day, "lowering-75") for day in (33, 35)),
    Meeting(37, "lowering-80", 3, 4),
    *(Meeting(day, "lowering-80", during) for day, during in ((40, 2), (42, 1))),
    *(Meeting(day, "lowering-85") for day in (44, 46)),
    *(Meeting(day, "lowering-90", during, during) for day, during in ((48, 2), (50, 2), (52, 1), (54, 1), (56, 1))),
)
TURNS = (
    Turn(5, Choice.GO_ON, "five holds of 10 s with an even load on three days", "hold-30"),
    Turn(12, Choice.GO_ON, "30 s held evenly, no pain on the next morning", "raise-slow"),
    Turn(19, Choice.GO_ON, "30 slow raises with an even load on three days", "raise"),
    Turn(23, Choice.GO_ON, "raises at tempo are even", "raise-bent"),
    Turn(24, None, "", "lowering-60"),
    Turn(28, Choice.GO_ON, "60 % is reached and tolerated", "lowering-75"),
    Turn(36, Choice.GO_ON, "75 % on four days, the tendon is quiet", "lowering-80"),
    Turn(38, Choice.STAY, "4 of 10 on the next morning: two days of rest, then 80 % again", "lowering-80"),
    Turn(43, Choice.GO_ON, "no more than 1 on the next morning at 80 %", "lowering-85"),
    Turn(47, Choice.GO_ON, "85 % is reached, pain stays low", "lowering-90"),
)
SHORT = tuple(one for one in MEETINGS if one.stage == "lowering-90" or one.day in (0, 37, 44))
TINY = MEETINGS[-3:]
"""What tests make do with: three days are the fewest that say something of the patient."""
QUICK, QUICKEST = Pace(8.0), Pace(4.0)
OTHERS = (
    ("A-004", "Demo Person One", Affected.RIGHT, 210, "one-leg"),
    ("A-011", "", Affected.LEFT, 96, "raise-slow"),
    ("A-023", "Demo Person Two", Affected.RIGHT, 61, "hold-30"),
    ("K-002", "", Affected.BOTH, 150, "raise"),
    ("K-008", "Demo Person Three", None, 33, ""),
)
"""Patients without sessions: code, name, side, days since the injury, stage."""


def person_on(day: int) -> Profile:
    """Return how the patient moves on that day: from week to week the heel rises higher, and the load comes nearer."""
    part = min(1.0, day / SPAN.days)
    (raiser,) = (one for one in RAISING if one.name == "raiser")
    manner = replace(
        raiser.manner,
        heel_mm=62.0 + 18.0 * part,
        good_part=1.30 - 0.24 * part,
        short_points=2.6 * (1.0 - part),
        tired_points=2.5 - 1.7 * part,
        tired_height=0.11 - 0.06 * part,
        wobble_mm=1.1 - 0.4 * part,
    )
    return replace(raiser, name="made up", manner=manner, body_weight_N=716.0 + 3.0 * (day % 4 - 1.5))


def make_weeks(
    place: Path,
    now: datetime,
    *,
    meetings: Sequence[Meeting] = MEETINGS,
    passphrase: str | None = None,
    pace: Pace = Pace(),
    tell: Callable[[str], None] = lambda _words: None,
) -> None:
    """Make a store in `place` with the patient A-017, whose newest session is of the day before yesterday, and others.

    now: local time with its offset; no session is of a later day.
    """
    first = now.date() - SPAN - timedelta(days=1)
    days = _Days(datetime.combine(first, HOUR, now.tzinfo))
    with make_store(place, SIGNED, days.clock, passphrase) as store:
        _add_others(store, now.date())
        patient = _begin(store, first)
        kept = find_programme(PROGRAMME)
        story: list[Meeting | Turn] = [*meetings, *TURNS]
        for one in sorted(story, key=lambda each: (each.day, isinstance(each, Turn))):
            days.now = days.first + timedelta(days=one.day)
            if isinstance(one, Turn):
                patient = _decide(store, patient, kept, one, days.now)
            else:
                tell(f"day {one.day}: {one.stage}")
                asked = _asked(kept.prescription(kept.find(one.stage)), one, days.now, pace)
                _meet(store, patient, asked, one, pace)


class _Days:
    """The time in the story; what is written into the store is dated by it."""

    def __init__(self, first: datetime) -> None:
        self.first = self.now = first

    def clock(self) -> datetime:
        return self.now


def _add_others(store: Store, today: date) -> None:
    for code, name, affected, days, stage in OTHERS:
        injured_on = (today - timedelta(days=days)).isoformat()
        programme = PROGRAMME if stage else ""
        details: dict[str, Any] = {"name": name, "affected": affected, "injured_on": injured_on, "programme": programme}
        add_patient(store, make_patient(code, today, stage=stage, **details))


def _begin(store: Store, first: date) -> Patient:
    injured_on = (first - SINCE_INJURY + SPAN).isoformat()
    details: dict[str, Any] = {"name": NAME, "affected": Affected.LEFT, "injured_on": injured_on}
    return add_patient(store, make_patient(CODE, first, programme=PROGRAMME, stage="hold-10", **details))


def _meet(store: Store, patient: Patient, asked: Asked, one: Meeting, pace: Pace) -> None:
    """Practise once, and keep it; the next morning is told on the next day."""
    calibration = replace(rig_calibration(), made_on=asked.began.date() - timedelta(days=one.day) - SINCE_CALIBRATION)
    with TemporaryDirectory() as name:
        who = person_on(one.day)
        folder = play_session(Path(name), who, asked, calibration, seed=one.day + 1, rate_Hz=pace.rate_Hz)
        visit = take_in(store, patient, folder).visit
    if one.morning is not None:
        at = asked.began + timedelta(hours=14)
        say(store, patient, visit, _entry(About.PAIN_NEXT_MORNING, at, one.morning))


def _asked(kept: Prescription, one: Meeting, began: datetime, pace: Pace) -> Asked:
    settings = prescribe(kept.stage, Side.LEFT)
    if one.ceiling is not None:
        settings = replace(settings, ceiling=Ceiling(percent=one.ceiling))
        kept = replace(kept, changed=(f"--ceiling {one.ceiling:g}%",))
    later = began + timedelta(minutes=9)
    said: tuple[Entry, ...] = (
        _entry(About.PAIN_BEFORE, began, max(0, one.during - 1)),
        _entry(About.PAIN_DURING, later, one.during),
        _entry(About.PAIN_AFTER, later, max(0, one.during - 1)),
        _entry(About.EFFORT, later, 4 + one.day % 3),
    )
    if one.during > 2:
        said = (*said, Entry(About.NOTE, later.isoformat(), words="pulls a little from the sixth repetition on"))
    return Asked(settings, goal_of(kept.stage), began, kept, said, pace.rest_s)


def _entry(about: About, at: datetime, value: int) -> Entry:
    return Entry(about, at.isoformat(timespec="seconds"), value)


def _decide(store: Store, patient: Patient, kept: Kept, turn: Turn, now: datetime) -> Patient:
    """Keep the decision with the evidence as it stands, and change what is practised."""
    if turn.choice is None:
        return change_patient(store, patient, now.date(), stage=turn.to)
    prescription = kept.prescription(kept.find(patient.stage))
    told = json.dumps(gather(store, patient, prescription, kept.sources(prescription.stage)).to_json())
    at = now.isoformat(timespec="seconds")
    ruling = make_ruling(at, SIGNED, turn.choice, prescription, reason=turn.reason, evidence=told)
    keep_ruling(store, patient, ruling)
    return change_patient(store, patient, now.date(), stage=turn.to)


def main(words: Sequence[str] | None = None) -> int:
    """Make the store; return 0."""
    parser = argparse.ArgumentParser(prog="python -m tests.lab.weeks", description=__doc__.splitlines()[0])
    parser.add_argument("place", type=Path, metavar="DIR", help="the folder of the new store")
    parser.add_argument("--short", action="store_true", help="few sessions with short rests: for a quick look")
    args = parser.parse_args(words)
    meetings, pace = (SHORT, QUICK) if args.short else (MEETINGS, Pace())
    now = datetime.now().astimezone()
    make_weeks(args.place, now, meetings=meetings, pace=pace, tell=lambda said: print(said, file=sys.stderr))
    print(f"weightshare patient show {CODE} --store {args.place}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
