"""What a report says of the stage that a session was of: its criteria one by one, and what the person said."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from weightshare.programme.criterion import ABOUT
from weightshare.programme.judgement import Row, say_verdict
from weightshare.programme.prescription import Prescription
from weightshare.programme.shelf import NOT_KEPT, sources_of
from weightshare.records.assessment import Assessment
from weightshare.records.diary import About, Diary, Entry
from weightshare.records.evidence import NO_PUBLISHED
from weightshare.report.digit import UNKNOWN, plus_minus
from weightshare.report.document import Section, Table

TITLE = "Criteria of the stage"
NO_PERMISSION = (
    "Of several values the one that is furthest from its criterion stands here. Met does not mean allowed: whether the"
    " next stage begins is for the treating clinician to decide, and the surgeon's protocol goes first."
)
_SAID = {
    About.PAIN_BEFORE: "pain before",
    About.PAIN_DURING: "pain during",
    About.PAIN_AFTER: "pain after",
    About.PAIN_NEXT_MORNING: "pain the next morning",
    About.EFFORT: "effort",
}


def criteria_section(assessment: Assessment | None) -> Section | None:
    """Return the criteria of a session's stage; None where it was of none."""
    if assessment is None:
        return None
    kept = assessment.prescription
    by_hand = (f"Changed by hand: {', '.join(kept.changed)}.",) if kept.changed else ()
    words = f"{say_stage(kept)}."
    if not assessment.rows:
        return Section(TITLE, (words, "This stage has no criteria."), notes=by_hand)
    known = sources_of(kept)
    sources = [known.get(str(row.criterion.measure), NOT_KEPT) for row in assessment.rows]
    numbers = number_sources(sources)
    heads = ("criterion", "asked", "measured", "verdict", "remark", "source")
    rows = tuple((*_row(row), numbers[source]) for row, source in zip(assessment.rows, sources, strict=True))
    table = Table(heads, rows, (0.34, 0.14, 0.13, 0.155, 0.17, 0.065), 5, dense=True)
    none_published = (NO_PUBLISHED,) if kept.leaves_two_legs else ()
    notes = (say_sources(numbers), *by_hand, " ".join((*none_published, NO_PERMISSION)))
    return Section(TITLE, (words,), table=table, notes=notes)


def say_stage(kept: Prescription) -> str:
    """Return which stage of which programme it is."""
    return f"{kept.programme}, version {kept.version}: {kept.stage.name}"


def number_sources(sources: Iterable[str]) -> dict[str, str]:
    """Return a number for each source, in the order in which they come: a row has room for no more."""
    return {words: str(number) for number, words in enumerate(dict.fromkeys(sources), 1)}


def say_sources(numbers: Mapping[str, str]) -> str:
    """Return where the criteria come from, each source by its number."""
    told = (f"({number}) {words.rstrip('.')}" for words, number in numbers.items())
    return f"Sources of the criteria: {'; '.join(told)}."


def _row(row: Row) -> tuple[str, ...]:
    about = ABOUT[row.criterion.measure]
    if row.verdict is None:
        return row.criterion.words, "", "", "", row.note
    where = f" ({row.of})" if row.of else ""
    told = say_verdict(row.verdict, row.probability if row.u else None)
    return f"{about.words}{where}", asked(row, about.unit), measured(row), told, row.note


def asked(row: Row, unit: str) -> str:
    """Return what a criterion asks, as `70 to 80 %`."""
    low, high = row.limits
    words = f"at most {high:g}" if low is None else f"at least {low:g}" if high is None else f"{low:g} to {high:g}"
    return f"{words} {unit}".strip()


def measured(row: Row) -> str:
    """Return what was found for a criterion, with its expanded uncertainty (k = 2)."""
    if row.value is None:
        return UNKNOWN
    if not row.u:
        return f"{row.value:.4g}"
    return plus_minus(row.value, 2.0 * row.u)


def diary_section(diary: Diary) -> Section | None:
    """Return what the person said of the session, in the order in which it was said; None where nothing was.

    What was said at one time stands in one row.
    """
    if not diary.entries:
        return None
    rows = tuple((when.replace("T", " "), _say_together(said)) for when, said in groupby(diary.entries, _minute))
    return Section("What the patient said", table=Table(("", ""), rows, (0.22, 0.78), 2))


def _minute(one: Entry) -> str:
    return one.at[:16]


def _say_together(entries: Iterator[Entry]) -> str:
    figures, notes = [], []
    for one in entries:
        if one.value is None:
            notes.append(one.words)
        else:
            figures.append(f"{_SAID[one.about]} {one.value}")
    return "; ".join(filter(None, (f"{', '.join(figures)} (of 10)" if figures else "", *notes)))
