"""`weightshare practise`: from what is typed to what is asked of a session."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.unit.test_analyse_command import refused
from weightshare.cli import build_parser
from weightshare.cli.option import BASES, STAGES
from weightshare.cli.practise import make_options
from weightshare.exercise import Basis, Ceiling, Exercise, Surface, Tempo
from weightshare.model import Side
from weightshare.practice.option import PractiseOptions
from weightshare.records.diary import Entry
from weightshare.task import Goal, Settings


def practise(*words: str) -> PractiseOptions:
    """Return what the command would practise."""
    return make_options(build_parser().parse_args(["practise", *words]))


def test_the_names_typed_are_those_of_the_values() -> None:
    assert list(STAGES) == list(Exercise)
    assert list(BASES) == list(Basis)


def test_without_a_stage_holds_are_practised() -> None:
    options = practise("--target", "75")
    assert options.settings == Settings(Side.LEFT, 75.0, exercise=Exercise.HOLD)
    assert (options.goal, options.unattended) == (Goal(), False)


def test_every_option_counts() -> None:
    words = "--injured right --stage single-lowering --target 90 --tolerance 4 --tempo 1-0.5-3 --surface step"
    more = "--basis height --reference-height-mm 85 --working right --one-sided --ceiling 75kg --body-weight-N 700"
    how_much = "--added-weight-N 50 --sets 4 --repetitions 8 --rest 90 --blind-sets 4,2 --seconds 300 --headless"
    options = practise(*words.split(), *more.split(), *how_much.split())
    assert options.settings == Settings(
        Side.RIGHT,
        90.0,
        4.0,
        body_weight_N=700.0,
        added_weight_N=50.0,
        exercise=Exercise.SINGLE_LOWERING,
        surface=Surface.STEP,
        basis=Basis.HEIGHT,
        reference_height_mm=85.0,
        tempo=Tempo(1.0, 0.5, 3.0),
        working=Side.RIGHT,
        one_sided=True,
        ceiling=Ceiling(kg=75.0),
    )
    assert options.goal == Goal(sets=4, repetitions=8, rest_s=90.0, blind_sets=(2, 4))
    assert options.seconds == 300.0


PAIR = ("--source", "tcp://127.0.0.1:7000", "--source", "ble:AA:BB:CC:DD:EE:FF", "--injured", "left")


@pytest.mark.parametrize(
    ("words", "sides"),
    [
        ((), None),
        (("--sides", "left,right"), (Side.LEFT, Side.RIGHT)),
        (("--sides", "right,left"), (Side.RIGHT, Side.LEFT)),
    ],
)
def test_two_sources_are_two_scales_each_with_its_calibration(
    words: tuple[str, ...], sides: tuple[Side, Side] | None
) -> None:
    options = practise(*PAIR, "--calibration", "a.json", "--calibration", "b.json", *words)
    assert options.sources == (PAIR[1], PAIR[3])
    assert options.calibrations == (Path("a.json"), Path("b.json"))
    assert options.sides == sides


@pytest.mark.parametrize("words", ["left,left", "left", "", "Left,Right"])
def test_other_sides_than_one_each_are_refused(words: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        practise(*PAIR, "--sides", words)
    told = capsys.readouterr().err
    assert left.value.code == 2
    assert "--sides" in told and "right,left" in told
    assert told.count("\n") == 1


def test_in_the_terminal_nobody_presses_a_key() -> None:
    assert practise("--headless", "--stage", "raise").unattended


def test_a_set_to_exhaustion_asks_for_no_count() -> None:
    assert practise("--stage", "single-raise", "--to-exhaustion", "--sets", "2").goal == Goal(
        sets=2, to_exhaustion=True
    )


def test_holds_keep_their_goal() -> None:
    assert practise("--hold-goal", "12", "--holds", "5").goal == Goal(12.0, 5)


USUAL = {
    "hold": None,
    "heel-hold": 50.0,
    "raise": 50.0,
    "lowering": 75.0,
    "single-lowering": 100.0,
    "single-raise": 100.0,
    "squat": 50.0,
    "sit-to-stand": 50.0,
}


@pytest.mark.parametrize(("stage", "percent"), USUAL.items())
def test_a_stage_has_its_usual_target(stage: str, percent: float | None) -> None:
    assert set(USUAL) == set(Exercise)
    assert practise("--stage", stage).settings.target_percent == percent


def test_where_the_other_leg_works_the_injured_one_is_asked_for_nothing() -> None:
    assert practise("--stage", "single-raise", "--injured", "left", "--working", "right").settings.target_percent == 0.0


def test_a_target_that_was_not_given_is_told(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    from weightshare import cli

    asked: list[PractiseOptions] = []

    def practise_headless(options: PractiseOptions, *, as_json: bool, said: tuple[Entry, ...]) -> int:
        assert said == ()
        asked.append(options)
        return int(as_json)

    monkeypatch.setattr("weightshare.cli.headless.practise_headless", practise_headless)
    assert cli.main(["practise", "--headless", "--stage", "lowering"]) == 0
    assert capsys.readouterr().err == "no --target was given: lowering is held against 75 % on the left side\n"
    assert cli.main(["practise", "--headless", "--stage", "lowering", "--target", "75"]) == 0
    assert cli.main(["practise", "--headless"]) == 0
    assert capsys.readouterr().err == ""
    assert asked[0] == asked[1] == replace(asked[2], settings=asked[0].settings)


@pytest.mark.parametrize("stage", [stage for stage in Exercise if not stage.is_single])
@pytest.mark.parametrize("percent", ["100", "97", "3", "0"])
def test_no_target_puts_a_person_on_one_leg(capsys: pytest.CaptureFixture[str], stage: Exercise, percent: str) -> None:
    message = refused(capsys, ["practise", "--headless", "--stage", stage, "--target", percent])
    assert f"--target {percent}" in message
    assert "single-lowering" in message


def test_one_leg_is_had_by_choosing_it() -> None:
    assert practise("--stage", "single-lowering", "--target", "100").settings.target_percent == 100.0
    assert practise("--stage", "lowering", "--target", "96.9").settings.target_percent == 96.9


REFUSED = [
    ("--stage", "jump", ""),
    ("--stage", "lowering,", ""),
    ("--tempo", "1-1", "--stage=raise"),
    ("--tempo", "1-1-x", "--stage=raise"),
    ("--tempo", "0.1-1-2", "--stage=raise"),
    ("--tempo", "1-1-2", "--stage=heel-hold"),
    ("--tempo", "1-1-2", ""),
    ("--surface", "stair", ""),
    ("--surface", "step", "--stage=squat"),
    ("--basis", "force", "--stage=raise --surface=step"),
    ("--surface", "step", "--stage=hold"),
    ("--ceiling", "25%", "--stage=lowering"),
    ("--basis", "video", ""),
    ("--basis", "height", "--stage=squat"),
    ("--basis", "force", "--stage=hold"),
    ("--basis", "paced", "--stage=raise"),
    ("--reference-height-mm", "5", ""),
    ("--reference-height-mm", "nan", ""),
    ("--working", "left", "--stage=lowering"),
    ("--working", "both", "--stage=single-raise"),
    ("--ceiling", "20", ""),
    ("--ceiling", "0kg", ""),
    ("--ceiling", "-5%", ""),
    ("--ceiling", "nankg", ""),
    ("--ceiling", "x%", ""),
    ("--added-weight-N", "-1", ""),
    ("--sets", "0", "--stage=raise"),
    ("--sets", "2", ""),
    ("--sets", "many", "--stage=raise"),
    ("--repetitions", "101", "--stage=raise"),
    ("--repetitions", "5", "--stage=heel-hold"),
    ("--repetitions", "5", "--stage=raise --to-exhaustion"),
    ("--working", "left", "--stage=single-raise --to-exhaustion"),
    ("--rest", "-1", "--stage=raise"),
    ("--blind-sets", "4", "--stage=raise"),
    ("--blind-sets", "0", "--stage=raise"),
    ("--blind-sets", "2;3", "--stage=raise"),
    ("--blind-sets", "", "--stage=raise"),
    ("--blind-sets", "1", ""),
    ("--holds", "2", "--stage=raise"),
    ("--hold-goal", "20", "--stage=squat"),
]


@pytest.mark.parametrize(("option", "value", "with_it"), REFUSED)
def test_an_option_that_cannot_be_names_itself(
    capsys: pytest.CaptureFixture[str], option: str, value: str, with_it: str
) -> None:
    assert option in refused(capsys, ["practise", "--headless", *with_it.split(), f"{option}={value}"])


def test_to_exhaustion_is_for_repetitions(capsys: pytest.CaptureFixture[str]) -> None:
    assert "--to-exhaustion" in refused(capsys, ["practise", "--headless", "--to-exhaustion"])


def test_no_band_without_an_upper_edge_where_the_legs_take_turns(capsys: pytest.CaptureFixture[str]) -> None:
    words = ["practise", "--headless", "--stage", "single-raise", "--one-sided"]
    assert "--one-sided" in refused(capsys, [*words, "--to-exhaustion"])
    assert practise("--stage", "raise", "--one-sided", "--to-exhaustion").settings.one_sided
