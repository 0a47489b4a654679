"""A programme's file: what is in it, and every mistake in words, with its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from weightshare.exercise import Exercise, Load, Tempo
from weightshare.programme.criterion import ABOUT, Criterion, Measure, parse_criterion
from weightshare.programme.key import PROGRAMME_KEYS, STAGE_KEYS
from weightshare.programme.line import find_lines, line_of
from weightshare.programme.reading import ProgrammeError, check_text, read_programme, read_text
from weightshare.programme.stage import Lock, Stage

HEAD = 'schema = "weightshare.programme/1"\nname = "Mine"\nversion = "1"\n'
STAGE = '[[stages]]\nkey = "a"\nname = "A"\n'
LOWERING = f'{HEAD}{STAGE}exercise = "lowering"\ntarget_percent = 75\n'


def mistakes(text: str) -> list[str]:
    programme, found = check_text(text)
    assert (programme is None) == bool(found)
    return [str(one) for one in found]


def test_what_is_not_said_has_its_default() -> None:
    stage = read_programme(LOWERING, "x.toml").stages[0]
    assert stage == Stage("a", "A", Exercise.LOWERING, target_percent=75.0)
    assert (stage.tolerance_points, stage.sets, stage.rest_s) == (5.0, 3, 60.0)


def test_a_mean_is_held_closer_above_75_percent() -> None:
    def mean_points(percent: float) -> float:
        return Stage("a", "A", Exercise.LOWERING, target_percent=percent).mean_points

    assert [mean_points(percent) for percent in (50.0, 75.0, 75.1, 90.0)] == [5.0, 5.0, 2.5, 2.5]


def test_keys_become_values() -> None:
    text = f'{LOWERING}tempo = "2-1-4-1"\nceiling = "80%"\nknee = "bent"\nfreed = ["step"]\nsurface = "step"\n'
    stage = read_programme(f'{text}freed_by = "AB"\nfreed_on = 2026-11-24\n', "x.toml").stages[0]
    assert stage.tempo == Tempo(2.0, 1.0, 4.0, 1.0) and stage.ceiling is not None and stage.ceiling.percent == 80.0
    assert (stage.locks, stage.shut, stage.freed_on) == ((Lock.STEP,), (), "2026-11-24")


TEN = """\
schema = "weightshare.programme/1"
name = ""
version = 3
colour = "red"

[[stages]]
key = "Lower 75"
name = "Down"
exercise = "lowring"

[[stages]]
key = "b"
name = "B"
exercise = "lowering"
target_percent = 175
tempo = "fast"
rest = 60
[stages.criteria]
pain-during = "less than 2"

[[stages]]
key = "c"
name = "C"
exercise = "heel-hold"
repetitions = 10
"""


def test_ten_mistakes_are_told_at_once_each_with_its_line() -> None:
    found = mistakes(TEN.replace('[[stages]]\nkey = "c"', '[[stages]]\nkey = "c"\ntarget_percent = 50'))
    assert [line.partition(":")[0] for line in found] == [f"line {n}" for n in (2, 3, 4, 7, 9, 15, 16, 17, 19, 26)]
    assert (
        found[2] == "line 4: colour: is no key; the keys are schema, name, version, about, pain_limit, source, "
        "sources, stages"
    )
    assert found[4].startswith('line 9: stage 1 (Lower 75), exercise: "lowring" cannot be; one of "hold", "heel-hold"')
    assert found[7] == "line 17: stage 2 (b), rest: is no key; did you mean rest_s?"
    assert found[9] == "line 26: stage 3 (c), repetitions: goes with a stage of repetitions: heel-hold is none"


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ("target_percent = 98", "target_percent: 98 cannot be; on two legs it lies between 3 and 97"),
        ("target_percent = nan", "target_percent: nan cannot be; a number from 0 to 100 percent"),
        ("target_percent = true", "target_percent: true cannot be"),
        ("below_level = true", 'below_level: goes with surface = "step"'),
        ('leg = "injured"', "leg: goes with a stage on one leg"),
        ("supported = true", "supported: goes with hold and heel-hold"),
        ('load = "20kg"', "load: goes with supported = true"),
        ("hold_s = 10", "hold_s: goes with a stage that is held"),
        ("blind_sets = [4]", "blind_sets: 4 cannot be: there are 3 sets"),
        ("to_exhaustion = true\nrepetitions = 9", "repetitions: does not go with to_exhaustion"),
        ('freed = ["step"]\nfreed_by = "A"\nfreed_on = 2026-11-24', 'freed: "step" does not lock this stage; nothing'),
        ('freed_by = "A"', "freed_by: goes with freed"),
        ('ceiling = "60%"', "ceiling: 60 % of body weight is under the 75 % of body weight"),
        ('basis = "paced"', "basis: paced needs a tempo"),
        ('surface = "step"\nbasis = "force"', "basis: force: on a step"),
        (
            '[stages.criteria]\nlongest-hold = "at least 10"',
            "criteria.longest-hold: can be had in a stage that is held",
        ),
        ('[stages.criteria]\npain-after = "at most 11"', "criteria.pain-after: 11 is out of range: it may be 0 to 10"),
        ('[stages.criteria]\nrepetitions = "9 to 3"', "criteria.repetitions: 9 to 3 is upside down"),
        ('[stages.criteria]\nclinician = " "', "criteria.clinician: say in words"),
        ('[stages.sources]\nweight = "x"', "sources.weight: is no key"),
        ("days = 0", "days: 0 cannot be; a whole number from 1 to 100"),
        ('tempo = "1- 1-2"', "tempo: "),
    ],
)
def test_a_mistake_says_key_and_what_is_allowed(keys: str, said: str) -> None:
    target = "" if "target_percent" in keys else "target_percent = 75\n"
    found = mistakes(f'{HEAD}{STAGE}exercise = "lowering"\n{target}{keys}\n')
    assert any(line.partition("stage 1 (a), ")[2].startswith(said) for line in found)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ("", "exercise: hold needs a share"),
        ("supported = true", "supported: asks for a load"),
        ('supported = true\nload = "20kg"\ntarget_percent = 50', "target_percent: does not go with supported"),
        ('supported = true\nload = "20kg"\nceiling = "15kg"', "ceiling: 15 kg is under the 20 kg"),
        ('supported = true\nload = "20"', 'load: "20" cannot be; kilograms, as in "20kg"'),
    ],
)
def test_supported_work_asks_for_a_load_and_never_for_a_share(keys: str, said: str) -> None:
    found = mistakes(f'{HEAD}{STAGE}exercise = "hold"\n{keys}\n')
    assert any(line.partition("stage 1 (a), ")[2].startswith(said) for line in found)


def test_supported_work_is_read() -> None:
    stage = read_programme(f'{HEAD}{STAGE}exercise = "hold"\nsupported = true\nload = "25%"\n', "x").stages[0]
    assert (stage.supported, stage.load, stage.target_percent) == (True, Load(percent=25.0), None)


def test_one_leg_is_locked_and_takes_no_target() -> None:
    one = f'{HEAD}{STAGE}exercise = "single-raise"\n'
    assert read_programme(one, "x").stages[0].shut == (Lock.ONE_LEG,)
    assert read_programme(f'{one}leg = "uninjured"\n', "x").stages[0].shut == ()
    both = read_programme(f"{one}to_exhaustion = true\n", "x").stages[0]
    assert both.shut == (Lock.ONE_LEG,), "the legs take turns: the injured one stands alone too"
    (found,) = mistakes(f"{one}target_percent = 90\n")
    assert "there the working leg carries all" in found


def test_a_lock_is_opened_by_somebody_on_some_day() -> None:
    (first, second) = mistakes(f'{HEAD}{STAGE}exercise = "single-raise"\nfreed = ["one-leg"]\n')
    assert "needs freed_by" in first and "needs freed_on" in second


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "schema: is missing"),
        ("stages = 3", "stages: this is no list of stages"),
        (HEAD, "stages: there are none: each begins with a line [[stages]]"),
        (f"{LOWERING}[stages.criteria]\nclinician = ['look']", "criteria.clinician: ['look'] is no text"),
        ("a = 1\na = 2", "line 2: this is no TOML: cannot overwrite a value"),
        ("a =\n", "line 1: this is no TOML"),
        (f"{HEAD}[[stages]]\n", "line 4: stage 1, exercise: is missing: one of"),
        (f"{LOWERING}{STAGE}exercise='raise'\ntarget_percent=50", 'line 10: stage 2, key: "a" is that of stage 1'),
        (f'{LOWERING}criteria = "all"', "criteria: is no table"),
        (f"{LOWERING}[stages.sources]\nsets = 3", "sources: is no table of texts"),
    ],
)  # fmt: skip
def test_what_is_no_programme(text: str, said: str) -> None:
    assert any(said in line for line in mistakes(text))


def test_the_first_mistake_is_told_with_the_way_to_the_rest() -> None:
    with pytest.raises(ProgrammeError) as told:
        read_programme("", "mine.toml")
    assert str(told.value).startswith("mine.toml, line 1: ")
    assert str(told.value).endswith("more: weightshare programme check mine.toml")


def test_files_that_hold_no_text(tmp_path: Path) -> None:
    path = tmp_path / "x.toml"
    with pytest.raises(ProgrammeError, match="cannot be read"):
        read_text(path)
    path.write_bytes(b"name = 'a'\n\xff")
    with pytest.raises(ProgrammeError, match="line 2: is no UTF-8"):
        read_text(path)
    path.write_bytes(b"#" * (1 << 21))
    with pytest.raises(ProgrammeError, match="too large"):
        read_text(path)
    path.write_bytes(b"\xef\xbb\xbfname = 'a'")
    assert read_text(path) == "name = 'a'", "a mark that some editors put first is no part of it"


def test_lines_of_keys_however_they_are_written() -> None:
    head = '# c \x85 d\na = 1\n"b c" = """x\n[no]\ny = 2"""\nd.e = [\n 1,\n]\n\n'
    text = f"{head}[f]\ng = {{h = 1}}\n[[s]]\nk = 1\n[s.t]\nu = 1\n[[s]]\nk = 2"
    lines = find_lines(text)
    assert {place: lines[place] for place in [("a",), ("b c",), ("d", "e"), ("f",), ("f", "g", "h")]} == {
        ("a",): 2, ("b c",): 3, ("d", "e"): 6, ("f",): 10, ("f", "g", "h"): 11,
    }  # fmt: skip
    assert lines["s", 0, "t", "u"] == 15 and lines["s", 1, "k"] == 17 and ("y",) not in lines
    assert line_of(("s", 1, "missing"), lines) == 16 and line_of(("none",), lines) == 1


def test_a_criterion_is_read_as_it_is_written() -> None:
    for words in ("at least 10", "at most 2.5", "70 to 80", "near target"):
        assert str(parse_criterion(Measure.SHARE_LOWERING, words)) == words
    with pytest.raises(ValueError, match="is no limit"):
        parse_criterion(Measure.PAIN_AFTER, "near target")
    assert set(ABOUT) == set(Measure)
    assert Criterion(Measure.CLINICIAN, words="look").words == str(Criterion(Measure.CLINICIAN, words="look"))


def test_every_key_and_measure_is_told_of(checkout: Path) -> None:
    told = (checkout / "docs" / "programme.md").read_text(encoding="utf-8")
    names = [key.name for key in (*PROGRAMME_KEYS, *STAGE_KEYS)] + [str(one) for one in Measure]
    assert [name for name in names if f"| `{name}` |" not in told] == []
