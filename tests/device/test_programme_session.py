"""A session of a programme's stage on the virtual scales: what was prescribed stays with what was done."""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from tests.leash import LeashedEngine
from weightshare.cli import build_parser
from weightshare.cli.practise import make_options
from weightshare.practice.option import PractiseOptions
from weightshare.programme.judgement import Course
from weightshare.programme.shelf import ready_text
from weightshare.records.assessment import assess_session
from weightshare.records.diary import DIARY_NAME, About, Entry, add_entries
from weightshare.records.manifest import MANIFEST_NAME, Ending, seal
from weightshare.records.session import appraise_session
from weightshare.records.setting import read_head, write_head


def asked(place: Path, *words: str) -> PractiseOptions:
    args = build_parser().parse_args(["practise", "--injured", "left", "--headless", "--save", str(place), *words])
    return make_options(args)


def run(options: PractiseOptions, person: str) -> tuple[Path, dict[str, Any]]:
    """Practise until it is over; return the session's folder and its analysis."""
    engine = LeashedEngine(options, person)
    engine.start()
    try:
        engine.until(lambda: engine.is_over, within_s=600.0)
    finally:
        folder = engine.stop().folder
    assert folder is not None
    return folder, json.loads((folder / "analysis.json").read_bytes())


def test_a_stage_of_holds_goes_on_until_it_was_told_to_stop(tmp_path: Path) -> None:
    """Told nothing it is over with the last one: `tests/device/test_rehearsal.py`."""
    words = "--programme achilles --stage hold-10 --holds 1 --hold-goal 3 --seconds 24"
    _folder, analysis = run(asked(tmp_path, *words.split()), "steady,rate=25")
    held = [one["held_s"] for one in analysis["holds"]]
    assert max(held) >= 3.0 and analysis["duration_s"] > 23.5


def lay_earlier(folder: Path, days: int) -> Path:
    """Lay a copy of a session beside it that began `days` earlier, sealed as its own."""
    head = read_head(folder)
    began = datetime.fromisoformat(head.started_at) - timedelta(days=days)
    other = folder.with_name(f"session-{began:%Y-%m-%d-%H%M%S}")
    shutil.copytree(folder, other)
    write_head(other, replace(head, started_at=began.isoformat()))
    names = [path.name for path in other.iterdir() if path.name not in (MANIFEST_NAME, DIARY_NAME)]
    seal(other, names, Ending.COMPLETE, "weightshare test")
    return other


def test_days_are_counted_and_the_diary_hinders_no_seal(tmp_path: Path) -> None:
    mine = tmp_path / "mine.toml"
    text = ready_text("achilles").replace('key = "hold-10"', 'key = "hold-10"\ndays = 2')
    mine.write_text(text.replace("hold_s = 10\nholds = 5", "hold_s = 3\nholds = 1").replace("at least 5", "at least 1"))
    words = f"--programme {mine} --stage hold-10 --seconds 22"
    folder, _ = run(asked(tmp_path, *words.split()), "raiser")
    said = [
        Entry(About.PAIN_DURING, "2026-11-24T10:00:00+01:00", 1),
        Entry(About.PAIN_NEXT_MORNING, "2026-11-25T08:00:00+01:00", 1),
    ]
    add_entries(folder, *said)
    appraisal = appraise_session(folder)
    alone = assess_session(folder, appraisal)
    assert alone is not None and alone.is_met
    assert (alone.days_met, alone.suggestion.course) == (1, Course.AGAIN)
    other = lay_earlier(folder, days=1)
    both = assess_session(folder, appraisal)
    assert both is not None and (both.days_met, both.suggestion.course) == (2, Course.NEXT)
    (other / "analysis.json").write_text("{}")
    changed = assess_session(folder, appraisal)
    assert changed is not None and changed.days_met == 1, "an altered session is no proof"


def test_a_load_is_held_with_nobody_weighed(tmp_path: Path) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_text(ready_text("partial-load").replace("locked = true", "locked = false"), encoding="utf-8")
    words = f"--programme {mine} --stage 20-kg --hold-goal 5 --holds 1 --seconds 16"
    folder, analysis = run(asked(tmp_path, *words.split()), "steady")
    assert analysis["longest_hold_s"] >= 5.0 and analysis["ceiling"] == []
    assert (analysis["body_weight_N"], analysis["share_percent"]["mean"]) == (None, None)
    assert read_head(folder).settings.load_N is not None
