"""Choosing a stage: what is offered, what is locked, what is freed, copied and kept."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from weightshare.errors import OptionError
from weightshare.exercise import Exercise
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.practice.stages import IS_READY_MADE, Stages, names_of
from weightshare.programme.reading import ProgrammeError
from weightshare.programme.shelf import READY, find_text

DAY = date(2024, 11, 24)


def at(stages: Stages, exercise: Exercise) -> Stages:
    """Show the first stage with `exercise`."""
    stages.row = next(row for row, stage in enumerate(stages.stages) if stage.exercise is exercise)
    return stages


def test_the_ready_made_are_offered_first_and_own_files_by_their_name(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text(find_text("achilles"))
    stages = Stages(tmp_path)
    assert names_of(stages.places) == [*READY, "mine.toml"]
    assert stages.kept is not None and stages.kept.place == READY[0] and not stages.is_own


def test_locked_stages_say_so_and_are_not_taken(tmp_path: Path) -> None:
    stages = at(Stages(tmp_path), Exercise.SINGLE_LOWERING)
    assert stages.rows()[stages.row].endswith("(locked)")
    told = stages.details(Side.LEFT)
    assert "the injured leg stands alone" in told and "The treating clinician frees it" in told
    with pytest.raises(OptionError, match="the injured leg stands alone"):
        stages.take(Side.LEFT)


def test_a_stage_that_is_open_is_taken_with_all_that_it_says(tmp_path: Path) -> None:
    stages = at(Stages(tmp_path), Exercise.LOWERING)
    taken = stages.take(Side.RIGHT)
    assert taken.settings.injured is Side.RIGHT and taken.settings.exercise is Exercise.LOWERING
    assert taken.prescription is not None and stages.stage is not None
    # the session's has beside it where each criterion comes from
    assert replace(taken.prescription.stage, sources=()) == replace(stages.stage, sources=())
    assert taken.place == "achilles" and len(taken.prescription.sha256) == 64


def test_only_a_copy_is_freed_and_by_somebody(tmp_path: Path) -> None:
    stages = at(Stages(tmp_path / "own"), Exercise.SINGLE_LOWERING)
    with pytest.raises(ProgrammeError) as caught:
        stages.free("AB", DAY)
    assert str(caught.value) == IS_READY_MADE
    row = stages.row
    place = stages.copy()
    assert Path(place).parent == tmp_path / "own" and stages.is_own and stages.row == row
    with pytest.raises(ProgrammeError, match="Say who frees it"):
        stages.free("  ", DAY)
    stages.free("AB", DAY)
    assert "Freed by AB on 2024-11-24." in stages.details(Side.LEFT) and not stages.rows()[row].endswith("(locked)")
    assert stages.take(Side.LEFT).settings.exercise is Exercise.SINGLE_LOWERING
    assert Stages(tmp_path / "own").kept == Stages(tmp_path / "own", "achilles").kept, "the ready-made one is as it was"


def test_copies_never_write_over_each_other(tmp_path: Path) -> None:
    names = set()
    for _ in range(3):
        names.add(Path(Stages(tmp_path).copy()).name)
    assert names == {"achilles.toml", "achilles-2.toml", "achilles-3.toml"}


def test_a_load_in_percent_needs_the_body_weight(tmp_path: Path) -> None:
    text = find_text("partial-load").replace('load = "10kg"', 'load = "20%"').replace('ceiling = "15kg"', "")
    text = text.replace("locked = true", "locked = false", 1)
    (tmp_path / "part.toml").write_text(
        text.replace('load-held = "7 to 13"', "").replace('over-ceiling = "at most 0"', "", 1)
    )
    stages = Stages(tmp_path, str(tmp_path / "part.toml"))
    assert not stages.trouble and stages.needs_weight()
    for wrong in ("", "heavy", "nan", "4000"):
        with pytest.raises(OptionError, match="Give the body weight in kg"):
            stages.take(Side.LEFT, wrong)
    assert stages.take(Side.LEFT, "70,5 kg").settings.body_weight_N == pytest.approx(70.5 * STANDARD_GRAVITY)


def test_a_file_with_a_mistake_says_which_and_offers_nothing(tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.toml"
    wrong.write_text(
        find_text("achilles").replace("target_percent = 50", "target_percent = 500", 1) + "colour = 'red'\n"
    )
    stages = Stages(tmp_path, str(wrong))
    told = stages.details(Side.LEFT).splitlines()
    assert stages.rows() == [] and told[0] == "2 mistakes: this file cannot be practised by."
    assert len([line for line in told if line.startswith("Line ")]) == 2, "all of them, each on a line"
    assert told[2].startswith("Line 24, stage 1 (hold-10), target_percent: 500 is not allowed: write a number from 0")
    with pytest.raises(ProgrammeError, match="target_percent"):
        stages.take(Side.LEFT)
    assert stages.can_change, "in the window too it is put right"
    mended = stages.text.replace("= 500", "= 50").replace("colour = 'red'", "")
    assert stages.keep(mended).endswith("wrong-2.toml") and not stages.trouble and stages.rows()
    wrong.write_text("no TOML at all")
    stages.open(str(wrong))
    assert not stages.can_change and "no line of a programme" in stages.details(Side.LEFT)
    assert "Alt+G" not in stages.details(Side.LEFT), "what is no TOML is no draft either"
    wrong.write_text("colour = 1\n" + "".join(f"colour{number} = 1\n" for number in range(9)))
    stages.open(str(wrong))
    assert "\u2026 and 8 more." in stages.details(Side.LEFT)
    stages.open("achilles")
    assert stages.rows() and not stages.trouble


def test_the_stage_that_is_practised_is_shown_first(tmp_path: Path) -> None:
    stage = Stages(tmp_path).stages[3]
    assert Stages(tmp_path, "achilles", stage.key).stage == stage


def test_a_change_is_kept_beside_under_another_version(tmp_path: Path) -> None:
    stages = Stages(tmp_path)
    assert stages.kept is not None
    text = stages.kept.text.replace("sets = 3", "sets = 4", 1)
    with pytest.raises(ProgrammeError, match="another version"):
        stages.keep(text)
    changed = text.replace(f'version = "{stages.kept.programme.version}"', 'version = "9"')
    place = stages.keep(changed)
    assert stages.kept is not None and stages.kept.place == place and stages.kept.programme.version == "9"
    with pytest.raises(ProgrammeError):
        stages.keep(changed.replace("exercise = ", "exercize = ", 1))
    stages.open("achilles")
    assert stages.versions() == {"1.0", "9"}
    with pytest.raises(ProgrammeError, match="another version"):
        stages.keep(changed.replace("sets = 4", "sets = 5", 1))
    assert [path.name for path in tmp_path.iterdir()] == ["achilles.toml"]
