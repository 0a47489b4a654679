"""What was asked of the share, and whether it was reached, in the analysis that a person reads."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from weightshare.metrology.decision import COVERAGE_FACTOR, Decision
from weightshare.practice.finding import say_asked
from weightshare.programme.judgement import say_verdict
from weightshare.records.answer import Answer
from weightshare.report.digit import rounded_up

Row = tuple[str, str]


def answer_rows(answers: Sequence[Answer]) -> list[Row]:
    """Return both answers as rows of a name and words: the first of each set, the second once for all of them."""
    rows: list[Row] = []
    for place, one in enumerate(answers):
        last = place + 1 == len(answers) or _same(answers[place + 1]) != _same(one)
        rows += _rows(one, patient=last)
    return rows


def _same(one: Answer) -> tuple[object, ...]:
    return one.measure, one.working, one.limit


def _rows(one: Answer, *, patient: bool) -> Iterator[Row]:
    which = "all holds" if one.number is None else f"set {one.number}"
    if one.in_this_set is None:
        yield f"asked of {which}", f"{say_asked(one)}: {one.value_percent:.2f} %, not decided ({one.why_not})"
        return
    yield f"asked of {which}", f"{say_asked(one)}: {_say(one.in_this_set.decision)}"
    if not patient:
        return
    if one.of_this_patient is None:
        yield "  of this patient", f"not known: {one.why_not}"
        return
    over = "" if one.days is None else f", {one.days.sessions} sessions on {one.days.days} days"
    yield "  of this patient", f"{_say(one.of_this_patient.decision)}{over}"


def _say(decision: Decision) -> str:
    """Return the verdict with its probability, and the value with its expanded uncertainty (k = 2), rounded up."""
    value, u = decision.estimate.value, decision.estimate.u
    half = rounded_up(COVERAGE_FACTOR * u, 2)
    return f"{say_verdict(decision.verdict, decision.probability)}, {value:.2f} +- {half:.2f} %"
