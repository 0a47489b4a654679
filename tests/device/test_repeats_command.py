"""Sessions that were really practised and saved, put together by the command that is asked to."""

from __future__ import annotations

import json
import shutil
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.device.test_session_folder import make_session
from weightshare.cli import main
from weightshare.records.manifest import MANIFEST_NAME, Ending, seal


def on_day(folder: Path, day: int) -> Path:
    """Copy a session as one that was begun so many days later."""
    made: Path = shutil.copytree(folder, folder.with_name(f"{folder.name}-{day}"))
    path = made / "settings.json"
    head = json.loads(path.read_text())
    head["started_at"] = (datetime.fromisoformat(head["started_at"]) + timedelta(days=day)).isoformat()
    path.write_text(json.dumps(head))
    seal(made, [one.name for one in made.iterdir() if one.name != MANIFEST_NAME], Ending.COMPLETE, "weightshare 0")
    return made


def answers(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> dict[str, Any]:
    assert main(["analyse", *map(str, arguments), "--json"]) == 0
    content = json.loads(capsys.readouterr().out)
    (one,) = content["decisions"]
    return {**one, "warnings": content["warnings"]}


def refused(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> str:
    assert main(["analyse", *map(str, arguments)]) == 2
    said = capsys.readouterr()
    assert said.out == "" and said.err.count("\n") == 1
    return said.err


def test_the_folder_of_sessions_that_is_named_answers_of_the_patient(
    request: pytest.FixtureRequest, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = make_session(request, tmp_path)
    kept = json.loads((folder / "analysis.json").read_text())["decisions"]
    alone = answers(capsys, folder)
    assert kept == [{name: alone[name] for name in kept[0]}], "looked at again it is what was saved"
    assert alone["measure"] == "mean share while held"
    assert alone["value"] == pytest.approx(75.0, abs=0.1)
    assert alone["in_this_set"]["verdict"] == "met"
    assert alone["of_this_patient"] is None and "one session only" in alone["why_not"]

    later = [on_day(folder, day) for day in (3, 5, 8)]
    (later[2] / "analysis.json").write_text("{}")
    over = answers(capsys, folder, "--repeats", tmp_path)
    assert over["in_this_set"] == alone["in_this_set"], "other days change nothing of this one"
    assert (over["of_this_patient"]["days"], over["of_this_patient"]["sessions"]) == (3, 3)
    assert over["of_this_patient"]["verdict"] == "met"
    assert any(warning.startswith(f"passed over: {later[2]}") for warning in over["warnings"])
    assert main(["analyse", str(folder), "--repeats", str(tmp_path)]) == 0
    assert "of this patient" in capsys.readouterr().out

    nowhere = tmp_path / "nowhere"
    assert f"{nowhere}: is no folder" in refused(capsys, folder, "--repeats", nowhere)
    assert "--detrend goes with --repeats" in refused(capsys, folder, "--detrend")
    trace = folder / "trace.csv"
    assert "--repeats goes with a saved session" in refused(capsys, trace, "--injured", "right", "--repeats", tmp_path)
