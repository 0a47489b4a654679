"""`weightshare practise --programme`: the stage's settings, what is given by hand beside it, and what stays locked."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit.test_analyse_command import refused
from tests.unit.test_practise_options import practise
from weightshare.errors import WeightshareError
from weightshare.exercise import Exercise, Load, Surface, Tempo
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.practice.option import PractiseOptions
from weightshare.practice.stages import Stages
from weightshare.programme.shelf import ready_text
from weightshare.task import Goal


def achilles(stage: str, *more: str) -> PractiseOptions:
    return practise("--programme", "achilles", "--stage", stage, "--injured", "right", *more)


def test_the_stage_becomes_settings_and_goal() -> None:
    options = achilles("lowering-75")
    settings, kept = options.settings, options.prescription
    assert (settings.injured, settings.target_percent, settings.exercise) == (Side.RIGHT, 75.0, Exercise.LOWERING)
    assert (settings.tempo, options.goal) == (Tempo(1.0, 1.0, 3.0, 1.0), Goal(sets=3, repetitions=10))
    assert kept is not None and (kept.programme, kept.version, kept.stage.key) == ("Achilles", "1.0", "lowering-75")
    assert len(kept.sha256) == 64 and kept.pain_limit == 2 and kept.changed == ()


def test_options_by_hand_go_first_and_are_told() -> None:
    options = achilles("lowering-75", "--target", "70", "--tempo", "2-1-4-1", "--sets", "2", "--ceiling", "60kg")
    assert (options.settings.target_percent, options.goal.sets, options.goal.repetitions) == (70.0, 2, 10)
    assert options.prescription is not None
    assert options.prescription.changed == (
        "--target 70, not 75", "--tempo 2-1-4-1, not 1-1-3-1", "--ceiling 60kg, not none", "--sets 2, not 3",
    )  # fmt: skip


def test_a_stage_is_named_by_its_name_too() -> None:
    assert achilles("Down with 75 %") == achilles("lowering-75")


def practise_refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    return refused(capsys, ["practise", "--injured", "right", "--headless", *words])


@pytest.mark.parametrize("stage", ["raise-step", "one-leg-down", "one-leg", "compare"])
def test_what_is_locked_is_not_begun(capsys: pytest.CaptureFixture[str], stage: str) -> None:
    told = practise_refused(capsys, "--programme", "achilles", "--stage", stage)
    assert f"stage {stage} is locked (" in told and "the treating clinician" in told
    assert "weightshare programme copy achilles" in told


@pytest.mark.parametrize("option", [("--surface", "step"), ("--surface", "step", "--basis", "height")])
def test_no_option_takes_a_stage_round_its_lock(capsys: pytest.CaptureFixture[str], option: tuple[str, ...]) -> None:
    told = practise_refused(capsys, "--programme", "achilles", "--stage", "raise", *option)
    assert "stage raise is not for on a step; leave that option out" in told


def test_a_freed_stage_is_practised_from_its_file(tmp_path: Path) -> None:
    mine = tmp_path / "mine.toml"
    text = ready_text("achilles").replace('key = "raise-step"', 'key = "raise-step"\nfreed = ["step"]\nfreed_by = "AB"'
        "\nfreed_on = 2024-11-24")  # fmt: skip
    mine.write_text(text, encoding="utf-8")
    options = practise("--programme", str(mine), "--stage", "raise-step", "--injured", "left")
    assert options.settings.surface is Surface.STEP
    assert options.prescription is not None and options.prescription.stage.freed_by == "AB"
    mine.write_text(text.replace("2024-11-24", "2999-01-01"), encoding="utf-8")
    with pytest.raises(WeightshareError, match="freed_on 2999-01-01 is still to come"):
        practise("--programme", str(mine), "--stage", "raise-step", "--injured", "left")
    with pytest.raises(WeightshareError, match="2999-01-01, which is still to come"):
        Stages(tmp_path, str(mine), "raise-step").take(Side.LEFT)
    assert (options.place, achilles("lowering-75").place) == (str(mine), "achilles")


def test_a_load_is_asked_for_with_support(tmp_path: Path) -> None:
    text = ready_text("partial-load").replace("locked = true", "locked = false")
    mine = tmp_path / "mine.toml"
    mine.write_text(text, encoding="utf-8")
    settings = practise("--programme", str(mine), "--stage", "10-kg", "--injured", "left").settings
    assert (settings.load, settings.target_percent) == (Load(kg=10.0), None)
    assert settings.load_tolerance_N == pytest.approx(3.0 * STANDARD_GRAVITY)


def test_a_load_by_hand_without_a_programme() -> None:
    settings = practise("--load", "20kg", "--load-tolerance-kg", "4").settings
    assert (settings.load, settings.target_percent) == (Load(kg=20.0), None)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--programme", "achilles"), "--programme needs --stage, one of hold-10, "),
        (("--programme", "achilles", "--stage", "lowering"), 'there is no stage "lowering"'),
        (("--programme", "none.toml", "--stage", "a"), "no such file"),
        (("--stage", "sprint"), "--stage sprint: choose one of hold, heel-hold"),
        (("--programme", "achilles", "--stage", "hold-10", "--sets", "2"), "--sets goes with a stage of repetitions"),
        (("--programme", "achilles", "--stage", "lowering-90", "--target", "99"), "more is standing on one leg"),
    ],
)
def test_what_cannot_be_is_one_line(capsys: pytest.CaptureFixture[str], words: tuple[str, ...], said: str) -> None:
    assert said in practise_refused(capsys, *words)
