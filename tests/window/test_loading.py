"""What is loaded when: little for the window's first picture, and nothing at all while samples come."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

FIRST = """
import sys
from pathlib import Path
from PySide6.QtCore import QSettings
from weightshare.window.app import application, default_options, feed_of
from weightshare.window.main import PracticeWindow
from weightshare.window.store import Store

app, options = application(), default_options()
store = Store(QSettings(str(Path.cwd() / "window.ini"), QSettings.Format.IniFormat))
window = PracticeWindow(options.settings, options.goal, options.sources, feed_of(options), store)
window.resize(1366, 768)
window.grab()
parts = "window.bench", "workbench", "records", "scales.rig", "scales.link", "report"
later = (*(f"weightshare.{part}" for part in parts), "scipy", "pandas")
# which scales are remembered, what was worn, what is assigned and who is here is asked before the first picture: small
# modules that read one file of text each
asked = "assignment", "diary", "pair", "passphrase", "place", "seal", "setting", "value", "whole"
small = {"weightshare.records", *(f"weightshare.records.{name}" for name in asked)}
early = [name for name in sys.modules if name.startswith(later) and name not in small]
assert not early, sorted(early)
window.calibration.open_page(options.sources[0], None, window.board.theme, lambda: None)
assert window.calibration.is_open and "weightshare.window.bench" in sys.modules
window.close()
"""

WHOLE = """
import sys, time
from dataclasses import replace
from pathlib import Path
from PySide6.QtCore import QSettings
from weightshare.exercise import Basis, Exercise, Tempo
from weightshare.model import Chunk, Side
from tests.leash import LeashedEngine
from weightshare.practice.inbox import Inbox
from weightshare.practice.option import PractiseOptions
from weightshare.practice.screen import Step
from weightshare.task import Goal, Settings
from weightshare.window.app import application
from weightshare.window.live import EngineFeed
from weightshare.window.main import PracticeWindow
from weightshare.window.store import Store

spec, exercise, basis, place = sys.argv[1], Exercise(sys.argv[2]), Basis(sys.argv[3]), Path.cwd()
settings = Settings(Side.RIGHT, target_percent=75.0, exercise=exercise, basis=basis, tempo=Tempo(1.5, 0.5, 1.5, 1.0))
goal = Goal(sets=2, repetitions=2, rest_s=4.0)
before, after, put = set(), set(), Inbox.put

def watched(inbox, items, source=0):
    if not before and any(isinstance(item, Chunk) for item in items):
        before.update(sys.modules)
    put(inbox, items, source)

class FastFeed(EngineFeed):
    def __init__(self, options):
        self._engine = LeashedEngine(options, spec)

    def stop(self):
        after.update(sys.modules)
        return super().stop()

Inbox.put = watched
app = application()
store = Store(QSettings(str(place / "window.ini"), QSettings.Format.IniFormat))
store.cautions_read = store.clinical = True
options = PractiseOptions(settings, goal, sources=(f"rig:{spec}",), save=place)
window = PracticeWindow(settings, goal, (f"rig:{spec}",), lambda *_: FastFeed(options), store)
window.resize(1366, 768)
window.show()
steps, end_s = [], time.monotonic() + 120.0
while window.runner.ended is None and time.monotonic() < end_s:
    feed = window.runner.feed
    if feed is None:
        time.sleep(0.002)
    else:
        feed._engine.go_on()
    app.processEvents()
    step = window.screen_shown.step
    if step not in steps:
        steps.append(step)
        if step is Step.READY:
            window.go()
app.processEvents()
window.close()
assert window.runner.ended is not None and {Step.PRACTISE, Step.REST, Step.DONE} <= set(steps), steps
assert (Step.BALANCE in steps) is ("balance=ask" in spec), steps
assert before and after and not after - before, sorted(after - before)
"""


def run(code: str, place: Path, *words: str) -> None:
    """Run `code` in a process of its own, in which nothing is loaded yet."""
    house = str(Path(__file__).resolve().parents[2])
    own = {"PYTHONPATH": house, "QT_QPA_PLATFORM": "offscreen", "XDG_DATA_HOME": str(place / "data")}
    done = subprocess.run(
        [sys.executable, "-c", code, *words],
        capture_output=True,
        text=True,
        check=False,
        cwd=place,
        env={**os.environ, **own},
    )
    assert done.returncode == 0, done.stderr


def test_the_first_picture_waits_for_no_calibration_page_and_no_session(tmp_path: Path) -> None:
    run(FIRST, tmp_path)


@pytest.mark.parametrize(
    "words",
    [("raiser,balance=ask", "lowering", "height"), pytest.param(("raiser", "raise", "force"), marks=pytest.mark.soak)],
)
def test_nothing_is_loaded_from_the_first_sample_to_the_last(words: tuple[str, ...], tmp_path: Path) -> None:
    """What is loaded holds up the samples, and a ceiling's alarm goes off."""
    run(WHOLE, tmp_path, *words)
