"""A patient's sessions, figures and evidence as words and cells of a table. No Qt."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, datetime

from weightshare.metrology.decision import Verdict
from weightshare.practice.asked import DID
from weightshare.practice.message import retell
from weightshare.programme.criterion import ABOUT
from weightshare.programme.judgement import say_probability
from weightshare.records.diary import About
from weightshare.records.evidence import Evidence, Line
from weightshare.records.manifest import Ending
from weightshare.records.store.patient import Patient
from weightshare.records.store.ruling import Ruling
from weightshare.records.store.settled import Readings
from weightshare.records.store.visit import Visit
from weightshare.report.digit import plus_minus
from weightshare.report.evidence import evidence_section
from weightshare.report.history import Chapter, History
from weightshare.report.stage import asked, measured
from weightshare.tongue import chosen, mark, number, plural, say
from weightshare.window.byhand import say_by_hand

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
    mark("Remarks"),
)
EVIDENCE_HEADS = (
    mark("Criterion, and what is missing"),
    mark("Asked"),
    mark("Newest session (\u00b1: k = 2)"),
    mark("In this set"),
    mark("Of this patient"),
    mark("Sessions"),
)
SHAPES = {Verdict.MET: "\u25cf", Verdict.NOT_MET: "\u2715", Verdict.UNDECIDED: "\u25cb"}
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
    yield retell(stage) or say("no stage of a programme yet")


def session_cells(visit: Visit, chapter: Chapter | None, now: datetime) -> tuple[str, ...]:
    """Return one session's row; `chapter`: what its own files tell beside it, None: not read yet."""
    share, held = visit.share_percent, visit.total_held_s
    if chapter is not None and chapter.share_percent is not None:
        share = chapter.share_percent
    return (
        visit.started_at[:16].replace("T", " "),
        say(DID[visit.exercise]) if chapter is None else retell(chapter.name),
        _percent(visit.target_percent, "g"),
        _percent(share, ".1f"),
        "" if held is None else say("{seconds} s", seconds=round(held)),
        str(visit.repetitions) if visit.repetitions else "",
        _pain(chapter, About.PAIN_DURING, About.PAIN_AFTER),
        _pain(chapter, About.PAIN_NEXT_MORNING),
        _crossed(chapter),
        DOT.join(_to_be_known(visit, chapter, now)),
    )


def readings_cells(readings: Readings) -> tuple[str, ...]:
    """Return one session of settled readings as a row of the same table."""
    share = _percent(readings.share_percent, ".0f")
    told = plural("{n} reading", "{n} readings", readings.count)
    began = readings.began[:16].replace("T", " ")
    return began, say("settled readings"), "", share, "", "", "", "", "", told


def say_readings(readings: Readings) -> str:
    """Return what came of settled readings, in a few words."""
    told = plural("{n} reading", "{n} readings", readings.count)
    share = readings.share_percent
    return told if share is None else say("{told}, share {share} % in the newest two", told=told, share=round(share))


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
            yield from map(say_by_hand, chapter.head.prescription.changed)
        if chapter.expired:
            yield say("the calibration was out of date")
        if chapter.head.uneven:
            yield say("the two plates did not read alike")
        yield from chapter.diary.notes


def evidence_rows(evidence: Evidence) -> list[tuple[str, ...]]:
    """Return a row for each criterion: as a report tells it, verdicts with a shape; below its name what is missing."""
    return [_evidence_cells(line) for line in evidence.lines]


def _evidence_cells(line: Line) -> tuple[str, ...]:
    row, about, patient = line.row, ABOUT[line.row.criterion.measure], line.patient
    missing = (f"{UNKNOWN} {retell(words)}" for words in line.missing)
    if row.verdict is None:
        return "\n".join((say(about.words), *missing)), "", "", "", "", ""
    where = f" ({retell(row.of)})" if row.of else ""
    here = UNKNOWN if row.value is None else _shaped(row.verdict, row.probability if row.u else None)
    over = UNKNOWN if patient is None else _shaped(patient.decision.verdict, patient.decision.probability)
    name = "\n".join((f"{say(about.words)}{where}", *missing))
    return name, retell(asked(row, about.unit)), _in_figures(measured(row)), here, over, str(len(line.sessions))


def _in_figures(said: str) -> str:
    """Return figures as the language writes them."""
    return said.replace(".", chosen().decimal)


def _shaped(verdict: Verdict, probability: float | None) -> str:
    """Return a verdict as a shape and a word, with its probability."""
    sure = "" if probability is None else f" ({retell(say_probability(probability))})"
    return f"{SHAPES[verdict]} {say(verdict)}{sure}"


def say_line(line: Line) -> str:
    """Return all that there is to be known of one criterion: where it comes from, and what the days say."""
    name = say(ABOUT[line.row.criterion.measure].words)
    said = [f"{name[:1].upper()}{name[1:]}.", say("Source: {source}.", source=line.source)]
    if line.row.criterion.words:
        said.append(line.row.criterion.words)
    if line.patient is not None:
        made, days = line.patient.decision.estimate, line.patient.days
        told = say(
            "Over {days} days, {first} to {last}: {value} (k = 2).",
            days=days.days,
            first=days.first,
            last=days.last,
            value=_in_figures(plus_minus(made.value, 2.0 * made.u)),
        )
        said.append(told)
        if days.trends:
            rises = days.trend.per_month.value > 0.0
            said.append(say("It rises from day to day.") if rises else say("It falls from day to day."))
    return " ".join(said)


def say_evidence(evidence: Evidence, patient: Patient | None) -> str:
    """Return of which stage it is, what would be next, and on how many days all was met; of which side, where both are
    injured or none was told."""
    paragraphs = map(retell, evidence_section(evidence).paragraphs)
    side = "" if patient is None or patient.injured is not None else _say_followed(evidence)
    return "\n".join(filter(None, (*paragraphs, side, " ".join(map(retell, evidence.remarks)))))


def _say_followed(evidence: Evidence) -> str:
    if evidence.followed is None:
        return say("Shares are of the side that a session follows: it is chosen below, before practice.")
    return say(
        "Shares are of the {side} side: the newest session followed it. Those of the other side are left out.",
        side=evidence.followed,
    )


def say_ruling(ruling: Ruling) -> tuple[str, ...]:
    """Return a decision's cells: when, by whom, what, why."""
    stages = f"{ruling.stage_from} \u2192 {ruling.stage_to}" if ruling.stage_to else ""
    return ruling.at[:16].replace("T", " "), ruling.signer, ruling.what, stages, ruling.note


def chapters_of(history: History | None) -> Mapping[str, Chapter]:
    """Return what is known of each session, by the store's own name of it."""
    return {} if history is None else {one.ident: one for one in history.chapters}
