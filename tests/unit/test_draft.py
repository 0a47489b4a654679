"""A programme while it is changed: comments stay, every key can be said, every mistake lies beside its key."""

from __future__ import annotations

import tomllib

import pytest

from weightshare.programme.criterion import Measure
from weightshare.programme.draft import Draft, Spot, keys_of, mistake_at
from weightshare.programme.reading import check_text
from weightshare.programme.shelf import READY, ready_text
from weightshare.programme.typed import next_version


def test_what_is_not_changed_stays_letter_by_letter() -> None:
    for name in READY:
        draft = Draft(ready_text(name))
        for stage in (None, *range(draft.stages)):
            for key in keys_of(stage):
                draft.say(Spot(stage, key.name), draft.said(Spot(stage, key.name)))
        assert draft.text == ready_text(name) and not draft.is_changed and draft.mistakes() == {}


def test_one_key_is_changed_and_all_comments_stay() -> None:
    before = ready_text("achilles")
    draft = Draft(before)
    draft.say(Spot(0, "hold_s"), "12,5")
    lines = [(old, new) for old, new in zip(before.splitlines(), draft.text.splitlines(), strict=True) if old != new]
    assert lines == [("hold_s = 10", "hold_s = 12.5")]


@pytest.mark.parametrize(
    ("key", "words", "value"),
    [
        ("note", "Slowly.", "Slowly."),
        ("name", "12", "12"),
        ("exercise", "lowering", "lowering"),
        ("below_level", "true", True),
        ("target_percent", "62.5", 62.5),
        ("hold_s", "20 s", 20),
        ("target_percent", "62,5 %", 62.5),
        ("added_weight_kg", "5kg", 5),
        ("sets", "4", 4),
        ("blind_sets", "2, 3", [2, 3]),
        ("tempo", "1-1-3-1", "1-1-3-1"),
        ("ceiling", "20kg", "20kg"),
        ("freed", "step, one-leg", ["one-leg", "step"]),
        ("freed_on", "2026-11-24", "2026-11-24"),
        (
            "criteria",
            'sets-done = at least 3\nclinician = "no limp"',
            {"sets-done": "at least 3", "clinician": "no limp"},
        ),
    ],
)
def test_words_become_what_their_key_takes(key: str, words: str, value: object) -> None:
    draft = Draft(ready_text("achilles"))
    draft.say(Spot(4, key), words)
    found = tomllib.loads(draft.text)["stages"][4][key]
    assert (str(found) if key == "freed_on" else found) == value


def test_nothing_typed_takes_the_key_away() -> None:
    draft = Draft(ready_text("achilles"))
    draft.say(Spot(0, "note"), "  ")
    assert "note" not in tomllib.loads(draft.text)["stages"][0] and draft.said(Spot(0, "note")) == ""


@pytest.mark.parametrize(
    ("spot", "words", "said"),
    [
        (Spot(0, "hold_s"), "a while", "a number from 1 to 3600 s"),
        (Spot(0, "target_percent"), "98", "on two legs it lies between"),
        (Spot(0, "hold_s"), "0,5", "0.5 is not allowed: write a number from 1 to 3600 s"),
        (Spot(4, "repetitions"), "110", "110 is not allowed: write a whole number from 1 to 100"),
        (Spot(1, "key"), "No Spaces", "small letters"),
        (Spot(2, "tempo"), "fast", "as in"),
        (Spot(0, "criteria"), "holds-done = some", 'holds-done: "some" is no limit'),
        (Spot(0, "criteria"), "holds-done =", 'holds-done: "" is no limit'),
        (Spot(0, "criteria"), "a line without a sign", "is no key"),
        (Spot(0, "sources"), "nonsense = mine", "is no key"),
        (Spot(None, "version"), "", "is missing"),
        (Spot(None, "pain_limit"), "11", "a whole number from 0 to 10"),
    ],
)
def test_a_mistake_lies_beside_its_key(spot: Spot, words: str, said: str) -> None:
    draft = Draft(ready_text("achilles"))
    draft.say(spot, words)
    found = draft.mistakes()
    assert said in mistake_at(found, spot) and {one.stage for one in found} == {spot.stage}


def test_a_copied_stage_has_its_own_name_and_nothing_freed() -> None:
    draft = Draft(ready_text("achilles"))
    before = draft.stages
    draft.say(Spot(0, "note"), "Mine.")
    draft.copy_stage(0)
    draft.copy_stage(0)
    programme, mistakes = check_text(draft.text)
    assert programme is not None and not mistakes and len(programme.stages) == before + 2
    assert [one.key for one in programme.stages[:3]] == ["hold-10", "hold-10-3", "hold-10-2"]
    assert programme.stages[2].note == "Mine." and programme.stages[2].criteria == programme.stages[0].criteria
    assert draft.text.startswith(ready_text("achilles").splitlines()[0]), "the head's comments stay"


def test_a_copy_of_a_freed_stage_is_locked_again() -> None:
    draft = Draft(ready_text("achilles"))
    row = next(n for n in range(draft.stages) if draft.said(Spot(n, "exercise")) == "single-lowering")
    for key, words in (("freed", "one-leg"), ("freed_by", "AB"), ("freed_on", "2026-11-24")):
        draft.say(Spot(row, key), words)
    draft.copy_stage(row)
    programme, mistakes = check_text(draft.text)
    assert programme is not None, mistakes
    assert not programme.stages[row].shut and programme.stages[row + 1].shut
    draft.say(Spot(row, "exercise"), "single-raise")
    assert draft.is_shut(row) and draft.said(Spot(row, "freed_by")) == "", "another exercise was not freed"


def test_a_stage_goes_but_not_the_last_one() -> None:
    draft = Draft(ready_text("even-load"))
    second = draft.said(Spot(1, "key"))
    draft.remove_stage(0)
    assert draft.said(Spot(0, "key")) == second and check_text(draft.text)[0] is not None
    for _ in range(20):
        draft.remove_stage(0)
    assert draft.stages == 1


def test_what_may_be_chosen_is_known_of_each_key() -> None:
    kinds = {key.name: key.kind.options for key in keys_of(0)}
    assert kinds["surface"] == ("floor", "step") and kinds["supported"] == ("true", "false")
    assert "lowering" in kinds["exercise"] and kinds["note"] == () and kinds["freed"] == ()


def row_of(draft: Draft, key: str) -> int:
    return next(number for number in range(draft.stages) if draft.said(Spot(number, "key")) == key)


def test_where_nothing_is_said_it_is_told_what_holds() -> None:
    draft = Draft(ready_text("achilles"))
    hold, narrow, wide = (row_of(draft, key) for key in ("hold-10", "lowering-80", "lowering-75"))
    told = {key: draft.in_force(Spot(narrow, key)) for key in ("tolerance_points", "surface", "one_sided", "rest_s")}
    assert told == {"tolerance_points": "5", "surface": "floor", "one_sided": "false", "rest_s": "60"}
    assert [draft.in_force(Spot(row, "mean_tolerance_points")) for row in (wide, narrow)] == ["5", "2.5"]
    assert draft.in_force(Spot(hold, "pain_limit")) == "2", "the programme's"
    draft.say(Spot(None, "pain_limit"), "3")
    assert draft.in_force(Spot(hold, "pain_limit")) == "3"
    assert (draft.in_force(Spot(hold, "ceiling")), draft.in_force(Spot(hold, "exercise"))) == ("", "")
    draft.say(Spot(narrow, "target_percent"), "a lot")
    assert draft.in_force(Spot(narrow, "tolerance_points")) == "5", "also where something else is wrong"


def test_what_has_no_place_in_a_stage_is_told_unless_it_is_said() -> None:
    draft = Draft(ready_text("achilles"))
    hold, down = row_of(draft, "hold-10"), row_of(draft, "one-leg-down")
    assert {"sets", "tempo", "leg", "load", "freed"} <= draft.misplaced(hold)
    assert not {"hold_s", "holds", "target_percent"} & draft.misplaced(hold)
    assert {"hold_s", "target_percent", "freed_by"} <= draft.misplaced(down)
    assert not {"leg", "freed", "sets"} & draft.misplaced(down)
    draft.say(Spot(hold, "sets"), "3")
    assert "sets" not in draft.misplaced(hold), "it stays to be seen, with what is wrong with it"
    draft.say(Spot(hold, "exercise"), "no exercise")
    assert "tempo" not in draft.misplaced(hold), "as long as nobody knows, anything may be said"


def test_a_stage_offers_the_measures_that_it_has() -> None:
    draft = Draft(ready_text("achilles"))
    hold = row_of(draft, "hold-10")
    assert Measure.SHARE_HELD in draft.measures(hold) and Measure.SHARE_LOWERING not in draft.measures(hold)
    assert Measure.OVER_CEILING not in draft.measures(hold)
    draft.say(Spot(hold, "ceiling"), "80 %")
    assert Measure.OVER_CEILING in draft.measures(hold) and draft.said(Spot(hold, "ceiling")) == "80%"


def test_locked_stages_are_told_apart_from_freed_ones() -> None:
    draft = Draft(ready_text("achilles"))
    down = row_of(draft, "one-leg-down")
    assert draft.is_shut(down) and not draft.is_shut(0) and not draft.locks(0)
    for key, words in (("freed", "one-leg"), ("freed_by", "AB"), ("freed_on", "2026-11-24")):
        draft.say(Spot(down, key), words)
    assert not draft.is_shut(down) and draft.locks(down)


def test_one_criterion_is_changed_and_the_others_stay_letter_by_letter() -> None:
    before = ready_text("achilles").replace('pain-during = "at most 2"', 'pain-during = "at most 2"  # of 10', 1)
    draft = Draft(before)
    draft.say(Spot(0, "criteria"), draft.said(Spot(0, "criteria")).replace("at least 5", "at least 4"))
    lines = [(old, new) for old, new in zip(before.splitlines(), draft.text.splitlines(), strict=True) if old != new]
    assert lines == [('holds-done = "at least 5"', 'holds-done = "at least 4"')]


def test_a_new_stage_is_sound_and_stages_change_places() -> None:
    draft = Draft(ready_text("achilles"))
    draft.add_stage(1)
    programme, mistakes = check_text(draft.text)
    assert programme is not None, mistakes
    assert programme.stages[2].key == "stage-19" and programme.stages[2].target_percent == 50.0
    draft.move_stage(2, -1)
    assert [draft.said(Spot(number, "key")) for number in range(3)] == ["hold-10", "stage-19", "hold-30"]
    draft.move_stage(0, -1)
    assert draft.said(Spot(0, "key")) == "hold-10" and draft.mistakes() == {}
    draft.remove_stage(1)
    assert draft.text == ready_text("achilles"), "nothing else has changed, and no line has come"


def test_what_no_field_is_for_is_put_right_at_once() -> None:
    text = ready_text("achilles").replace("programme/1", "programme/9").replace("holds = 5", "hold = 5", 1)
    draft = Draft(f"colour = 1\n{text}")
    assert draft.unplaced(None) == [Spot(None, "colour"), Spot(None, "schema")]
    assert draft.unplaced(0) == [Spot(0, "hold")]
    for stage in (None, 0):
        draft.mend(stage)
    assert draft.mistakes() == {} and "hold = 5" not in draft.text and "colour" not in draft.text
    assert draft.said(Spot(0, "holds")) == "5", "what was misspelt keeps its value"


def test_stages_on_one_line_are_arranged_too() -> None:
    one = '{key = "a", name = "A", exercise = "raise", target_percent = 50}'
    text = f'schema = "weightshare.programme/1"\nname = "M"\nstages = [{one}]\nversion = "1"\n'
    draft = Draft(text)
    draft.say(Spot(0, "sets"), "4")
    draft.add_stage(0)
    draft.move_stage(0, 1)
    draft.copy_stage(1)
    programme, mistakes = check_text(draft.text)
    assert programme is not None, mistakes
    assert [stage.key for stage in programme.stages] == ["stage-2", "a", "a-2"] and programme.stages[2].sets == 4


@pytest.mark.parametrize(
    ("version", "after"), [("3", "4"), ("1.0", "1.1"), ("2026-09", "2026-10"), ("b9x", "b10x"), ("mine", "mine 2")]
)
def test_the_next_version(version: str, after: str) -> None:
    assert next_version(version) == after


def test_a_version_that_there_is_already_is_passed_over() -> None:
    """Two changes of the same programme had the same version, and sessions of both could not be told apart by it."""
    assert Draft(ready_text("achilles")).next_version({"1.0", "1.1", "1.2"}) == "1.3"
