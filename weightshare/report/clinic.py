"""What a session's report says to a clinician: what was asked and done, what it is worth, and what it cannot tell."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from weightshare import __version__
from weightshare.exercise import CeilingEvent
from weightshare.metrology.build import say_assumed
from weightshare.metrology.decision import Decision
from weightshare.model import STANDARD_GRAVITY
from weightshare.practice.finding import say_asked
from weightshare.practice.words import CAUTIONS, band_words
from weightshare.records.answer import Answer, limit_of
from weightshare.records.manifest import Ending
from weightshare.records.support import HeldLoad
from weightshare.records.symmetry import indices_of
from weightshare.report.account import UNDATED, Account, day_of
from weightshare.report.digit import UNKNOWN, fixed, plus_minus, rounded_up
from weightshare.report.document import Document, Picture, Section, Table
from weightshare.report.sheet import (
    hold_section,
    repetition_section,
    said,
    set_section,
    symmetry_section,
    with_doubt,
)
from weightshare.report.stage import criteria_section, diary_section
from weightshare.report.strip import course_picture
from weightshare.report.trend import trend_section
from weightshare.report.word import name_of
from weightshare.state import Alignment

TITLE = "Session report"
_ENDINGS = {
    None: "not finished",
    Ending.RECOVERED: "cut short",
    Ending.CUT_SHORT: "recording stopped before the session",
}
_MOST_PERCENT = 50.0
_NO_WARNING = "holds are not listed: "
"""That a report of repetitions has no holds is seen."""
METHOD = (
    "Share: load on the injured side as a part of the load on both plates, after a second-order Butterworth low-pass"
    " ({filter}), computed from the raw record with the calibration of that day. A hold is time in the band, with no"
    " more than {grace} s outside at a stretch. Phases of a repetition are told apart at 10 and 90 % of the heel's"
    " height where that is measured; shares of a phase are shares of the impulse.",
    "Uncertainty is that of the instrument after the GUM (JCGM 100:2008), with k = 2. Verdicts are after JCGM 106:2012:"
    " met or not met from a conformance probability of 95 % on, else undecided. Reached in a set is one question, true"
    " of this patient another: that takes several days.",
)


def make_clinic(account: Account, evidence: Sequence[Section] = ()) -> Document:
    """Return the report of a session for a clinician; evidence: what was weighed for the next stage."""
    day = day_of(account.head.started_at) or UNDATED
    who = "" if account.person is None else f" of {account.person.code}"
    sections = [section for section in _sections(account, evidence) if section is not None]
    foot = f"No certified medical device. Session{who}, {day}"
    return Document(TITLE, tuple(_facts(account)), tuple(sections), foot, f"Session{who}, {day}")


def _sections(account: Account, evidence: Sequence[Section]) -> Iterator[Section | None]:
    appraisal, settings = account.appraisal, account.replayed.session.settings
    analysis = appraisal.analysis
    yield _be_careful(account)
    yield _asked(appraisal.answers)
    yield _course(account)
    yield _ceiling(analysis.ceiling)
    yield hold_section(appraisal)
    yield set_section(analysis)
    yield repetition_section(appraisal)
    if not settings.is_supported:
        indices = indices_of(appraisal, account.replayed.trace, both_injured=account.both_injured)
        yield symmetry_section(indices, steered=analysis.symmetry.steered)
    yield trend_section(account.sittings, settings.injured, to_exhaustion=account.head.goal.to_exhaustion)
    # the evidence has the criteria too, and the days beside the newest session
    yield from evidence or (criteria_section(account.assessment),)
    yield diary_section(account.diary)
    yield _decisions(account)
    yield _method(account)


def _facts(account: Account) -> Iterator[tuple[str, str]]:
    person, head, analysis = account.person, account.head, account.appraisal.analysis
    settings = account.replayed.session.settings
    if person is not None:
        yield "Patient", f"{person.code}   {person.name}".strip()
    yield "Began", head.started_at[:19].replace("T", " ") or UNDATED
    yield "Injured side", _side(account)
    yield "Exercise", name_of(settings)
    yield "Asked for", _asked_for(account)
    yield "Body weight", _weight(account)
    if settings.added_weight_N:
        yield "Added weight", f"{fixed(settings.added_weight_N / STANDARD_GRAVITY, 1)} kg"
    if account.appraisal.load is not None:
        yield "Load while held", f"mean {_load(account.appraisal.load)} on the injured side"
    if not settings.is_supported:
        yield "On the plates", f"{said(analysis.on_plates_percent)} % of the weight"
        yield "Share of the injured side", _share(account)
    if head.footwear is not None and head.footwear.words:
        yield "Worn", head.footwear.words
    rate = f"{analysis.samples} samples at {analysis.rate_Hz:.4g} Hz"
    ending = _ENDINGS.get(account.replayed.session.ending, "")
    yield "Recorded", ", ".join(filter(None, (f"{fixed(analysis.duration_s, 1)} s", rate, ending)))
    yield "Program", f"weightshare {__version__}; recorded with {account.head.program or 'an unknown version'}"
    if analysis.alignment is not None:
        yield "Two clocks", _clocks(analysis.alignment)
    yield "Scales", "; ".join(f"{one.device_id}, calibrated {one.made_on}" for one in account.calibrations)


def _clocks(alignment: Alignment) -> str:
    """Return what the clocks of two separate scales do to the share."""
    points = alignment.share_doubt_points
    if points is None:
        return "how well they agree is not known"
    return f"their times leave {fixed(rounded_up(points, 2), 2)} points of share in doubt (u), counted in \u00b1"


def _side(account: Account) -> str:
    side = str(account.replayed.session.settings.injured)
    person = account.person
    both = " (both are injured: this side was followed)" if account.both_injured else ""
    since = "" if person is None or not person.injured_on else f", since {person.injured_on}{_weeks(account)}"
    return f"{side}{both}{since}"


def _weeks(account: Account) -> str:
    """Return how long before the session that was; nothing where a day is not known, or the order is wrong."""
    now, then = day_of(account.head.started_at), day_of(account.person.injured_on if account.person else "")
    if now is None or then is None or now < then:
        return ""
    weeks, days = divmod((now - then).days, 7)
    parts = [f"{count} {name}{'' if count == 1 else 's'}" for count, name in ((weeks, "week"), (days, "day")) if count]
    return f" ({' and '.join(parts) or 'the same day'}{' before' if parts else ''})"


def _asked_for(account: Account) -> str:
    settings, goal = account.replayed.session.settings, account.head.goal
    unit = "" if settings.is_supported else " % on the injured side"
    band = band_words(settings)
    aim = f"{band}{unit}" if band else "no target"
    if settings.is_repeated:
        count = "to exhaustion" if goal.to_exhaustion else f"{goal.repetitions} repetitions each"
        tempo = "" if settings.tempo is None else f", tempo {settings.tempo} s"
        sets = f"{goal.sets} set{'' if goal.sets == 1 else 's'}"
        return f"{aim}; {sets}, {count}{tempo}, on the {settings.surface}"
    return f"{aim}; {goal.holds} holds of {goal.hold_s:g} s" if settings.has_band else aim


def _weight(account: Account) -> str:
    analysis, doubt = account.appraisal.analysis, account.appraisal.doubt
    weight_N = analysis.body_weight_N
    if weight_N is None:
        return "not known"
    half_N = math.nan if doubt is None or doubt.body_weight_N is None else doubt.body_weight_N
    given = ", as given" if account.replayed.session.settings.body_weight_N is not None else ""
    return f"{plus_minus(weight_N / STANDARD_GRAVITY, half_N / STANDARD_GRAVITY)} kg{given}"


def _load(load: HeldLoad) -> str:
    return f"{plus_minus(load.kg, math.nan if load.u_kg is None else 2.0 * load.u_kg)} kg"


def _share(account: Account) -> str:
    share, doubt = account.appraisal.analysis.share_percent, account.appraisal.doubt
    half = None if doubt is None else doubt.share.expanded_points
    spread = f"least {said(share.min)}, greatest {said(share.max)}, over all standing"
    steered = "; steered to a target" if account.appraisal.analysis.symmetry.steered else ""
    return f"mean {with_doubt(share.mean, half)} %; {spread}{steered}"


def _be_careful(account: Account) -> Section | None:
    appraisal = account.appraisal
    is_told = appraisal.missing and not appraisal.settings.is_supported
    missing = (f"The uncertainty is not known: {appraisal.missing}.",) if is_told else ()
    warnings = (words for words in appraisal.analysis.warnings if not words.startswith(_NO_WARNING))
    told = (f"{words[:1].upper()}{words[1:]}." for words in (*warnings, *account.passed_over))
    points = (*missing, *_means_that_mislead(account), *told)
    return Section("To bear in mind", points=points) if points else None


def _means_that_mislead(account: Account) -> Iterator[str]:
    """Tell of sets whose mean is within the band, while most of their lowerings were not."""
    settings = account.replayed.session.settings
    for one in account.appraisal.analysis.sets:
        limit = limit_of(settings.for_leg(one.working))
        mean, part = one.share_lowering_percent, one.lowering_in_band_percent
        if limit is None or mean is None or part is None or not limit.allows(mean):
            continue
        if part < _MOST_PERCENT:
            yield f"Set {one.number}: the mean of the lowering is in the band, but only {said(part, 0)} % of it was."


def _asked(answers: Sequence[Answer]) -> Section | None:
    if not answers:
        return None
    rows = tuple(_answer(one) for one in answers)
    heads = ("asked of", "what", "measured, %", "in this set", "of this patient")
    why = dict.fromkeys(one.why_not for one in answers if one.of_this_patient is None and one.why_not)
    notes = tuple(f"Of this patient: {words}." for words in why)
    table = Table(heads, rows, (0.12, 0.26, 0.18, 0.2, 0.24), 5)
    return Section("What was asked, and whether it was reached", table=table, notes=notes)


def _answer(one: Answer) -> tuple[str, ...]:
    half = None if one.u_points is None else 2.0 * one.u_points
    first = UNKNOWN if one.in_this_set is None else _verdict(one.in_this_set.decision)
    second = UNKNOWN if one.of_this_patient is None else _verdict(one.of_this_patient.decision)
    over = "" if one.days is None else f", {one.days.sessions} sessions on {one.days.days} days"
    which = "all holds" if one.number is None else f"set {one.number}"
    return which, say_asked(one), with_doubt(one.value_percent, half), first, f"{second}{over}"


def _verdict(decision: Decision) -> str:
    """Return the verdict with its probability, which is never rounded to a certainty."""
    return f"{decision.verdict}, p = {min(max(decision.probability, 0.001), 0.999):.3f}"


def _course(account: Account) -> Section:
    settings = account.replayed.session.settings
    band = " Shaded, with dashed edges: the band that was asked for." if settings.has_band else ""
    done = "repetitions, with their numbers" if settings.is_repeated else "holds"
    what = f"Bars along the top: {done}." if settings.has_band or settings.is_repeated else ""
    picture = Picture(course_picture(account), f"As it was shown live.{band} {what}".strip(), "course")
    return Section("Course", pictures=(picture,))


def _ceiling(events: Sequence[CeilingEvent] | None) -> Section | None:
    if events is None:
        return None
    if not events:
        return Section("The limit of load", ("It was never exceeded.",))
    rows = tuple(
        (
            fixed(one.start_s, 2),
            said(one.duration_s, 2),
            UNKNOWN if one.peak_N is None else fixed(one.peak_N / STANDARD_GRAVITY, 1),
            "the load could not be read" if one.unread else "",
        )
        for one in events
    )
    heads = ("from, s", "for, s", "up to, kg", "")
    return Section("The limit of load was exceeded", table=Table(heads, rows, (0.2, 0.2, 0.2, 0.4), 0))


def _decisions(account: Account) -> Section | None:
    rows = tuple(
        (one.at[:10], one.by, one.what, f"{one.stage_from} \u2192 {one.stage_to}" if one.stage_to else "", one.note)
        for one in account.rulings
    )
    heads = ("day", "by", "decided", "stages", "note")
    return Section("Decisions", table=Table(heads, rows, (0.13, 0.17, 0.2, 0.22, 0.28), 5)) if rows else None


def _method(account: Account) -> Section:
    settings = account.replayed.session.settings
    cut = "none" if settings.filter_Hz is None else f"{settings.filter_Hz:g} Hz"
    first, second = METHOD
    doubt = account.appraisal.doubt
    assumed = () if doubt is None or not doubt.share.assumed else doubt.share.assumed
    rests = (f"Assumed, not measured on this scale: {say_assumed(assumed)}.",) if assumed else ()
    words = first.format(filter=cut, grace=f"{settings.grace_s:g}")
    return Section("Method and cautions", (words, second, *rests), CAUTIONS)
