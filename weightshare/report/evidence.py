"""What a report says of the evidence for the next stage: each criterion in the newest session and over the days."""

from __future__ import annotations

from collections.abc import Iterator

from weightshare.programme.criterion import ABOUT
from weightshare.programme.judgement import say_verdict
from weightshare.records.evidence import Evidence, Line
from weightshare.report.digit import UNKNOWN
from weightshare.report.document import Section, Table
from weightshare.report.stage import asked, measured

TITLE = "Evidence for the next stage"
NO_PERMISSION = "Met does not mean allowed. Criteria are no score: none makes up for another."


def evidence_section(evidence: Evidence) -> Section:
    """Return what a patient's sessions of one stage bring, criterion by criterion, and what is missing."""
    heads = ("criterion", "asked", "newest session", "in this set", "of this patient", "sessions")
    rows = tuple(_row(line) for line in evidence.lines if line.row.verdict is not None)
    table = Table(heads, rows, (0.395, 0.125, 0.135, 0.135, 0.13, 0.08), 6)
    return Section(TITLE, (_of_what(evidence), _days(evidence)), table=table, notes=tuple(_notes(evidence)))


def _of_what(evidence: Evidence) -> str:
    kept = evidence.prescription
    words = f"{kept.programme}, version {kept.version}, stage {kept.stage.key}: {kept.stage.name}"
    if kept.following is None:
        return f"{words}. It is the programme's last."
    shut = kept.following.shut
    locked = f", locked ({', '.join(shut)}) until the clinician frees it" if shut else ""
    return f"{words}. The next in the programme is {kept.following.name}{locked}."


def _days(evidence: Evidence) -> str:
    met, count = evidence.days_met, len(evidence.sessions)
    on = f" ({', '.join(met)})" if met else ""
    sessions = f"{count} session{'' if count == 1 else 's'} of this stage"
    asked_days = evidence.prescription.stage.days
    return f"{sessions}. Days on which all criteria were met in the set: {len(met)} of {asked_days} asked for{on}."


def _row(line: Line) -> tuple[str, ...]:
    row, about = line.row, ABOUT[line.row.criterion.measure]
    assert row.verdict is not None, "what is the clinician's to judge has no row"
    where = f" ({row.of})" if row.of else ""
    here = UNKNOWN if row.value is None else say_verdict(row.verdict, row.probability if row.u else None)
    patient = line.patient
    over = UNKNOWN if patient is None else say_verdict(patient.decision.verdict, patient.decision.probability)
    return f"{about.words}{where}", asked(row, about.unit), measured(row), here, over, str(len(line.sessions))


def _notes(evidence: Evidence) -> Iterator[str]:
    for line in evidence.lines:
        words = ABOUT[line.row.criterion.measure].words
        about = f"{words[:1].upper()}{words[1:]}"
        if line.row.verdict is None:
            yield f"{about}: {line.row.criterion.words.rstrip('.')}."
        elif line.missing:
            yield f"{about}: missing {'; '.join(line.missing)}."
    yield from (f"Left out: {words}." for words in evidence.left_out)
    yield " ".join((*evidence.remarks, NO_PERMISSION))
