"""Every stage of the Achilles programme, from the zero to the end, over the virtual scales' real link.

Held against what the virtual person truly did, which is known by no code of the pipeline's: repetitions one by one, the
share in the lowering, held seconds, sets and rests.
"""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from weightshare.cli import main
from weightshare.exercise import Tempo
from weightshare.model import Side
from weightshare.practice.rehearsal import NEAR_POINTS, Part, Rehearsed, rehearse, shorten
from weightshare.programme.shelf import find_programme
from weightshare.programme.stage import Stage
from weightshare.records.session import load_session

ACHILLES = find_programme("achilles")
STAGES = {stage.key: stage for stage in ACHILLES.programme.stages}
QUICK = Tempo(0.8, 0.5, 1.0, 0.6)
WITH_RESTS = ("hold-10", "one-leg-down-step")
"""Of these more than one set, or hold, is done in the quick run."""


def short(stage: Stage) -> Stage:
    """The stage with less of everything: of most one set."""
    few = replace(shorten(stage), tempo=stage.tempo and QUICK)
    return few if stage.key in WITH_RESTS or stage.to_exhaustion else replace(few, sets=1, holds=1, blind_sets=())


def person_for(stage: Stage) -> str:
    # who tires soon is done soon
    return "tiring" if stage.to_exhaustion else "raiser"


def check(one: Rehearsed) -> None:
    """As many sets or holds as were asked for, all counted, each as it truly was; and no false note of the plates."""
    stage = one.stage
    assert one.agrees and len(one.parts) == one.asked, one.parts
    assert one.messages == (), "on clean plates there is nothing to say of them"
    assert one.assessment.done[0].prescribed == one.assessment.done[0].done == str(one.asked)
    for part in one.parts:
        if not stage.exercise.is_repeated:
            assert part.held_s is not None and part.held_s >= stage.hold_s
        elif stage.to_exhaustion:
            assert part.counted >= 5
        else:
            assert part.counted == stage.repetitions
        if stage.target_percent is not None and part.share_percent is not None:
            assert part.share_percent == pytest.approx(stage.target_percent, abs=1.5)


def usual(stage: Stage) -> object:
    """A set to exhaustion ends once somebody sees that it does: on a busy computer the person has gone on by then."""
    return pytest.param(stage, id=stage.key, marks=pytest.mark.soak if stage.to_exhaustion else ())


@pytest.mark.parametrize("stage", [usual(stage) for stage in STAGES.values()])
def test_every_stage_is_done_and_measured_as_it_was(stage: Stage) -> None:
    check(rehearse(ACHILLES, short(stage), Side.RIGHT, f"{person_for(stage)},rate=20"))


@pytest.mark.soak
@pytest.mark.parametrize("injured", Side)
@pytest.mark.parametrize("stage", STAGES.values(), ids=STAGES)
def test_every_stage_with_all_that_it_prescribes(stage: Stage, injured: Side) -> None:
    check(rehearse(ACHILLES, stage, injured))


def test_a_kept_session_has_the_stage_and_the_next_one_begins_without_a_false_note(tmp_path: Path) -> None:
    """Heels go up in it, and the drift log is one for both: the second began with a plate that had rocked."""
    stage = short(STAGES["hold-30"])
    pair = [rehearse(ACHILLES, stage, Side.LEFT, f"raiser,rate=20,seed={seed}", save=tmp_path) for seed in (3, 4)]
    assert [one.messages for one in pair] == [(), ()]
    assert pair[0].finished.folder is not None
    head = load_session(pair[0].finished.folder).head
    assert head.prescription is not None and head.prescription.stage == stage
    assert (head.prescription.version, head.prescription.sha256) == (ACHILLES.programme.version, ACHILLES.sha256)


@pytest.mark.parametrize(
    ("part", "agrees"),
    [
        (Part(1, 3, 3, 75.0, 75.0 + NEAR_POINTS), True),
        (Part(1, 3, 3, 75.0, 76.1), False),
        (Part(1, 3, 4, 75.0, 75.0), False),
        (Part(1, 3, 3, 75.0, None), False),
        (Part(1, 1, 1, held_s=10.0, true_held_s=10.6), False),
        (Part(1, 1, 0, held_s=10.0), False),
    ],
)
def test_a_part_agrees_where_all_is_counted_and_near_the_truth(part: Part, agrees: bool) -> None:
    assert part.agrees is agrees


def test_the_command_says_it_stage_by_stage(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    mine = tmp_path / "mine.toml"
    text = ACHILLES.text.replace('tempo = "1-1-3-1"', f'tempo = "{QUICK}"')
    mine.write_text(text.replace('lowering-time = "2.5 to 4"', 'lowering-time = "0.5 to 4"'), encoding="utf-8")
    words = ["rehearse", str(mine), "--stage", "one-leg-down", "--short", "--person", "raiser,rate=20"]
    assert main(words) == 0
    head, first, second = capsys.readouterr().out.splitlines()
    assert head.startswith("one-leg-down      as it was: 2 of 2 sets, ")
    assert first.startswith("  set 1: 2 counted of 2 done, 100.0 % on the injured side")
    assert second.startswith("  set 2: 2 counted of 2 done")


def test_what_was_not_measured_as_it_was_is_marked_and_the_command_fails(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A stand-in for the rehearsal: on sound scales nothing of that kind comes."""
    done = rehearse(ACHILLES, replace(short(STAGES["hold-10"]), holds=1), Side.LEFT, "raiser,rate=20")
    off = replace(done, parts=(replace(done.parts[0], true_held_s=1.0),), messages=("the left plate rocks",))
    monkeypatch.setattr("weightshare.practice.rehearsal.rehearse", lambda *_asked, **_more: off)
    assert main(["rehearse", "achilles", "--stage", "hold-10"]) == 1
    told = capsys.readouterr()
    head, hold, note = told.out.splitlines()
    assert "NOT as it was" in head and hold.endswith("s held, truly 1.0") and note == "  the left plate rocks"
    assert "not all that was done was measured as it was" in told.err
    assert main(["rehearse", "achilles", "--stage", "hold-10", "--json"]) == 1
    stage = json.loads(capsys.readouterr().out)["stages"][0]
    assert (stage["agrees"], stage["parts"][0]["true_held_s"]) == (False, 1.0)
    assert main(["rehearse", "achilles", "--stage", "lowering-10"]) == 2
    assert "there is no stage" in capsys.readouterr().err
