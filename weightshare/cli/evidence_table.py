"""The evidence for the next stage as a table that a clinician reads: one row for each criterion."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from weightshare.cli.patient_table import pad, ruling_line
from weightshare.programme.criterion import ABOUT, Measure
from weightshare.programme.judgement import say_here, say_verdict
from weightshare.records.evidence import Evidence, Line, OfPatient
from weightshare.records.store.ruling import Ruling
from weightshare.report.digit import in_plain, plus_minus
from weightshare.report.stage import measured

_WHAT, _VALUE, _ASKED, _VERDICT = 50, 30, 15, 20
_HEAD = (
    ("criterion", _WHAT),
    ("value", _VALUE),
    ("asked", _ASKED),
    ("in this set", _VERDICT),
    ("this patient", _VERDICT),
)


def evidence_table(evidence: Evidence, code: str, rulings: Sequence[Ruling] = ()) -> str:
    """Return the evidence as text: what it is of, each criterion with source and what is missing, days, decisions."""
    kept, count = evidence.prescription, len(evidence.sessions)
    after = "the last stage" if kept.following is None else f"next would be {kept.following.name}"
    if kept.following is not None and kept.following.shut:
        after += f", locked ({', '.join(kept.following.shut)}) until the clinician frees it"
    newest = f", the newest of {_began(evidence.sessions[-1])}" if count else ""
    lines = [
        f"{code}: {kept.programme}, version {kept.version}, stage {kept.stage.key}: {kept.stage.name}; {after}",
        f"{count or 'no'} session{'' if count == 1 else 's'} of this stage{newest}",
        *evidence.remarks,
        "+- stands for the expanded uncertainty, k = 2.",
        "",
        "".join(pad(words, width) for words, width in _HEAD) + "sessions",
    ]
    for line in evidence.lines:
        lines += _line(line)
    lines += [f"left out: {one}" for one in evidence.left_out]
    lines += ["", _days(evidence)]
    lines += ["", "decisions", *(ruling_line(one) for one in rulings)] if rulings else []
    return "\n".join(line.rstrip() for line in lines)


def _days(evidence: Evidence) -> str:
    asked, met = evidence.prescription.stage.days, evidence.days_met
    on = f" ({', '.join(met)})" if met else ""
    return f"days on which all of them were met in the set: {len(met)} of {asked} asked for{on}"


def _line(line: Line) -> Iterator[str]:
    row, about = line.row, ABOUT[line.row.criterion.measure]
    if row.criterion.measure is Measure.CLINICIAN:
        yield f"{about.words}: {row.criterion.words}"
        return
    low, high = row.limits
    asked = f"at most {high:g}" if low is None else f"at least {low:g}" if high is None else f"{low:g} to {high:g}"
    here = say_here(row) if row.value is not None else "not known"
    cells = (about.words, _value(line), asked, here, _patient(line.patient))
    widths = [width for _words, width in _HEAD]
    yield "".join(pad(words, width) for words, width in zip(cells, widths, strict=True)) + str(len(line.sessions))
    yield from (f"    missing {one}" for one in line.missing)
    if line.patient is not None:
        yield f"    over the days {_over(line.patient)}"
    yield f"    source: {line.source}"


def _value(line: Line) -> str:
    row, unit = line.row, ABOUT[line.row.criterion.measure].unit
    if row.value is None:
        return "not known"
    where = f", {row.of}" if row.of else ""
    return f"{in_plain(measured(row))} {unit}".rstrip() + where


def _patient(patient: OfPatient | None) -> str:
    return "not known" if patient is None else say_verdict(patient.decision.verdict, patient.decision.probability)


def _over(patient: OfPatient) -> str:
    made, days = patient.decision.estimate, patient.days
    goes = f"; it {'rises' if days.trend.per_month.value > 0.0 else 'falls'} from day to day" if days.trends else ""
    span = f"{days.days} days from {days.first} to {days.last}"
    return f"{in_plain(plus_minus(made.value, 2.0 * made.u))}, {span}{goes}"


def _began(started_at: str) -> str:
    return started_at[:16].replace("T", " ")
