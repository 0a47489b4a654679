"""The window on real sessions: the virtual scales, their faults, a port where nobody answers, a killed program."""

from __future__ import annotations

import json
import signal
import socket
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from tests.window.conftest import Bench
from weightshare.exercise import Exercise, Tempo
from weightshare.model import Side
from weightshare.practice.option import PractiseOptions
from weightshare.practice.screen import Screen, Step
from weightshare.records.session import unfinished
from weightshare.task import Goal, Settings
from weightshare.window.app import feed_of
from weightshare.window.main import PracticeWindow
from weightshare.window.recovery import Recovery

SETTINGS = Settings(Side.RIGHT, target_percent=75.0)
GOAL = Goal(hold_s=4.0, holds=1)


def open_on(bench: Bench, source: str, save: Path, *, recovery: Recovery | None = None) -> PracticeWindow:
    options = PractiseOptions(SETTINGS, GOAL, sources=(source,), save=save)
    bench.store.cautions_read = True
    window = PracticeWindow(SETTINGS, GOAL, (source,), feed_of(options), bench.store, recovery=recovery)
    bench.keep(window)
    window.resize(1366, 768)
    window.show()
    return window


def screen_of(window: PracticeWindow) -> Screen:
    assert window.screen_shown is not None
    return window.screen_shown


def painted(window: PracticeWindow) -> dict[str, str]:
    return {line.name: line.text for _view, line in window.board.lines()}


@pytest.mark.soak
@pytest.mark.parametrize(
    ("source", "whose"),
    [
        ("rig:steady,faults=unplugged", "trying"),
        ("rig:steady,separate=yes,faults=one-unplugged", "the right scale"),
    ],
)
def test_a_session_on_the_virtual_scales_to_its_kept_record(
    bench: Bench, tmp_path: Path, source: str, whose: str
) -> None:
    """Link, zero, weighing, a hold of four seconds; the cable is out from 14 s on and comes back."""
    window = open_on(bench, source, tmp_path)
    seen: list[Step] = []
    window.board.path.after_paint = lambda _sample_s, age_s: ages.append((age_s, screen_of(window)))
    ages: list[tuple[float, Screen]] = []

    def stepped_to(step: Step) -> bool:
        if screen_of(window).step not in seen:
            seen.append(screen_of(window).step)
        return screen_of(window).step is step

    bench.until(lambda: stepped_to(Step.READY), 30.0)
    assert seen == [Step.CONNECT, Step.ZERO, Step.WEIGH, Step.READY]
    QTest.keyClick(window.board, Qt.Key.Key_Space)
    bench.until(lambda: screen_of(window).blank and any(whose in said for said in screen_of(window).warnings), 20.0)
    assert screen_of(window).state == "link lost"
    assert not {"share", "held", "load", "holds"} & painted(window).keys()
    # of two scales the one that comes back has to be placed in time before there is a share again
    bench.until(lambda: not screen_of(window).blank and "share" in painted(window), 20.0)
    bench.until(lambda: stepped_to(Step.DONE), 30.0)
    bench.until(lambda: window.runner.ended is not None, 30.0)
    window.tick()
    ended = window.runner.ended
    assert ended is not None and not ended.trouble
    assert sorted(tmp_path.glob("session-*")) == [Path(ended.place)]
    assert painted(window)["result"] == "1 of 1 holds of 4 s"
    shown = [age_s for age_s, screen in ages if not screen.blank]
    assert len(shown) > 300 and max(shown) < 0.4


def test_a_set_of_lowerings_on_the_virtual_scales_to_its_table(bench: Bench, tmp_path: Path) -> None:
    """Up on two and down with three quarters, twice: counted live, and as often in the kept analysis."""
    settings = replace(SETTINGS, exercise=Exercise.LOWERING, tempo=Tempo(0.8, 0.4, 1.0, 0.5))
    goal = Goal(sets=1, repetitions=2)
    options = PractiseOptions(settings, goal, sources=("rig:steady,seed=2",), save=tmp_path)
    bench.store.cautions_read = True
    window = PracticeWindow(settings, goal, options.sources, feed_of(options), bench.store)
    bench.keep(window)
    window.resize(1366, 768)
    window.show()
    bench.until(lambda: screen_of(window).step is Step.READY, 30.0)
    bench.until(lambda: "when ready: up" in painted(window).values(), 10.0)
    QTest.keyClick(window.board, Qt.Key.Key_Space)
    bench.until(lambda: painted(window).get("held") == "1", 30.0)
    assert {"share", "heel", "headline"} <= painted(window).keys()
    bench.until(lambda: screen_of(window).step is Step.DONE and window.runner.ended is not None, 30.0)
    window.tick()
    assert painted(window)["result"] == "1 of 1 set, 2 raises"
    summary = screen_of(window).summary
    assert summary is not None
    (found,) = summary.findings
    assert found.startswith("70 to 80 % in the lowering: ")
    assert found.endswith(" in this set; of this patient: not known yet, 1 session.")
    (folder,) = tmp_path.glob("session-*")
    analysis = json.loads((folder / "analysis.json").read_text(encoding="utf-8"))
    assert [one["basis"] for one in analysis["repetitions"]] == ["height", "height"]


def test_a_port_where_nobody_answers_is_explained_and_tried_again(bench: Bench, tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as server:
        port = server.getsockname()[1]
    window = open_on(bench, f"tcp://127.0.0.1:{port}", tmp_path)
    bench.until(lambda: not window.trouble.isHidden(), 15.0)
    assert f"127.0.0.1:{port}" in window.trouble.words.text()
    assert screen_of(window).headline == "The scales cannot be reached."


def test_an_option_that_is_wrong_is_explained(bench: Bench, tmp_path: Path) -> None:
    window = open_on(bench, "rig:nobody-of-this-name", tmp_path)
    bench.until(lambda: not window.trouble.isHidden(), 15.0)
    assert "steady" in window.trouble.words.text()
    window.bar.source.setCurrentText("rig:steady")
    window.bar.source_chosen.emit("rig:steady")
    bench.until(lambda: screen_of(window).step is Step.ZERO, 15.0)
    assert window.trouble.isHidden()


def test_arrow_keys_steer_and_the_check_is_passed_with_them(bench: Bench, tmp_path: Path) -> None:
    window = open_on(bench, "rig:steered", tmp_path)
    bench.until(lambda: screen_of(window).soles is not None and "lean" in screen_of(window).headline, 30.0)
    assert "left" in screen_of(window).headline
    for _ in range(7):
        QTest.keyClick(window.board, Qt.Key.Key_Left)
    bench.until(lambda: screen_of(window).step is Step.READY, 15.0)
    assert window.flow.checked
    bench.until(lambda: bool(screen_of(window).figures.share), 5.0)
    before = float(screen_of(window).figures.share)
    for _ in range(5):
        QTest.keyClick(window.board, Qt.Key.Key_Right)
    bench.until(lambda: float(screen_of(window).figures.share or 0.0) > before + 5.0, 10.0)


KILLED = """
import sys, time
from pathlib import Path
from weightshare.exercise import Exercise, Tempo
from weightshare.model import Side
from weightshare.task import Settings
from weightshare.practice.engine import Engine
from weightshare.practice.option import PractiseOptions
engine = Engine(PractiseOptions(Settings(Side.LEFT, 75.0), sources=("rig:steady",), save=Path(sys.argv[1])))
engine.start()
while (engine.view().snapshot.time_s or 0.0) < 2.5:
    time.sleep(0.05)
print("under way", flush=True)
time.sleep(60)
"""


def test_what_a_killed_program_left_is_offered_and_finished(bench: Bench, tmp_path: Path) -> None:
    with subprocess.Popen([sys.executable, "-c", KILLED, str(tmp_path)], stdout=subprocess.PIPE, text=True) as program:
        assert program.stdout is not None and program.stdout.readline() == "under way\n"
        program.send_signal(signal.SIGKILL)
    assert len(unfinished(tmp_path)) == 1
    window = open_on(bench, "rig:steady", tmp_path, recovery=Recovery(tmp_path))
    bench.until(lambda: not window.notice.isHidden(), 20.0)
    assert "cut short" in window.notice.words.text()
    QTest.keyClick(window.board, Qt.Key.Key_F, Qt.KeyboardModifier.AltModifier)
    bench.until(lambda: "Recovered" in window.notice.words.text(), 30.0)
    window.close()
    assert unfinished(tmp_path) == []
