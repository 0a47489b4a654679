"""A session of a programme's stage on the virtual scales: what was prescribed stays with what was done."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from weightshare.cli import build_parser
from weightshare.cli.practise import make_options
from weightshare.practice.engine import Engine
from weightshare.practice.option import PractiseOptions
from weightshare.programme.shelf import find_programme, ready_text
from weightshare.records.setting import read_head
from weightshare.scales.rig import HostClock, rig_transport

SPEED = 10.0


def asked(place: Path, *words: str) -> PractiseOptions:
    args = build_parser().parse_args(["practise", "--injured", "left", "--headless", "--save", str(place), *words])
    return make_options(args)


def run(options: PractiseOptions, person: str, wait_until: Any) -> tuple[Path, dict[str, Any]]:
    """Practise until it is over; return the session's folder and its analysis."""
    clock = HostClock(SPEED)
    transport = rig_transport(person, options.settings, options.goal, clock=clock)
    engine = Engine(options, clock.now_ns, transport)
    engine.start()
    try:
        wait_until(lambda: engine.is_over, within_s=60.0)
    finally:
        folder = engine.stop().folder
    assert folder is not None
    return folder, json.loads((folder / "analysis.json").read_bytes())


def test_a_session_keeps_the_stage_with_version_and_hash(tmp_path: Path, wait_until: Any) -> None:
    words = "--programme achilles --stage lowering-80 --sets 1 --repetitions 2 --seconds 60"
    folder, analysis = run(asked(tmp_path, *words.split()), "raiser", wait_until)
    kept = read_head(folder).prescription
    assert kept is not None and kept.stage == find_programme("achilles").find("lowering-80")
    assert (kept.version, kept.sha256) == ("1.0", find_programme("achilles").sha256)
    assert kept.changed == ("--sets 1, not 3", "--repetitions 2, not 10")
    assert [len(one["repetitions"]) for one in analysis["sets"]] == [2]


def test_a_load_is_held_with_nobody_weighed(tmp_path: Path, wait_until: Any) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_text(ready_text("partial-load").replace("locked = true", "locked = false"), encoding="utf-8")
    words = f"--programme {mine} --stage 20-kg --hold-goal 5 --holds 1 --seconds 16"
    folder, analysis = run(asked(tmp_path, *words.split()), "steady", wait_until)
    assert analysis["longest_hold_s"] >= 5.0 and analysis["ceiling"] == []
    assert (analysis["body_weight_N"], analysis["share_percent"]["mean"]) == (None, None)
    assert read_head(folder).settings.load_N is not None
