"""Eight weeks behind, the decision for one leg ahead: what a clinician does with the commands, one after the other."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.lab.weeks import CODE, OTHERS
from weightshare.cli import main
from weightshare.errors import OptionError
from weightshare.exercise import Exercise
from weightshare.practice.option import PractiseOptions

Say = Callable[..., tuple[str, str]]


@pytest.fixture
def say(weeks: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Say:
    """Run a command on a copy of the store; return what it says."""
    place = tmp_path / "store"
    shutil.copytree(weeks, place)

    def run(*words: str, status: int = 0, stored: bool = True) -> tuple[str, str]:
        capsys.readouterr()
        assert main([*words, *(["--store", str(place)] if stored else [])]) == status, capsys.readouterr().err
        said = capsys.readouterr()
        return said.out, said.err

    return run


def test_from_the_list_to_the_decision_for_one_leg(say: Say, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    listed = json.loads(say("patient", "list", "--json")[0])["patients"]
    assert [one["code"] for one in listed] == sorted([CODE, *(code for code, *_rest in OTHERS)])
    shown = say("patient", "show", CODE, "--trend")[0]
    assert "mean share in the lowering" in shown and "3 days only" in shown
    # beside the target stands the share while it was asked for, not that of standing and resting as well
    lowered = [line.split() for line in shown.splitlines() if " lowering " in line and " 90 % " in line]
    assert lowered and all(abs(float(fields[fields.index("90") + 2]) - 90.0) < 5.0 for fields in lowered)
    evidence = json.loads(say("evidence", CODE, "--json")[0])
    assert evidence["next_stage"] == "one-leg-down" and evidence["next_locked_by"] == ["one-leg"]
    rows = {one["measure"]: one for one in evidence["criteria"]}
    assert len(rows) == 14 and rows["sets-done"]["value"] == 3.0
    for name in ("share-lowering", "share-blind", "height-index", "lowering-time", "pain-next-morning"):
        assert rows[name]["of_this_patient"]["days"] == 3, name
    assert rows["clinician"]["in_this_set"] is None, "that is nobody's but the clinician's"
    words = ("--reason", "even on the way down, quiet mornings", "--by", "C. L.")
    out, err = say("decide", CODE, "--decision", "go-on", *words)
    assert f"{CODE} goes on, lowering-90 -> one-leg-down" in out and "stays locked" in err
    assert "goes on: lowering-90 -> one-leg-down" in say("patient", "show", CODE)[0]
    assert json.loads(say("patient", "list", "--json")[0])["patients"][2]["stage"] == "lowering-90", "it moves nobody"
    own = str(tmp_path / "own.toml")
    say("patient", "change", CODE, "--stage", "one-leg-down")
    assert "locked" in say("practise", "--patient", CODE, "--headless", status=OptionError.exit_status)[1]
    say("programme", "copy", "achilles", own, stored=False)
    say("programme", "free", own, "--stage", "one-leg-down", "--by", "C. L.", stored=False)
    say("patient", "change", CODE, "--programme", own)
    seen: list[PractiseOptions] = []

    def see(options: PractiseOptions, _args: object) -> int:
        seen.append(options)
        return 0

    monkeypatch.setattr("weightshare.cli.practise._run_headless", see)
    assert "one-leg-down" in say("practise", "--patient", CODE, "--headless", "--source", "rig:raiser")[1]
    (options,) = seen
    assert options.settings.exercise is Exercise.SINGLE_LOWERING and options.settings.injured == "left"
    assert say("store", "check")[1] == ""
    trail = say("patient", "show", CODE, "--trail")[0]
    for step in ("took in a session", "wrote in a diary", "decided", "saw", "looked at the evidence", "changed"):
        assert step in trail
