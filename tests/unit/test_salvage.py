"""Lines of a programme's file that are no TOML: each is told, and hides nothing of the others."""

from __future__ import annotations

import pytest

from tests.unit.test_programme_reading import HEAD, STAGE, mistakes


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ("hold_s = soon", ["hold_s: soon is not allowed: write a number from 1 to 3600 s"]),
        ('note = "Slowly', ['note: "Slowly is not allowed: write words in quotes, on one line']),
        ("holds =", ["holds: nothing is not allowed: write a whole number from 1 to 100"]),
        ("holds: 2", ["holds: an equals sign stands behind a key: holds = 2"]),
        ("Rest a little", ["this line: Rest a little is no line of a programme; a line says key = value"]),
        ("holds = 2\nholds = few", ["stage 1 (a), holds: stands twice, first in line 9; keep one"]),
        ("blind = [2,\nholds = 2", ["blind: is no key; did you mean blind_sets?"]),
        ("[stages.criteria\npain-after = at most 2", [
            "this line: [stages.criteria is to be [stages.criteria]",
            'criteria.pain-after: at most 2 is no text in quotes; write it as "at least 10", "at most 2", "70 to 80"',
        ]),
        ("[stages.criteria]\n[stages.criteria]\npain = 2", ["stage 1 (a), criteria: stands twice, first in line 9"]),
        ("[x\ny = 3", ["this line: [x begins no table; a stage begins with a line [[stages]]"]),
        ('[stages]\nkey = "b"\nname = "B"\nexercise = "single-raise"', ["this line: [stages] is to be [[stages]]"]),
        ("a.b.c = 1\na.b.d = 2", ["a: is no key"]),
    ],
)  # fmt: skip
def test_a_line_that_is_no_toml_is_told_and_hides_nothing(lines: str, said: list[str]) -> None:
    found = mistakes(f'{HEAD}{STAGE}exercise = "hold"\ntarget_percent = 50\n{lines}\n')
    assert len(found) == len(said) and all(words in line for words, line in zip(said, found, strict=True)), found


def test_one_stage_under_a_single_bracket_is_read_all_the_same() -> None:
    found = mistakes(f'{HEAD}{STAGE.replace("[[stages]]", "[stages]")}exercise = "hold"\n')
    assert [line.partition(": ")[2][:30] for line in found] == [
        "stage 1 (a), target_percent: i",
        "stages: each stage begins with",
    ]


def test_a_file_that_is_no_programme_at_all_is_not_told_line_by_line_for_ever() -> None:
    found = mistakes("= = =\n" * 1000)
    assert len(found) < 60 and any("from here on nothing was read" in line for line in found)
