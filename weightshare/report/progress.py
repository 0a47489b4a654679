"""What a patient's sessions say to a clinician, over the weeks: what was done, what it came to, what is in doubt."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from weightshare.model import STANDARD_GRAVITY
from weightshare.pipeline.result import NO_HOLDS
from weightshare.practice.words import source_words
from weightshare.records.diary import About
from weightshare.records.manifest import Ending
from weightshare.report.account import Account
from weightshare.report.clinic import asked_section, course_section, spoils_of
from weightshare.report.closing import decision_section, method_section
from weightshare.report.digit import UNKNOWN, fixed
from weightshare.report.document import Document, Picture, Section, Table
from weightshare.report.drawing import NARROW
from weightshare.report.fact import say_asked_for, say_since, say_state, say_weight
from weightshare.report.history import Chapter, History, longest_pause
from weightshare.report.overview import EXERTION, MORNING, overview_picture
from weightshare.report.sheet import hold_section, set_section
from weightshare.report.trend import trend_section
from weightshare.report.word import count_of, name_of

TITLE = "Progress report"
MOST_PAGES = 3
MOST_STRIPS = 2
"""Of the newest session; of more sets the first and the last one."""
_MOST_WARNINGS, _MOST_LISTED, _MOST_NOTES, _MOST_DECISIONS = 6, 8, 5, 12
ELSEWHERE = "What was practised without these scales is not known here."
_SAID = {
    About.PAIN_DURING: "in practice",
    About.PAIN_AFTER: "after it",
    About.PAIN_NEXT_MORNING: "the next morning",
}


def make_progress(history: History, newest: Account, evidence: Sequence[Section] = ()) -> Document:
    """Return the report over all sessions of `history`, of which `newest` is the last one; evidence: what was weighed
    for the next stage."""
    first, last = history.days[0], history.days[-1]
    sections = tuple(section for section in _sections(history, newest, evidence) if section is not None)
    about = f"of {history.person.code}, {first} to {last}"
    foot = f"No certified medical device. Progress {about}"
    return Document(TITLE, tuple(_facts(history, newest)), sections, foot, f"Progress {about}", pages=MOST_PAGES)


def _sections(history: History, newest: Account, evidence: Sequence[Section]) -> Iterator[Section | None]:
    yield _be_careful(history)
    yield _overview(history)
    yield _stages(history)
    yield from evidence
    yield decision_section(history.rulings, history.stage_names, _MOST_DECISIONS)
    yield _practice(history)
    settings = newest.replayed.session.settings
    yield trend_section(newest.sittings, settings.injured, to_exhaustion=newest.head.goal.to_exhaustion)
    yield from _newest(newest)
    if not evidence:
        yield asked_section(newest.appraisal.answers)
    yield method_section(newest, tuple(_scales(history)))


def _facts(history: History, newest: Account) -> Iterator[tuple[str, str]]:
    person, days, last = history.person, history.days, newest.head
    # a session that was broken off may have come after it
    told = next((one for one in history.chapters if one.started_at == last.started_at), history.chapters[-1])
    yield "Patient", f"{person.code}   {person.name}".strip()
    injured = "both" if person.both_injured else str(last.settings.injured)
    yield "Injured side", f"{injured}{say_since(person, days[-1])}"
    if history.programme:
        yield "Programme", _say_programme(history)
    sessions = count_of(len(history.chapters), "session")
    newest_at = told.started_at[:16].replace("T", " ") if told.day != days[-1] else told.started_at[11:16]
    yield (
        "Practised",
        f"{days[0]} to {days[-1]}: {sessions} on {count_of(len(days), 'day')}; the newest at {newest_at}: {told.name}",
    )
    yield "Body weight", say_weight(newest)


def _say_programme(history: History) -> str:
    """Return the programme and the stage that the patient is at, by their names where a session or a decision has them;
    where the programme's file lies on this computer is nobody's business."""
    kept = history.chapters[-1].head.prescription
    name = Path(history.programme).stem if kept is None else kept.programme
    stage = history.stage_names.get(history.stage, history.stage)
    return f"{name}, at the stage {stage}" if stage else name


def _be_careful(history: History) -> Section | None:
    points = (*_passed(history), *_doubts(history), *(f"Left out, {words}." for words in history.left_out))
    return Section("To bear in mind", points=points) if points else None


def _passed(history: History) -> Iterator[str]:
    """Yield that the limit of load was passed: in how many sessions, up to what, and when last."""
    passed = [one for one in history.chapters if one.crossings]
    if not passed:
        return
    peaks = [event.peak_N for one in passed for event in one.crossings or () if event.peak_N is not None]
    up_to = f", up to {fixed(max(peaks) / STANDARD_GRAVITY, 1)} kg" if peaks else ""
    sessions = count_of(len(passed), "session")
    yield f"The limit of load was passed in {sessions}{up_to}; most recently on {passed[-1].day}."


def _doubts(history: History) -> Iterator[str]:
    """Yield what spoils sessions, each with how many it spoils."""
    told: Counter[str] = Counter()
    for one in history.chapters:
        told.update(list(dict.fromkeys(_doubts_of(one))))
    of = len(history.chapters)
    for words, count in told.most_common(_MOST_WARNINGS):
        yield f"{words[:1].upper()}{words[1:]} ({'all' if count == of else f'{count} of {of}'} sessions)."
    if len(told) > _MOST_WARNINGS:
        yield f"{count_of(len(told) - _MOST_WARNINGS, 'more warning')} stand in the reports of the sessions themselves."


def _doubts_of(one: Chapter) -> Iterator[str]:
    yield from filter(None, map(source_words, one.head.sources))
    if one.ending != Ending.COMPLETE:
        yield "cut short"
    if one.expired:
        yield "the calibration was out of date"
    if one.head.uneven:
        yield "the two plates did not read alike"
    yield from (words for words in one.digest.warnings if words != NO_HOLDS)


def _overview(history: History) -> Section:
    words = (
        "Shaded, with dashed edges: the band that was asked for. Bars along the top: stages, by their numbers below."
        " Where a share was asked for, a session is told by its mean on the way down, or while it was held."
    )
    picture = Picture(overview_picture(history), words, "weeks", narrow=overview_picture(history, NARROW))
    return Section("Over the weeks", pictures=(picture,))


def _stages(history: History) -> Section:
    heads = ("no", "what", "from", "to", "sessions", "asked, %", "came to, %", "in full", "most pain", "over limit")
    rows = tuple(_stage(number, stretch) for number, stretch in enumerate(history.stretches, 1))
    table = Table(heads, rows, (0.035, 0.22, 0.11, 0.11, 0.1, 0.085, 0.12, 0.08, 0.07, 0.07), 4)
    notes = (
        "Share of the load on the injured side: asked for, and in the first session and the newest. In full: sessions"
        " in which all that was asked for was done. Over limit: those in which the limit of load was passed.",
    )
    return Section("Stage by stage", table=table, notes=notes)


def _stage(number: int, stretch: Sequence[Chapter]) -> tuple[str, ...]:
    newest = stretch[-1]
    band = newest.head.settings.band_percent if newest.share_percent is not None else None
    shares = [one.share_percent for one in stretch if one.share_percent is not None]
    done = [one.is_done for one in stretch if one.is_done is not None]
    pains = [pain for one in stretch if (pain := one.pain(*EXERTION, *MORNING)) is not None]
    limited = [one.crossings for one in stretch if one.crossings is not None]
    return (
        str(number),
        newest.name,
        stretch[0].day.isoformat(),
        newest.day.isoformat(),
        str(len(stretch)),
        UNKNOWN if band is None else f"{band[0]:g}\u2013{band[1]:g}",
        " \u2192 ".join(fixed(share, 1) for share in ([shares[0], shares[-1]] if len(shares) > 1 else shares))
        or UNKNOWN,
        f"{sum(done)} of {len(done)}" if done else UNKNOWN,
        str(max(pains)) if pains else UNKNOWN,
        f"{sum(map(bool, limited))} of {len(limited)}" if limited else UNKNOWN,
    )


def _practice(history: History) -> Section:
    """Return how much was practised, the pain that was told of, and when the limit of load was passed."""
    words, table, notes = _limit(history)
    said = [f"{one.day}: {words}" for one in history.chapters for words in one.diary.notes]
    if len(said) > _MOST_NOTES:
        left = count_of(len(said) - _MOST_NOTES, "earlier note")
        said = [f"{left} in the reports of the sessions themselves", *said[-_MOST_NOTES:]]
    paragraphs = (_say_practice(history), _say_pain(history), words, *(("The patient's notes:",) if said else ()))
    return Section("Practice, pain, the limit of load", paragraphs, tuple(said), table, notes=notes)


def _say_practice(history: History) -> str:
    days = history.days
    words = [f"Practised on {len(days)} of {count_of(history.span_days, 'day')}."]
    pause = longest_pause(days)
    if pause is not None and (pause[1] - pause[0]).days > 1:
        words.append(f"The longest pause was {count_of((pause[1] - pause[0]).days - 1, 'day')}, {_between(*pause)}.")
    done = [one.is_done for one in history.chapters if one.is_done is not None]
    if done:
        words.append(f"All that was asked for was done in {sum(done)} of {count_of(len(done), 'session')}.")
    return " ".join([*words, ELSEWHERE])


def _between(before: date, after: date) -> str:
    return f"between {before} and {after}"


def _say_pain(history: History) -> str:
    told = [one for one in history.chapters if one.pain(*EXERTION, *MORNING) is not None]
    if not told:
        return "Whether there was pain was never reported."
    words = [f"Pain was reported in {len(told)} of {count_of(len(history.chapters), 'session')}. {_most(told)}"]
    mornings = sum(one.pain(*MORNING) is None for one in history.chapters)
    if mornings:
        words.append(f"The next morning was not reported after {count_of(mornings, 'session')}.")
    over = [one for one in told if one.pain_limit is not None and (one.pain(*EXERTION, *MORNING) or 0) > one.pain_limit]
    if over:
        listed = "; ".join(f"{one.day} {_say_over(one)}" for one in over[-_MOST_LISTED:])
        newest = f"; the newest {_MOST_LISTED}" if len(over) > _MOST_LISTED else ""
        words.append(f"Over the stage's limit in {count_of(len(over), 'session')}{newest}: {listed}.")
    return " ".join(words)


def _most(told: Sequence[Chapter]) -> str:
    most = {about: [pain for one in told if (pain := one.pain(about)) is not None] for about in _SAID}
    said = [f"{max(pains)} {_SAID[about]}" for about, pains in most.items() if pains]
    return f"The most was {', '.join(said)}, of 10."


def _say_over(one: Chapter) -> str:
    """Return the pain of a session that is over its stage's limit, with that limit."""
    told = [
        f"{pain} {words}" for about, words in _SAID.items() if (pain := one.pain(about) or 0) > (one.pain_limit or 0)
    ]
    return f"{', '.join(told)} (limit {one.pain_limit})"


def _limit(history: History) -> tuple[str, Table | None, tuple[str, ...]]:
    """Return in words how often the limit of load was passed, a row for each session in which it was, and notes."""
    limited = [one for one in history.chapters if one.crossings is not None]
    if not limited:
        return "No limit of load was set.", None, ()
    passed = [one for one in limited if one.crossings]
    unread = sum(event.unread for one in limited for event in one.digest.ceiling or ())
    words = [f"A limit of load was set in {count_of(len(limited), 'session')}, passed in {len(passed) or 'none'}."]
    if unread:
        words.append(f"The load could not be read {count_of(unread, 'time')} under it.")
    heads = ("day", "what", "times", "longest, s", "most, kg")
    rows = tuple(_crossing(one) for one in passed[-_MOST_LISTED:])
    table = Table(heads, rows, (0.14, 0.44, 0.12, 0.15, 0.15), 2) if rows else None
    more = len(passed) - len(rows)
    notes = (f"{count_of(more, 'earlier session')} with crossings are not listed.",) if more else ()
    return " ".join(words), table, notes


def _crossing(one: Chapter) -> tuple[str, ...]:
    events = one.crossings or ()
    peaks = [event.peak_N / STANDARD_GRAVITY for event in events if event.peak_N is not None]
    longest = [event.duration_s for event in events if event.duration_s is not None]
    return (
        one.day.isoformat(),
        one.name,
        str(len(events)),
        fixed(max(longest), 1) if longest else UNKNOWN,
        fixed(max(peaks), 1) if peaks else UNKNOWN,
    )


def _newest(account: Account) -> Iterator[Section | None]:
    done = name_of(account.replayed.session.settings)
    words = f"{done[:1].upper()}{done[1:]}; asked for: {say_asked_for(account)}."
    yield replace(
        course_section(account, MOST_STRIPS, ends=True),
        heading=f"The newest session, {account.head.started_at[:10]}",
        paragraphs=(words,),
        notes=tuple(spoils_of(account)),
    )
    yield hold_section(account.appraisal)
    yield set_section(account.appraisal.analysis)


def _scales(history: History) -> Iterator[str]:
    """Yield each calibration that was used: how often, and whether it still held when it was used last."""
    used = [(each, one.day) for one in history.chapters for each in one.calibrations]
    counts = Counter((each.device_id, each.made_on) for each, _day in used)
    newest = {(each.device_id, each.made_on): (each, day) for each, day in used}
    for (device, made_on), (each, day) in newest.items():
        sessions = count_of(counts[device, made_on], "session")
        yield f"Scale {device}, calibrated on {made_on}: {sessions}; on {day}: {say_state(each, day)}."
