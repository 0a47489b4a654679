"""A patient's sessions, figures and evidence as words and cells of a table. No Qt."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, datetime

from weightshare.metrology.decision import Verdict
from weightshare.model import STANDARD_GRAVITY
from weightshare.practice.asked import DID
from weightshare.programme.criterion import ABOUT
from weightshare.records.diary import About
from weightshare.records.evidence import Evidence, Line
from weightshare.records.manifest import Ending
from weightshare.records.store.patient import Patient
from weightshare.records.store.progress import Progress
from weightshare.records.store.ruling import Ruling
from weightshare.records.store.visit import Visit
from weightshare.report.evidence import evidence_section
from weightshare.report.history import Chapter, History, longest_pause
from weightshare.tongue import mark, number, plural, say

DOT = "  \u00b7  "
UNKNOWN = "\u2013"
SESSION_HEADS = (
    mark("Began"),
    mark("What"),
    mark("Target"),
    mark("Share"),
    mark("Held"),
    mark("Reps"),
    mark("Pain"),
    mark("Morning"),
    mark("Limit"),
    mark("To be known"),
)
EVIDENCE_HEADS = (
    mark("Criterion"),
    mark("Asked"),
    mark("Newest session"),
    mark("In this set"),
    mark("Of this patient"),
    mark("Sessions"),
    mark("Missing"),
)
SHAPES = {str(Verdict.MET): "\u25cf", str(Verdict.NOT_MET): "\u2715", str(Verdict.UNDECIDED): "\u25cb"}
"""A verdict is a shape and a word, never a colour alone."""


def say_who(patient: Patient) -> str:
    """Return code and name."""
    return f"{patient.code}   {patient.name}".strip()


def say_about(patient: Patient, stage: str, today: date) -> str:
    """Return side, date of the injury and `stage`, in one line."""
    return DOT.join(_about(patient, stage, today))


def _about(patient: Patient, stage: str, today: date) -> Iterator[str]:
    side = patient.affected
    if side is None:
        yield say("no injured side is told")
    elif side.side is None:
        yield say("both sides injured")
    else:
        yield say("{side} side injured", side=side.side)
    if patient.injured_on:
        weeks = (today - date.fromisoformat(patient.injured_on)).days // 7
        ago = plural("{n} week ago", "{n} weeks ago", weeks)
        yield say("since {day}, {ago}", day=patient.injured_on, ago=ago)
    yield stage or say("no stage of a programme yet")


def session_cells(visit: Visit, chapter: Chapter | None, now: datetime) -> tuple[str, ...]:
    """Return one session's row; `chapter`: what its own files tell beside it, None: not read yet."""
    share, held = visit.share_percent, visit.total_held_s
    if chapter is not None and chapter.share_percent is not None:
        share = chapter.share_percent
    return (
        visit.started_at[:16].replace("T", " "),
        say(DID[visit.exercise]) if chapter is None else chapter.name,
        _percent(visit.target_percent, "g"),
        _percent(share, ".1f"),
        "" if held is None else say("{seconds} s", seconds=round(held)),
        str(visit.repetitions) if visit.repetitions else "",
        _pain(chapter, About.PAIN_DURING, About.PAIN_AFTER),
        _pain(chapter, About.PAIN_NEXT_MORNING),
        _crossed(chapter),
        DOT.join(_to_be_known(visit, chapter, now)),
    )


def _percent(value: float | None, digits: str) -> str:
    return "" if value is None else f"{number(value, digits)} %"


def _pain(chapter: Chapter | None, *about: About) -> str:
    if chapter is None:
        return ""
    told = chapter.pain(*about)
    if told is None:
        return UNKNOWN
    over = chapter.pain_limit is not None and told > chapter.pain_limit
    return f"{told} !" if over else str(told)


def _crossed(chapter: Chapter | None) -> str:
    if chapter is None or chapter.crossings is None:
        return ""
    return say("{count} passed", count=len(chapter.crossings)) if chapter.crossings else say("kept")


def _to_be_known(visit: Visit, chapter: Chapter | None, now: datetime) -> Iterator[str]:
    if visit.is_future(now):
        yield say("dated in the future: a clock was wrong")
    if visit.ending != Ending.COMPLETE:
        yield say(visit.ending)
    if chapter is not None:
        if chapter.head.prescription is not None:
            yield from (say("by hand: {what}", what=one) for one in chapter.head.prescription.changed)
        if chapter.expired:
            yield say("the calibration was out of date")
        if chapter.head.uneven:
            yield say("the two plates did not read alike")
        yield from chapter.diary.notes


def evidence_rows(evidence: Evidence) -> list[tuple[str, ...]]:
    """Return a row for each criterion: the cells of a report, verdicts with a shape, and what is missing."""
    table = evidence_section(evidence).table
    assert table is not None, "a stage's evidence is a table, be it empty"
    rows = zip(table.rows, evidence.lines, strict=True)
    return [(*cells[:3], *map(_shaped, cells[3:5]), cells[5], "; ".join(line.missing)) for cells, line in rows]


def _shaped(verdict: str) -> str:
    shape = SHAPES.get(verdict.partition(",")[0])
    return verdict if shape is None else f"{shape} {verdict}"


def say_line(line: Line) -> str:
    """Return all that there is to be known of one criterion: where it comes from, and what the days say."""
    name = ABOUT[line.row.criterion.measure].words
    said = [f"{name[:1].upper()}{name[1:]}.", say("Source: {source}.", source=line.source)]
    if line.row.criterion.words:
        said.append(line.row.criterion.words)
    if line.patient is not None:
        made, days = line.patient.decision.estimate, line.patient.days
        told = say(
            "Over {days} days, {first} to {last}: {value} with a standard uncertainty of {u}.",
            days=days.days,
            first=days.first,
            last=days.last,
            value=number(made.value, ".4g"),
            u=number(made.u, ".2g"),
        )
        said.append(told)
        if days.trends:
            rises = days.trend.per_month.value > 0.0
            said.append(say("It rises from day to day.") if rises else say("It falls from day to day."))
    return " ".join(said)


def say_evidence(evidence: Evidence) -> str:
    """Return of which stage it is, what would be next, and on how many days all was met."""
    return "\n".join((*evidence_section(evidence).paragraphs, " ".join(evidence.remarks)))


def say_ruling(ruling: Ruling) -> tuple[str, ...]:
    """Return a decision's cells: when, by whom, what, why."""
    stages = f"{ruling.stage_from} \u2192 {ruling.stage_to}" if ruling.stage_to else ""
    return ruling.at[:16].replace("T", " "), ruling.by, ruling.what, stages, ruling.note


def say_trend(one: Progress) -> str:
    """Return one figure's course as a line of a list."""
    verdict = _verdict(one)
    side = "" if one.side is None or one.side is one.injured else f", {say(one.side)}"
    return f"{one.task}\n{one.figure}{side}: {verdict}"


def _verdict(one: Progress) -> str:
    if one.course.band is None:
        return say("too few days to tell")
    return say("a real change") if one.course.days[-1].is_change else say("no real change")


def say_course(one: Progress) -> str:
    """Return what a figure's course says, and what it cannot say."""
    course, unit = one.course, f" {one.unit}".rstrip()
    first, newest = course.days[0], course.days[-1]
    values = say(
        "From {first}{unit} on {day} to {newest}{unit} on {newest_day}, {days} days.",
        first=number(first.value, ".1f"),
        newest=number(newest.value, ".1f"),
        unit=unit,
        day=first.day,
        newest_day=newest.day,
        days=len(course.days),
    )
    if course.band is None or course.mdc is None:
        return " ".join((values, say("Whether that is a change is not known: {why}.", why=course.reason), _note(one)))
    told = say(
        "{verdict:C}: by {mdc}{unit} it strays from day to day without any change.",
        verdict=_verdict(one),
        mdc=number(course.mdc, ".1f"),
        unit=" points" if one.unit == "%" else unit,
    )
    return " ".join((values, told, _note(one))).strip()


def _note(one: Progress) -> str:
    return f"{one.note[:1].upper()}{one.note[1:]}." if one.note else ""


def say_adherence(history: History) -> str:
    """Return on how many days something was practised, and the longest pause."""
    days = history.days
    if not days:
        return say("No session of a day that is over yet.")
    said = [say("Practised on {count} of {span} days.", count=len(days), span=history.span_days)]
    pause = longest_pause(days)
    if pause is not None and (pause[1] - pause[0]).days > 1:
        gap = (pause[1] - pause[0]).days - 1
        said.append(plural("The longest pause was {n} day.", "The longest pause was {n} days.", gap))
    return " ".join(said)


def say_pain(history: History) -> str:
    """Return the most pain that was told of, and of how many sessions it was."""
    kinds = About.PAIN_DURING, About.PAIN_AFTER, About.PAIN_NEXT_MORNING
    pains = [pain for one in history.chapters if (pain := one.pain(*kinds)) is not None]
    if not pains:
        return say("Nothing was told of pain.")
    told = say(
        "Pain was told of in {told} of {count} sessions, {most} of 10 at most.",
        told=len(pains),
        count=len(history.chapters),
        most=max(pains),
    )
    over = [one for one in history.chapters if one.pain_limit is not None and (one.pain(*kinds) or 0) > one.pain_limit]
    if not over:
        return told
    days = ", ".join(one.day.isoformat() for one in over)
    return f"{told} {say('Over the limit of the stage on {days}.', days=days)}"


def say_limit(history: History) -> str:
    """Return in how many sessions a limit of load was set, and in how many it was passed."""
    limited = [one for one in history.chapters if one.crossings is not None]
    if not limited:
        return say("No limit of load was set.")
    passed = [one for one in limited if one.crossings]
    said = plural(
        "A limit of load was set in {n} session, and passed in {passed}.",
        "A limit of load was set in {n} sessions, and passed in {passed}.",
        len(limited),
        passed=len(passed) or say("none"),
    )
    peaks = [
        event.peak_N / STANDARD_GRAVITY for one in passed for event in one.crossings or () if event.peak_N is not None
    ]
    return f"{said} {say('At most {kg} kg.', kg=number(max(peaks), '.1f'))}" if peaks else said


def say_scales(history: History, today: date) -> str:
    """Return each scale that was used, with its newest calibration and whether that holds today."""
    newest: dict[str, date] = {}
    until: dict[str, date | None] = {}
    for one in history.chapters:
        for each in one.calibrations:
            if each.made_on >= newest.get(each.device_id, date.min):
                newest[each.device_id], until[each.device_id] = each.made_on, each.valid_until
    return "; ".join(
        say("Scale {scale}: calibrated on {day}, {state}", scale=scale, day=day, state=_state(until[scale], today))
        for scale, day in newest.items()
    )


def _state(until: date | None, today: date) -> str:
    if until is None:
        return say("without a limit of time")
    return say("out of date since {day}", day=until) if until < today else say("valid until {day}", day=until)


def say_stretches(history: History) -> str:
    """Return what the numbers along the top of the picture stand for."""
    return "\n".join(f"{number}  {stretch[0].name}" for number, stretch in enumerate(history.stretches, 1))


def chapters_of(history: History | None) -> Mapping[str, Chapter]:
    """Return what is known of each session, by the store's own name of it."""
    return {} if history is None else {one.ident: one for one in history.chapters}
