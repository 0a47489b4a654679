"""What a session's report says to a clinician: what was asked and done, what it is worth, and what it cannot tell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from weightshare.pipeline.result import NO_HOLDS
from weightshare.practice.finding import say_asked
from weightshare.practice.words import source_words
from weightshare.programme.criterion import Measure
from weightshare.programme.judgement import say_verdict
from weightshare.records.answer import Answer, limit_of
from weightshare.records.symmetry import indices_of
from weightshare.report.account import UNDATED, Account, day_of
from weightshare.report.closing import correction_section, decision_section, method_section, names_of_stages
from weightshare.report.digit import UNKNOWN
from weightshare.report.document import Document, Picture, Section, Table
from weightshare.report.drawing import NARROW, WIDE
from weightshare.report.fact import facts_of
from weightshare.report.limit import limit_section, passed_limit
from weightshare.report.repetition import MOSTLY_PERCENT, repetition_section
from weightshare.report.sheet import (
    hold_section,
    said,
    set_section,
    symmetry_section,
    with_doubt,
)
from weightshare.report.stage import criteria_section, diary_section
from weightshare.report.strip import MOST_STRIPS, course_drawings
from weightshare.report.trend import trend_section

TITLE = "Session report"
_ASKED = (Measure.SHARE_HELD, Measure.LOAD_HELD, Measure.SHARE_LOWERING)
MOST_DECISIONS = 4
"""All of them stand in the report over the weeks."""


def make_clinic(account: Account, evidence: Sequence[Section] = ()) -> Document:
    """Return the report of a session for a clinician; evidence: what was weighed for the next stage."""
    day = day_of(account.head.started_at) or UNDATED
    who = "" if account.person is None else f" of {account.person.code}"
    sections = [section for section in _sections(account, evidence) if section is not None]
    foot = f"No certified medical device. Session{who}, {day}"
    return Document(TITLE, tuple(facts_of(account)), tuple(sections), foot, f"Session{who}, {day}", pages=3)


def _sections(account: Account, evidence: Sequence[Section]) -> Iterator[Section | None]:
    appraisal, settings = account.appraisal, account.replayed.session.settings
    yield caution_section(account)
    if not (evidence and _is_among_criteria(account)):
        yield asked_section(appraisal.answers, account.later_sittings)
    yield course_section(account)
    yield limit_section(account)
    yield diary_section(account.diary)
    yield hold_section(appraisal)
    yield set_section(appraisal.analysis)
    yield repetition_section(appraisal)
    yield correction_section(account.replayed.session.corrections)
    if not settings.is_supported:
        indices = indices_of(appraisal, account.replayed.trace, both_injured=account.both_injured, own=account.strays())
        yield symmetry_section(indices, steered=appraisal.analysis.symmetry.steered)
    exhaustion, later = account.head.goal.to_exhaustion, account.later_sittings
    yield trend_section(account.sittings, settings.injured, to_exhaustion=exhaustion, later=later)
    # the evidence has the criteria too, and the days beside the newest session
    yield from evidence or (criteria_section(account.assessment),)
    names = {**account.stage_names, **names_of_stages(account.rulings, (account.head.prescription,))}
    yield decision_section(account.rulings, names, MOST_DECISIONS, account.later_rulings)
    yield method_section(account)


def _is_among_criteria(account: Account) -> bool:
    """Return whether what was asked of the share, or of the load, is one of the stage's criteria too."""
    kept = account.head.prescription
    return kept is not None and any(one.measure in _ASKED for one in kept.stage.criteria)


def caution_section(account: Account) -> Section | None:
    """Return what is missing of a session, or in doubt; None where nothing is."""
    appraisal = account.appraisal
    warnings = (words for words in appraisal.analysis.warnings if words != NO_HOLDS)
    told = (f"{words[:1].upper()}{words[1:]}." for words in (*warnings, *account.passed_over))
    origin = tuple(f"{words}." for words in map(source_words, account.head.sources) if words)
    points = (*origin, *passed_limit(account), *spoils_of(account), *told)
    return Section("To bear in mind", points=points) if points else None


def spoils_of(account: Account) -> Iterator[str]:
    """Yield what is to be known with a session's figures: that their uncertainty is not, and which means mislead."""
    appraisal = account.appraisal
    if appraisal.missing and not appraisal.settings.is_supported:
        yield f"The uncertainty is not known: {appraisal.missing}."
    yield from _means_that_mislead(account)


def _means_that_mislead(account: Account) -> Iterator[str]:
    """Tell of sets whose mean is within the band, while most of their lowerings were not."""
    settings = account.replayed.session.settings
    for one in account.appraisal.analysis.sets:
        limit = limit_of(settings.for_leg(one.working))
        mean, part = one.share_lowering_percent, one.lowering_in_band_percent
        if limit is None or mean is None or part is None or not limit.allows(mean):
            continue
        if part < MOSTLY_PERCENT:
            yield f"Set {one.number}: the mean of the lowering is in the band, but only {said(part, 0)} % of it was."


def asked_section(answers: Sequence[Answer], later: int = 0) -> Section | None:
    """Return what was asked of the share and whether it was reached; None where nothing was.

    later: so many later sessions are left out.
    """
    if not answers:
        return None
    rows = tuple(_answer(one) for one in answers)
    heads = ("asked of", "what", "measured, %", "in this set", "of this patient")
    why = dict.fromkeys(one.why_not for one in answers if one.of_this_patient is None and one.why_not)
    until = ", up to the day of this session" if later else ""
    over = dict.fromkeys(
        f"over {one.days.sessions} sessions on {one.days.days} days{until}" for one in answers if one.days
    )
    notes = tuple(f"Of this patient: {words}." for words in (*over, *why))
    table = Table(heads, rows, (0.14, 0.28, 0.18, 0.2, 0.2), 5)
    return Section("What was asked, and whether it was reached", table=table, notes=notes)


def _answer(one: Answer) -> tuple[str, ...]:
    half = None if one.u_points is None else 2.0 * one.u_points
    both = [None if each is None else each.decision for each in (one.in_this_set, one.of_this_patient)]
    first, second = (UNKNOWN if each is None else say_verdict(each.verdict, each.probability) for each in both)
    which = "all holds" if one.number is None else f"set {one.number}"
    return which, say_asked(one), with_doubt(one.value_percent, half), first, second


def course_section(account: Account, most: int = MOST_STRIPS, *, ends: bool = False) -> Section:
    """Return the course of a session in at most so many strips; ends: of more sets the first and the last one."""
    settings = account.replayed.session.settings
    band = " Shaded, with dashed edges: the band that was asked for." if settings.has_band else ""
    done = "repetitions, with their numbers" if settings.is_repeated else "holds"
    what = f"Bars along the top: {done}." if settings.has_band or settings.is_repeated else ""
    wide, narrow = (course_drawings(account, most, ends=ends, width=width) for width in (WIDE, NARROW))
    below = f"As it was shown live, over the time in seconds.{band} {what}".strip()
    pictures = [Picture(one, "", "course", narrow=other) for one, other in zip(wide, narrow, strict=True)]
    return Section("Course", pictures=(*pictures[:-1], replace(pictures[-1], caption=below)))
