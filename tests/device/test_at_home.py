"""A session at home on the virtual scales, from empty plates to the end, without a key: engine, flow and rig."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.leash import LeashedEngine
from weightshare.model import Side
from weightshare.practice.flow import Action, Flow
from weightshare.practice.home import COUNT_S, Home
from weightshare.practice.option import PractiseOptions
from weightshare.practice.screen import Step
from weightshare.records.session import analyse_session
from weightshare.task import Goal, Settings

SETTINGS = Settings(Side.LEFT, target_percent=75.0)
GOAL = Goal(hold_s=3.0, holds=1)


def test_stepping_on_begins_the_hold_and_reaching_its_goal_ends_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    options = PractiseOptions(SETTINGS, GOAL, sources=("rig:steady",), save=tmp_path)
    engine, flow, home = LeashedEngine(options, "steady"), Flow(SETTINGS, GOAL, options.sources), Home()
    began_s: list[float] = []
    counted: list[str] = []

    def done() -> bool:
        view = engine.view()
        screen, action = home.follow(flow, view, *flow.update(view), may_begin=True)
        if screen.headline.startswith("Stand still. It begins in"):
            counted.append(screen.headline)
        if action is Action.BEGIN:
            assert view.snapshot.time_s is not None
            began_s.append(view.snapshot.time_s)
            engine.begin_practice()
        return flow.step is Step.DONE

    engine.start()
    try:
        engine.until(done)
    finally:
        finished = engine.stop()
    assert len(began_s) == 1
    # from five on down, each second once
    assert [line.split()[5] for line in dict.fromkeys(counted)] == [str(left) for left in range(round(COUNT_S), 0, -1)]
    assert finished.folder is not None
    analysis = analyse_session(finished.folder)
    assert analysis.holds and analysis.holds[0].start_s >= began_s[0] - 0.1, "nothing counts before it began"
