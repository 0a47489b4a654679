"""What a report says of the evidence for the next stage: each criterion in the newest session and over the days."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from weightshare.programme.criterion import ABOUT
from weightshare.programme.judgement import say_verdict
from weightshare.records.evidence import Evidence, Line, OfPatient
from weightshare.report.digit import UNKNOWN, plus_minus
from weightshare.report.document import Section, Table
from weightshare.report.stage import asked, measured, number_sources, say_sources, say_stage

TITLE = "Evidence for the next stage"
NO_PERMISSION = "Met does not mean allowed. Criteria are no score: none makes up for another."


def evidence_section(evidence: Evidence) -> Section:
    """Return what a patient's sessions of one stage bring, criterion by criterion, where each criterion comes from, and
    what is missing."""
    numbers = number_sources(line.source for line in evidence.lines)
    heads = ("criterion", "asked", "measured", "in this set", "over the days", "of this patient", "n", "source")
    rows = tuple((*_row(line), numbers[line.source]) for line in evidence.lines if line.row.verdict is not None)
    table = Table(heads, rows, (0.265, 0.125, 0.12, 0.14, 0.12, 0.145, 0.02, 0.065), 6, dense=True)
    sources = f"{say_sources(numbers)} Measured: in the newest session. \u00b1: k = 2. n: sessions that a row rests on."
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
    true = UNKNOWN if patient is None else say_verdict(patient.decision.verdict, patient.decision.probability)
    count = str(len(line.sessions))
    return f"{about.words}{where}", asked(row, about.unit), measured(row), here, _over_days(patient), true, count


def _over_days(patient: OfPatient | None) -> str:
    """Return what the patient's days came to, with the expanded uncertainty (k = 2)."""
    if patient is None:
        return UNKNOWN
    made = patient.decision.estimate
    return plus_minus(made.value, 2.0 * made.u)


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
    yield from _trends(decided)
    yield from (f"Left out: {words}." for words in evidence.left_out)


def _trends(lines: Sequence[Line]) -> Iterator[str]:
    """Yield which measures go one way over the days, beyond doubt: a mean tells little of them."""
    going: dict[str, list[str]] = {}
    for line in lines:
        if line.patient is not None and line.patient.days.trends:
            way = "Rises" if line.patient.days.trend.per_month.value > 0.0 else "Falls"
            going.setdefault(way, []).append(ABOUT[line.row.criterion.measure].words)
    yield from (f"{way} from day to day: {', '.join(names)}." for way, names in going.items())


def _upper(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _remarks(evidence: Evidence) -> str:
    return " ".join((*evidence.remarks, NO_PERMISSION))
