"""Settings that cannot be: why is said beside them in plain words, and what is in force comes back."""

from __future__ import annotations

import pytest

from tests.window.conftest import GOAL, SOURCE, Bench
from tests.window.test_settings import ALT, Key, beside, choose, press, type_in
from weightshare.exercise import Ceiling, Exercise, Surface, Tempo
from weightshare.model import Side
from weightshare.task import Settings
from weightshare.window import choice, complaint
from weightshare.window.bar import SettingsBar
from weightshare.window.main import PracticeWindow

FOLLOWED = {
    Exercise.HEEL_HOLD: 50.0,
    Exercise.RAISE: 50.0,
    Exercise.SQUAT: 50.0,
    Exercise.SIT_TO_STAND: 50.0,
    Exercise.LOWERING: 75.0,
    Exercise.SINGLE_LOWERING: 100.0,
    Exercise.SINGLE_RAISE: 100.0,
}


def open_page(bench: Bench, window: PracticeWindow) -> None:
    press(bench, Key.Key_M, ALT)
    bench.until(lambda: not window.desk.sheet.isHidden())


def enter(bench: Bench, key: Key, text: str, last: Key = Key.Key_Return) -> None:
    press(bench, key, ALT)
    type_in(bench, text, last)


def test_escape_gives_up_what_was_changed_on_the_page_and_closes_it(bench: Bench) -> None:
    """It was a trap: with a wrong entry neither Enter nor Escape closed it."""
    window = bench.open()
    choose(window, Exercise.RAISE)
    before = window.flow.settings, window.flow.goal
    open_page(bench, window)
    enter(bench, Key.Key_R, "90", Key.Key_Tab)
    assert window.flow.goal.rest_s == 90.0
    enter(bench, Key.Key_L, "twenty")
    assert not window.desk.sheet.isHidden()
    press(bench, Key.Key_Escape)
    assert window.desk.sheet.isHidden() and window.board.hasFocus() and window.bar.isEnabled()
    assert (window.flow.settings, window.flow.goal) == before and not window.flow.asking_to_end
    open_page(bench, window)
    assert window.desk.sheet.ceiling.currentText() == "none" and window.desk.sheet.rest.value() == before[1].rest_s
    press(bench, Key.Key_Escape)


def test_enter_with_a_wrong_entry_says_why_beside_the_field(bench: Bench) -> None:
    window = bench.open()
    choose(window, Exercise.RAISE)
    open_page(bench, window)
    for key, text, name, why in (
        (Key.Key_L, "twenty", "Ceiling of load", "Ceiling of load twenty: give kilograms, as in 20kg, or percent"),
        (Key.Key_F, "25", "Full raise", "Full raise 25 mm: it may be 30 to 300 mm"),
        (Key.Key_R, "9999", "Rest between sets", "Rest between sets 9999 s: it may be 0 to 1800 s"),
        (Key.Key_H, "two", "Sets without help", "Sets without help two: give the numbers"),
    ):
        enter(bench, key, text)
        assert not window.desk.sheet.isHidden(), name
        assert beside(window, name).startswith(why) and "--" not in beside(window, name)
    press(bench, Key.Key_Escape)
    assert not beside(window, "Ceiling of load").startswith("Ceiling of load twenty")


def test_the_lowest_full_raise_is_that_of_the_settings(bench: Bench) -> None:
    window = bench.open()
    choose(window, Exercise.RAISE)
    open_page(bench, window)
    enter(bench, Key.Key_F, "30")
    assert window.desk.sheet.isHidden() and window.flow.settings.reference_height_mm == 30.0
    window.desk.sheet.height_mm.stepDown()
    assert window.flow.settings.reference_height_mm is None


def test_a_wrong_tempo_is_said_under_its_field_and_the_one_in_force_comes_back(bench: Bench) -> None:
    """The session went on with the old tempo while the field showed the wrong one."""
    window = bench.open()
    choose(window, Exercise.RAISE)
    enter(bench, Key.Key_P, "1-1-3-1")
    assert window.flow.settings.tempo == Tempo(1, 1, 3, 1)
    enter(bench, Key.Key_P, "9-x")
    wrong = window.bar.wrong
    assert wrong.isVisible() and wrong.text().startswith("Tempo 9-x: give seconds up")
    assert window.bar.tempo.hasFocus() and window.bar.tempo.currentText() == "9-x", "it stays to be put right"
    assert wrong.fontInfo().pixelSize() >= 18
    press(bench, Key.Key_Tab)
    assert window.bar.tempo.currentText() == "1-1-3-1" and window.flow.settings.tempo == Tempo(1, 1, 3, 1)
    assert wrong.isVisible() and wrong.text().endswith("It stays as it was.")
    enter(bench, Key.Key_P, "9-x")
    press(bench, Key.Key_Escape)
    assert window.bar.tempo.currentText() == "1-1-3-1" and not wrong.text() and window.board.hasFocus()


@pytest.mark.parametrize("source", ["rig:nobody", "rig:steady,seed=x", "elsewhere"])
def test_a_wrong_source_leaves_the_session_alone(bench: Bench, source: str) -> None:
    window = bench.open(source="rig:steered")
    enter(bench, Key.Key_C, source)
    assert window.flow.source == "rig:steered" and len(bench.feeds) == 1
    said = window.bar.wrong.text()
    assert said and "--" not in said and window.bar.wrong.isVisible()
    press(bench, Key.Key_Escape)
    assert window.bar.source.currentText() == "rig:steered" and not window.bar.wrong.text()


def test_a_number_beyond_its_limits_is_refused_and_not_cut_short(bench: Bench) -> None:
    """Typing 150 repetitions asked for 15 of them."""
    window = bench.open()
    choose(window, Exercise.RAISE)
    asked = window.flow.goal.repetitions
    enter(bench, Key.Key_R, "150")
    assert window.flow.goal.repetitions == window.bar.repetitions.value() == asked
    assert window.bar.wrong.text() == "Repetitions 150: it may be 1 to 100"
    enter(bench, Key.Key_R, "15")
    assert window.flow.goal.repetitions == 15 and not window.bar.wrong.text()


@pytest.mark.parametrize("exercise", [exercise for exercise in Exercise if not exercise.is_single])
@pytest.mark.parametrize("typed", ["100", "97", "2"])
def test_nobody_is_asked_to_stand_on_one_leg_in_an_exercise_on_two(
    bench: Bench, exercise: Exercise, typed: str
) -> None:
    """The window took 100 % for work on two legs, and asked for more and more weight on one foot."""
    window = bench.open()
    choose(window, exercise)
    before = window.flow.settings.target_percent
    enter(bench, Key.Key_T, typed)
    assert window.flow.settings.target_percent == window.bar.target.value() == before
    said = window.bar.wrong.text()
    assert said.startswith(f"Target {typed}: on two legs") and choice.EXERCISES[Exercise.SINGLE_LOWERING] in said
    assert "--" not in said
    press(bench, Key.Key_Return)
    assert window.board.hasFocus()


def test_a_target_follows_the_exercise(bench: Bench) -> None:
    window = bench.open()
    for exercise, percent in FOLLOWED.items():
        choose(window, exercise)
        assert window.flow.settings.target_percent == percent, exercise
    choose(window, Exercise.RAISE)
    choose(window, Exercise.HOLD)
    assert window.flow.settings.target_percent == 50.0, "a hold keeps what is there"


def test_a_target_that_was_set_stays_for_work_on_as_many_legs(bench: Bench) -> None:
    window = bench.open()
    choose(window, Exercise.LOWERING)
    enter(bench, Key.Key_T, "60")
    choose(window, Exercise.SQUAT)
    assert window.flow.settings.target_percent == 60.0
    choose(window, Exercise.SINGLE_RAISE)
    assert window.flow.settings.target_percent == 100.0
    choose(window, Exercise.HOLD)
    assert window.flow.settings.target_percent == choice.DEFAULT_PERCENT, "100 % is one leg"


def test_where_the_other_leg_works_nothing_is_asked_of_the_injured_one(bench: Bench) -> None:
    window = bench.open()
    choose(window, Exercise.SINGLE_RAISE)
    window.desk.sheet.working.choose(Side.LEFT)
    assert (window.flow.settings.working, window.flow.settings.target_percent) == (Side.LEFT, 0.0)
    window.desk.sheet.working.choose(Side.RIGHT)
    assert window.flow.settings.target_percent == 100.0


def test_back_on_the_injured_leg_its_usual_share_is_asked_for_again(bench: Bench) -> None:
    """What was put back after a wrong entry was taken for set by hand: 0 % stayed when the injured leg worked again."""
    window = bench.open()
    choose(window, Exercise.SINGLE_RAISE)
    window.desk.sheet.working.choose(Side.LEFT)
    enter(bench, Key.Key_P, "9-x")
    press(bench, Key.Key_Escape)
    assert window.flow.settings.target_percent == 0.0
    window.desk.sheet.working.choose(Side.RIGHT)
    assert window.flow.settings.target_percent == 100.0


def test_what_is_hidden_is_none_of_the_exercises(bench: Bench) -> None:
    """A step, a leg and a tempo went on into squats and holds, where they mean nothing or are refused."""
    window = bench.open()
    choose(window, Exercise.SINGLE_RAISE)
    enter(bench, Key.Key_P, "1-1-3-1")
    window.desk.sheet.surface.choose(Surface.STEP)
    window.desk.sheet.working.choose(Side.RIGHT)
    window.desk.sheet.height_mm.setValue(80.0)
    assert window.flow.settings.surface is Surface.STEP and window.flow.settings.reference_height_mm == 80.0
    choose(window, Exercise.SQUAT)
    settings = window.flow.settings
    assert (settings.surface, settings.working, settings.reference_height_mm) == (Surface.FLOOR, None, None)
    choose(window, Exercise.HOLD)
    assert window.flow.settings.tempo is None


def test_a_ceiling_under_the_target_is_said_on_the_page(bench: Bench) -> None:
    window = bench.open()
    choose(window, Exercise.LOWERING)
    open_page(bench, window)
    enter(bench, Key.Key_L, "25 %")
    said = beside(window, "Ceiling of load")
    assert "75 % on the right foot is over the limit of 25 % of body weight" in said and "--" not in said
    assert window.flow.settings.ceiling is None
    enter(bench, Key.Key_L, "80 %")
    assert window.desk.sheet.isHidden() and window.flow.settings.ceiling == Ceiling(percent=80.0)


@pytest.mark.usefixtures("bench")
def test_no_target_stays_none_until_one_is_set() -> None:
    bar, none = SettingsBar(), Settings(Side.LEFT)
    bar.show_values(none, GOAL, SOURCE)
    assert bar.settings(none) == none and bar.target.text() == "none"
    bar.target.setValue(60.0)
    assert bar.settings(none).target_percent == 60.0
    bar.deleteLater()


@pytest.mark.parametrize(
    ("said", "plain"),
    [
        ("--person nobody: there is no such person", "Virtual person nobody: there is no such person"),
        ("--stage hold is none", "\u201cStand and hold\u201d is none"),
        (
            "choose --stage single-lowering or single-raise",
            "choose \u201cUp on two, down on one\u201d or \u201cHeel raises, one leg\u201d",
        ),
        ("--target 75 --ceiling 20kg: too much", "Target 75, Ceiling of load 20kg: too much"),
        ("--basis force: on a step", "Repetitions from forces alone: on a step"),
        ("--basis paced needs --stage and --tempo: so", "Repetitions from the metronome need a tempo: so"),
    ],
)
def test_a_complaint_names_fields_and_no_options(said: str, plain: str) -> None:
    assert complaint.plain(said) == plain


def test_every_field_that_a_complaint_names_is_called_so_in_the_window(bench: Bench) -> None:
    window = bench.open()
    assert {*window.desk._fields(), "Virtual person"} >= set(complaint.FIELDS.values())
