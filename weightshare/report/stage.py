"""What a report says of the stage that a session was of: its criteria one by one, and what the person said."""

from __future__ import annotations

from weightshare.programme.criterion import ABOUT
from weightshare.programme.judgement import Row, say_verdict
from weightshare.records.assessment import Assessment
from weightshare.records.diary import About, Diary
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
    About.NOTE: "note",
}


def criteria_section(assessment: Assessment | None) -> Section | None:
    """Return the criteria of a session's stage; None where it was of none."""
    if assessment is None:
        return None
    kept = assessment.prescription
    by_hand = (f"Changed by hand: {', '.join(kept.changed)}.",) if kept.changed else ()
    words = f"{kept.programme}, version {kept.version}, stage {kept.stage.key}: {kept.stage.name}."
    if not assessment.rows:
        return Section(TITLE, (words, "This stage has no criteria."), notes=by_hand)
    heads = ("criterion", "asked", "measured", "verdict", "remark")
    table = Table(heads, tuple(_row(row) for row in assessment.rows), (0.3, 0.14, 0.16, 0.16, 0.24), 5)
    return Section(TITLE, (words,), table=table, notes=(*by_hand, NO_PERMISSION))


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
    """Return what the person said of the session, in the order in which it was said; None where nothing was."""
    if not diary.entries:
        return None
    rows = tuple(
        (one.at[:16].replace("T", " "), _SAID[one.about], one.words or f"{one.value} of 10") for one in diary.entries
    )
    return Section("What the patient said", table=Table(("when", "of what", "said"), rows, (0.22, 0.25, 0.53), 3))
