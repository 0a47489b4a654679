"""What a report says of the evidence for the next stage: each criterion in the newest session and over the days."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from weightshare.programme.criterion import ABOUT
from weightshare.programme.judgement import say_verdict
from weightshare.records.evidence import Evidence, Line
from weightshare.report.digit import UNKNOWN
from weightshare.report.document import Section, Table
from weightshare.report.stage import asked, measured, number_sources, say_sources, say_stage

TITLE = "Evidence for the next stage"
NO_PERMISSION = "Met does not mean allowed. Criteria are no score: none makes up for another."


def evidence_section(evidence: Evidence) -> Section:
    """Return what a patient's sessions of one stage bring, criterion by criterion, where each criterion comes from, and
    what is missing."""
    numbers = number_sources(line.source for line in evidence.lines)
    heads = ("criterion", "asked", "measured", "in this set", "of this patient", "n", "source")
    rows = tuple((*_row(line), numbers[line.source]) for line in evidence.lines if line.row.verdict is not None)
    table = Table(heads, rows, (0.345, 0.125, 0.12, 0.16, 0.16, 0.025, 0.065), 5, dense=True)
    sources = f"{say_sources(numbers)} Measured: in the newest session. n: sessions that a row rests on."
    notes = (*_notes(evidence, numbers), *((sources,) if numbers else ()), _remarks(evidence))
    return Section(TITLE, (_of_what(evidence), _days(evidence)), table=table, notes=notes)


def _of_what(evidence: Evidence) -> str:
    kept = evidence.prescription
    words = say_stage(kept)
    if kept.following is None:
        return f"{words}. It is the programme's last stage."
    shut = ", which is locked until the clinician frees it" if kept.following.shut else ""
    return f"{words}. The next stage of the programme is {kept.following.name}{shut}."


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


def _notes(evidence: Evidence, numbers: Mapping[str, str]) -> Iterator[str]:
    """Yield what is the clinician's to judge, what is missing of which criteria, and what was left out."""
    missing: dict[str, list[str]] = {}
    decided = [line for line in evidence.lines if line.row.verdict is not None]
    for line in evidence.lines:
        if line.row.verdict is None:
            words = ABOUT[line.row.criterion.measure].words
            yield f"{_upper(words)}: {line.row.criterion.words.rstrip('.')} (source {numbers[line.source]})."
    for line in decided:
        for why in line.missing:
            missing.setdefault(why, []).append(ABOUT[line.row.criterion.measure].words)
    for why, names in missing.items():
        which = "every criterion" if len(names) == len(decided) else ", ".join(names)
        yield f"{_upper(why)} ({which})."
    yield from (f"Left out: {words}." for words in evidence.left_out)


def _upper(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _remarks(evidence: Evidence) -> str:
    return " ".join((*evidence.remarks, NO_PERMISSION))
