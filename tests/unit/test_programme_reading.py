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
name = "Mine"
version = 3
colour = "red"

[[stages]]
key = "lower"
name = "Down"
exercise = "lowering"
target_percent = 175
tempo = 1-1-3-1
hold_s = 10
freed = ["one leg"]
surface = "step"
basis = "force"
[stages.criteria]
pain-during = "at most 2"
pain-in-the-morning = "at most 2"

[[stages]]
key = "lower"
name = "Hold"
exercise = "heel-hold"
target_percent = 50
knee = "streight"
knee = "bent"
[stages.criteria]
sets-done = "at least 3"
"""
TOLD = """\
line 3: version: 3 is not allowed: write words in quotes, on one line
line 4: colour: is no key; the keys are schema, name, version, about, pain_limit, source, sources, stages
line 10: stage 1 (lower), target_percent: 175 is not allowed: write a number from 0 to 100 percent
line 11: stage 1 (lower), tempo: 1-1-3-1 is not allowed: write seconds up, at the top, down and at the bottom, as in \
"1-1-3-1" \
(0.3 to 20 s up and down, 0 to 60 s at the top, 0 to 20 s at the bottom)
line 12: stage 1 (lower), hold_s: goes with a stage that is held: lowering is none
line 13: stage 1 (lower), freed: ["one leg"] is not allowed: write a list of "one-leg", "step", "below-level", "stage"
line 15: stage 1 (lower), basis: force: on a step the load is on the forefoot all the time; take height or paced
line 18: stage 1 (lower), criteria.pain-in-the-morning: is no key; did you mean pain-next-morning?
line 21: stage 2 (lower), key: "lower" is that of stage 1 too; each stage has its own
line 25: stage 2 (lower), knee: "streight" is not allowed: write one of "straight", "bent"
line 26: stage 2 (lower), knee: stands twice, first in line 25; keep one
line 28: stage 2 (lower), criteria.sets-done: can be had in a stage of repetitions alone
"""


def test_mistakes_of_every_kind_are_told_at_once_each_with_its_line() -> None:
    """Types, ranges, names, clashes, locks, doubles, criteria, and lines that are no TOML: none hides another."""
    assert mistakes(TEN) == TOLD.replace("\\\n", "").splitlines()


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ("sets = [1, 'a']", 'sets: [1, "a"] is not allowed'),
        ("sets = {a = 1}", "sets: a table is not allowed"),
        ("knee = true", "knee: true is not allowed"),
        ("rest_s = inf", "rest_s: inf is not allowed"),
        ("sets = 2026-11-24", "sets: 2026-11-24 is not allowed"),
        ("sets = 12:30:00", "sets: 12:30:00 is not allowed"),
        ('note = """two\nlines"""', 'note: "two lines" is not allowed'),
        (f"sets = '{'a' * 99}'", f'sets: "{"a" * 58}\u2026 is not allowed'),
        ("rest_s = '5 s'", 'rest_s: "5 s" is not allowed: write a number from 0 to 1800 s, without quotes and unit'),
        ("freed = ['one leg']", 'freed: ["one leg"] is not allowed'),
    ],
)
def test_what_cannot_be_is_repeated_as_it_is_typed(keys: str, said: str) -> None:
    """It was told in the quotes and brackets of another language, and over two lines."""
    found = mistakes(f'{HEAD}{STAGE}exercise = "raise"\ntarget_percent = 50\n{keys}\n')
    assert [line.partition("stage 1 (a), ")[2].startswith(said) for line in found] == [True], found


@pytest.mark.parametrize(
    ("keys", "wrong", "right", "asked"),
    [
        ("", 'sets-done = "at least 4"', 'sets-done = "at least 3"', "sets = 3"),
        ("", 'repetitions = "at least 31"', 'repetitions = "at least 30"', "sets x repetitions = 30"),
        ('tempo = "1-1-3-1"', 'lowering-time = "at least 6"', 'lowering-time = "2.5 to 3.5"', 'tempo = "1-1-3-1"'),
        ("", 'share-lowering = "76 to 90"', 'share-lowering = "at least 75"', "target_percent = 75"),
        ("blind_sets = [3]", 'share-blind = "at most 70"', 'share-blind = "near target"', "target_percent = 75"),
    ],
)
def test_a_criterion_that_can_never_be_met_is_a_mistake(keys: str, wrong: str, right: str, asked: str) -> None:
    stage = f'{HEAD}{STAGE}exercise = "lowering"\ntarget_percent = 75\n{keys}\n[stages.criteria]\n'
    (told,) = mistakes(f"{stage}{wrong}\n")
    assert told.endswith(f"cannot be met by what the stage asks for: {asked}")
    line = len(f"{stage}{wrong}".splitlines())
    assert told.startswith(f"line {line}: stage 1 (a), criteria.{wrong.partition(' ')[0]}: ")
    assert mistakes(f"{stage}{right}\n") == []


def test_holds_and_pain_are_held_against_what_is_asked_and_what_the_programme_tolerates() -> None:
    stage = f"pain_limit = 2\n{STAGE}exercise = 'hold'\ntarget_percent = 50\n"
    held = mistakes(f'{HEAD}{stage}[stages.criteria]\nholds-done = "at least 5"\n')
    assert len(held) == 1 and held[0].endswith("at least 5 cannot be met by what the stage asks for: holds = 3")
    pain = mistakes(f"{HEAD}{stage}pain_limit = 3\n")
    assert len(pain) == 1 and pain[0].endswith("pain_limit: 3 is over the programme's limit of 2; change one")
    assert mistakes(f"{HEAD}{stage}pain_limit = 1\n") == []
    # to exhaustion nobody says how many
    raises = f"{HEAD}{STAGE}exercise = 'raise'\ntarget_percent = 50\nto_exhaustion = true\n"
    assert mistakes(f'{raises}[stages.criteria]\nrepetitions = "at least 99"\n') == []


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ("target_percent = 98", "target_percent: 98 is not allowed: on two legs it lies between 3 and 97"),
        ("target_percent = nan", "target_percent: nan is not allowed: write a number from 0 to 100 percent"),
        ("target_percent = true", "target_percent: true is not allowed"),
        ("below_level = true", 'below_level: goes with surface = "step"'),
        ('leg = "injured"', "leg: goes with a stage on one leg"),
        ("supported = true", "supported: goes with hold and heel-hold"),
        ('load = "20kg"', "load: goes with supported = true"),
        ("hold_s = 10", "hold_s: goes with a stage that is held"),
        ("blind_sets = [4]", "blind_sets: 4 is not allowed: there are 3 sets"),
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
        ("days = 0", "days: 0 is not allowed: write a whole number from 1 to 100"),
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
        ("", "target_percent: is missing: hold needs a share"),
        ("supported = true", "load: is missing: supported work asks for a load, load ="),
        (
            "supported = true\ntarget_percent = 50",
            "load: is missing: supported work asks for a load, in place of target",
        ),
        ('supported = true\nload = "20kg"\ntarget_percent = 50', "target_percent: does not go with supported"),
        ('supported = true\nload = "20kg"\nstand_s = 10', "stand_s: does not go with supported = true"),
        ('supported = true\nload = "20kg"\nceiling = "15kg"', "ceiling: 15 kg is under the 20 kg"),
        ('supported = true\nload = "20"', 'load: "20" is not allowed: write kilograms, as in "20kg"'),
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
    (found,) = mistakes(f'{HEAD}{STAGE}exercise = "single-raise"\nfreed = ["one-leg"]\n')
    assert "freed: needs freed_by and freed_on beside it" in found


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "schema: is missing"),
        ("stages = 3", "stages: this is no list of stages"),
        (HEAD, "stages: there are none: each begins with a line [[stages]]"),
        (f"{LOWERING}[stages.criteria]\nclinician = ['look']", 'criteria.clinician: ["look"] is no text in quotes'),
        ("a = 1\na = 2", "line 2: a: stands twice, first in line 1; keep one"),
        ("a =\n", "line 1: a: is no key"),
        ("a.b = 1\na = 2", "line 2: a: stands twice"),
        ("a = 1\n[a]\nb = 2", "line 2: a: stands twice, first in line 1; put its lines there"),
        ("a = 1\na.b = 2", "line 2: this line: this is no TOML: cannot"),
        (f"{HEAD}[[stages]]\n", "line 4: stage 1, exercise: is missing: write one of"),
        (f"{LOWERING}{STAGE}exercise='raise'\ntarget_percent=50", 'line 10: stage 2 (a), key: "a" is that of stage 1'),
        (f'{LOWERING}criteria = "all"', "criteria: is no table"),
        (f"{LOWERING}[stages.sources]\nsets = 3", "sources.sets: 3 is no text in quotes"),
        (f"{LOWERING}sources = 3", "sources: is no table of texts"),
    ],
)  # fmt: skip
def test_what_is_no_programme(text: str, said: str) -> None:
    assert any(said in line for line in mistakes(text))


def test_the_first_mistake_is_told_with_the_way_to_the_rest() -> None:
    with pytest.raises(ProgrammeError) as told:
        read_programme("", "mine.toml")
    assert str(told.value).startswith("mine.toml, line 1: ")
    assert str(told.value).endswith("more: weightshare programme check mine.toml")
    assert len(told.value.mistakes) > 1


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
    rows = [f"| `{key.name}` | {key.means} | {key.kind.allowed} |" for key in (*PROGRAMME_KEYS, *STAGE_KEYS)]
    assert [row for row in (*rows, *(f"| `{one}` |" for one in Measure)) if row not in told] == []
