"""Patients and their sessions as tables that a person reads."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping, Sequence
from datetime import datetime
from types import MappingProxyType

from weightshare.exercise import Exercise
from weightshare.records.answer import asked_share_percent
from weightshare.records.figure import Figure
from weightshare.records.store.patient import Patient
from weightshare.records.store.progress import Progress
from weightshare.records.store.ruling import Ruling
from weightshare.records.store.settled import Readings
from weightshare.records.store.trail import Step
from weightshare.records.store.visit import Visit
from weightshare.task import Settings

UNKNOWN = "-"


def patients_table(patients: Sequence[Patient], counts: Mapping[str, int]) -> str:
    """Return all patients, a line each; counts: their sessions, by the patient's id."""
    if not patients:
        return "no patients yet; weightshare patient add CODE adds one"
    lines = [f"{pad('code', 16)}{'side':8}{'injured':12}{'sessions':>8}  {pad('stage', 20)}name"]
    for one in patients:
        side = UNKNOWN if one.affected is None else str(one.affected)
        told = f"{side:8}{one.injured_on or UNKNOWN:12}{counts.get(one.id, 0):8}"
        lines.append(f"{pad(one.code, 16)}{told}  {pad(one.stage or UNKNOWN, 20)}{one.name}".rstrip())
    return "\n".join(lines)


def patient_table(
    patient: Patient,
    visits: Sequence[Visit],
    rulings: Sequence[Ruling],
    now: datetime,
    most: int | None,
    *,
    figures: Mapping[str, Sequence[Figure]] = MappingProxyType({}),
) -> str:
    """Return what is known of a patient; most: how many of the newest sessions, None for all.

    figures: those of each session, by its id: a share stands beside the target only where it was asked for.
    """
    side = "not told" if patient.affected is None else str(patient.affected)
    rows = [
        ("patient", f"{patient.code}   {patient.name}".strip()),
        ("injured side", f"{side}{f', on {patient.injured_on}' if patient.injured_on else ''}"),
        ("programme, stage", f"{patient.programme or UNKNOWN}, {patient.stage or UNKNOWN}"),
        ("sessions", str(len(visits)) if visits else "none yet; weightshare practise --patient CODE makes one"),
    ]
    lines = [f"{name:20}{words}" for name, words in rows]
    shown = visits if most is None else visits[-most:]
    lines += ["", _HEAD, *(_visit_line(one, _share(one, figures), now) for one in shown)] if visits else []
    left = len(visits) - len(shown)
    lines += [f"... and {left} before; --all shows them"] if left else []
    lines += ["", "decisions", *(ruling_line(one) for one in rulings)] if rulings else []
    return "\n".join(lines)


_HEAD = f"{'began':22}{'exercise':18}{'target':>7}{'share':>8}{'held s':>8}{'reps':>6}"


def _share(one: Visit, figures: Mapping[str, Sequence[Figure]]) -> float | None:
    """Return the mean share while a target stood: in the lowering, or while held; without a target of all standing.

    On one leg there is none to tell.
    """
    exercise = None if one.exercise is Exercise.HOLD else one.exercise
    asked = Settings(one.injured, one.target_percent, exercise=exercise)
    found = asked_share_percent(asked, figures.get(one.id, ()))
    return one.share_percent if one.target_percent is None and not one.exercise.is_single else found


def _visit_line(one: Visit, share: float | None, now: datetime) -> str:
    ending = one.ending if one.ending != "complete" else ""
    future = "in the future" if one.is_future(now) else ""
    marks = filter(None, ("broken off" if one.broken_off else "", ending, future))
    held = UNKNOWN if one.total_held_s is None else f"{one.total_held_s:.0f}"
    figures = f"{_percent(one.target_percent, 0):>7}{_percent(share, 1):>8}{held:>8}{one.repetitions:6}"
    return f"{one.started_at[:19].replace('T', ' '):22}{one.exercise:18}{figures}  {', '.join(marks)}".rstrip()


def _percent(value: float | None, digits: int) -> str:
    return UNKNOWN if value is None else f"{value:.{digits}f} %"


def ruling_line(one: Ruling) -> str:
    """Return a decision in one line."""
    stages = f": {one.stage_from} -> {one.stage_to}" if one.stage_to else ""
    return f"  {one.at[:10]}  {one.signer}: {one.what}{stages}{f' ({one.note})' if one.note else ''}"


def readings_table(readings: Sequence[Readings]) -> str:
    """Return sessions of settled readings, a line each, with a line end after it; nothing where there is none."""
    lines = (
        f"  {one.began[:19].replace('T', ' ')}  {one.count} readings, share {_percent(one.share_percent, 0)}"
        for one in readings
    )
    return "\n".join(["", "settled readings of store-bought scales", *lines, ""]) if readings else ""


def trends_table(trends: Sequence[Progress]) -> str:
    """Return how figures went, three lines each, with a line end after it; nothing where there is none."""
    return "".join(f"\n{_trend_lines(one)}\n" for one in trends)


def _trend_lines(one: Progress) -> str:
    course = one.course
    first, newest = course.days[0], course.days[-1]
    side = "" if one.side is None else f", {one.side}"
    went = f"{first.value:.2f} -> {newest.value:.2f} {one.unit}".rstrip()
    lines = [f"{one.task}: {one.figure}{side}", f"  {went} from {first.day} to {newest.day}, {len(course.days)} days"]
    if course.band is None:
        lines.append(f"  whether that is a change is not known: {course.reason}")
    else:
        low, high = course.band
        is_real = "a real change" if newest.is_change else "no real change"
        unit = f" {one.unit}".rstrip()
        limited = ", limited by what the instrument leaves in doubt" if course.by_instrument else ""
        lines.append(f"  {is_real}: from {low:.2f} to {high:.2f}{unit} it varies without any change{limited}")
    return "\n".join(lines + ([f"  {one.note}"] if one.note else []))


def steps_table(trail: Sequence[Step]) -> str:
    """Return the trail, a line each, with a line end after it; nothing where there is none."""
    lines = (
        f"  {one.at[:19].replace('T', ' ')}  {one.who}: {one.what}{f' {one.detail}' if one.detail else ''}"
        for one in trail
    )
    return "\n".join(["", "trail", *lines, ""]) if trail else ""


def pad(text: str, width: int) -> str:
    """Return `text` filled up to `width` places of a terminal: some scripts' letters take two, some marks none."""
    taken = sum(0 if unicodedata.combining(one) else 1 + (unicodedata.east_asian_width(one) in "WF") for one in text)
    return text + " " * max(1, width - taken)
