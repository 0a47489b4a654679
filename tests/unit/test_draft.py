"""A programme while it is changed: comments stay, every key can be said, every mistake lies beside its key."""

from __future__ import annotations

import tomllib

import pytest

from weightshare.programme.draft import Draft, Spot, keys_of, next_version, options_of
from weightshare.programme.reading import check_text
from weightshare.programme.shelf import READY, ready_text


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
        (Spot(1, "key"), "No Spaces", "small letters"),
        (Spot(2, "tempo"), "fast", "as in"),
        (Spot(0, "criteria"), "holds-done = some", "is no limit"),
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
    assert said in found[spot] and {one.stage for one in found} == {spot.stage}


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


def test_a_stage_goes_but_not_the_last_one() -> None:
    draft = Draft(ready_text("even-load"))
    second = draft.said(Spot(1, "key"))
    draft.remove_stage(0)
    assert draft.said(Spot(0, "key")) == second and check_text(draft.text)[0] is not None
    for _ in range(20):
        draft.remove_stage(0)
    assert draft.stages == 1


def test_what_may_be_chosen_is_known_of_each_key() -> None:
    kinds = {key.name: options_of(key.kind) for key in keys_of(0)}
    assert kinds["surface"] == ("floor", "step") and kinds["supported"] == ("true", "false")
    assert "lowering" in kinds["exercise"] and kinds["note"] == () and kinds["freed"] == ()


@pytest.mark.parametrize(
    ("version", "after"), [("3", "4"), ("1.0", "1.1"), ("2026-09", "2026-10"), ("b9x", "b10x"), ("mine", "mine 2")]
)
def test_the_next_version(version: str, after: str) -> None:
    assert next_version(version) == after
