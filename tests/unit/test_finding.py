"""Both answers in words, on the screen and in the table: never as one, never a certainty."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest

from tests.unit.plates import make_trace
from tests.unit.test_answer import BOTH, RAISE, RAISED, asked, standing
from tests.unit.test_appraisal import ASKED
from tests.unit.test_repeat import VALUES, on_days
from weightshare.cli.table import appraisal_table
from weightshare.cli.verdict import answer_rows
from weightshare.metrology.decision import ONE_SESSION, InThisSet, Limit, Verdict, decide, two_answers
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.repeat import day_to_day
from weightshare.model import Side
from weightshare.pipeline.result import rounded
from weightshare.practice.finding import say_asked, say_found
from weightshare.records.answer import LOWERING, Answer

AT_LEAST = Limit(lower=75.0)


def found(number: int, percent: float, limit: Limit = AT_LEAST) -> Answer:
    here = InThisSet(decide(Estimate(percent, 0.4), limit))
    return Answer(LOWERING, number, Side.LEFT, percent, 0.4, limit, here)


@pytest.mark.parametrize(
    ("limit", "expected"),
    [
        (Limit(lower=75.0), "75 % or more in the lowering"),
        (Limit(upper=5.0), "5 % or less in the lowering"),
        (Limit(72.5, 77.5), "72.5 to 77.5 % in the lowering"),
    ],
)
def test_what_was_asked_is_said_in_plain_words(limit: Limit, expected: str) -> None:
    assert say_asked(found(1, 80.0, limit)) == expected


@pytest.mark.parametrize(
    ("percents", "expected"),
    [
        ((78.0,), "met in this set"),
        ((78.0, 78.0), "met in sets 1 and 2"),
        ((75.0, 78.0, 70.0, 79.0), "met in sets 2 and 4, not met in set 3, undecided in set 1"),
        ((78.0, 78.0, 78.0), "met in sets 1, 2 and 3"),
    ],
)
def test_all_sets_are_one_quiet_line(percents: tuple[float, ...], expected: str) -> None:
    answers = [found(number, percent) for number, percent in enumerate(percents, start=1)]
    (line,) = say_found(answers)
    assert line == f"75 % or more in the lowering: {expected}; of this patient: not known yet, 1 session."


def test_a_session_of_holds_is_told_as_one() -> None:
    (line,) = say_found(standing(525.0))
    assert line == "70 to 80 % while held: met in this session; of this patient: not known yet, 1 session."


def test_where_the_instrument_is_not_known_neither_answer_is() -> None:
    answers = asked(make_trace([(20.0, 525.0, 175.0)]), ASKED, calibration=None).answers
    assert say_found(answers) == ("70 to 80 % while held: not known in this session; of this patient: not known.",)
    ((name, words),) = answer_rows(answers)
    assert name == "asked of all holds"
    assert words.startswith("70 to 80 % while held: 75.00 %, not decided (no calibration was given")


def test_over_the_days_both_answers_stand_side_by_side() -> None:
    both = found(1, 86.0, Limit(lower=85.0)).over(day_to_day(on_days(VALUES)))
    (line,) = say_found([both])
    assert line == "85 % or more in the lowering: met in this set; of this patient: undecided over 5 days."
    rows = answer_rows([both])
    assert [name for name, _words in rows] == ["asked of set 1", "  of this patient"]
    assert rows[0][1].startswith("85 % or more in the lowering: met (over 99 %), 86.00 +- 0.80 %")
    assert re.match(r"undecided \(\d+ %\), 86\.20 \+- ", rows[1][1]) and rows[1][1].endswith("5 sessions on 5 days")


def test_nothing_is_ever_said_to_be_certain() -> None:
    sure, never = found(1, 99.0), found(1, 10.0)
    assert sure.in_this_set is not None and sure.in_this_set.decision.verdict is Verdict.MET
    assert "(over 99 %)" in answer_rows([sure])[0][1]
    assert "(under 1 %)" in answer_rows([never])[0][1]


def test_the_table_has_the_answer_of_the_patient_once_for_all_sets() -> None:
    table = appraisal_table(asked(RAISED, RAISE, BOTH))
    assert table.count("asked of set") == 2
    assert table.count("of this patient") == 1
    assert "not known: one session only: cannot be told apart from a good day" in table


def test_legs_with_limits_of_their_own_have_a_line_each() -> None:
    left, right = found(1, 99.0, Limit(lower=95.0)), replace(found(2, 1.0, Limit(upper=5.0)), working=Side.RIGHT)
    lines = say_found([left, right])
    assert [line.split(":")[0] for line in lines] == ["95 % or more in the lowering", "5 % or less in the lowering"]
    assert sum(name == "  of this patient" for name, _words in answer_rows([left, right])) == 2


def test_the_documents_examples_are_those_of_the_code(checkout: Path) -> None:
    words = (checkout / "docs" / "decisions.md").read_text(encoding="utf-8")
    answers = two_answers(86.0, 0.4, Estimate(86.0, 2.5), Limit(lower=85.0))
    assert answers.of_this_patient is not None
    for decision in (answers.in_this_set.decision, answers.of_this_patient.decision):
        row = f"| {decision.estimate.u:.2f} | {decision.probability:.3f} | {decision.verdict} |"
        assert row in words
    quoted = json.loads(words[words.index('    {"measure"') : words.index("\n\n| key")])
    assert quoted == rounded(found(1, 86.0, Limit(lower=85.0)).to_json() | {"why_not": ONE_SESSION})
    for name in quoted.keys() | quoted["in_this_set"].keys():
        assert f"`{name}`" in words
