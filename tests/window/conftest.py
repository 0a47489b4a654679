"""One offscreen application, a feed that says what a test wants, and a guard against what a test leaves behind."""

from __future__ import annotations

import gc
import os
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

os.environ["QT_QPA_PLATFORM"] = "offscreen"

from PySide6.QtCore import QCoreApplication, QEvent, QSettings, QTimer
from PySide6.QtWidgets import QApplication

from tests.seated import Seated
from weightshare.errors import DeviceError, WeightshareError
from weightshare.model import Side
from weightshare.practice.view import LinkState, LinkView, LiveView
from weightshare.records import passphrase
from weightshare.records.store import cipher
from weightshare.scales.air.search import AirFound
from weightshare.state import Snapshot
from weightshare.task import Goal, Settings
from weightshare.window import language
from weightshare.window.app import application
from weightshare.window.benchfeed import OpenBench, refuse_bench
from weightshare.window.board import Board
from weightshare.window.feed import Ended, Feed, Sides, Sources
from weightshare.window.main import PracticeWindow
from weightshare.window.store import Store
from weightshare.window.theme import THEMES, Theme

SETTINGS = Settings(Side.RIGHT, target_percent=75.0)
GOAL = Goal(hold_s=30.0, holds=3)
SOURCE = "tcp://127.0.0.1:7000"


def fresh(shot: Snapshot, **more: Any) -> LiveView:
    """Return a view of `shot` that has just come, with a trail that ends in its share."""
    time_s = np.arange(0.0, 12.0, 0.0125) + ((shot.time_s or 12.0) - 12.0)
    share = np.linspace(52.0, shot.share_percent if shot.share_percent is not None else np.nan, len(time_s))
    values: dict[str, Any] = {
        "snapshot": shot,
        "links": (LinkView(SOURCE, LinkState.SAMPLING, "sampling"),),
        "age_s": 0.01,
        "trail_time_s": time_s,
        "trail_share_percent": share,
    }
    return LiveView(**(values | more))


class ToldFeed:
    """A session that shows what it is told to, and remembers what it was asked."""

    def __init__(self) -> None:
        self.shown = LiveView(links=(LinkView(SOURCE, LinkState.CONNECTING, "connecting"),))
        self.asked: list[Any] = []
        self.is_over = False
        self.may_swap = True

    def start(self) -> None:
        self.asked.append("start")

    def view(self) -> LiveView:
        return self.shown

    def change(self, settings: Settings, goal: Goal) -> None:
        self.asked.append((settings, goal))

    def compare(self) -> None:
        self.asked.append("compare")

    def swap_sides(self) -> bool:
        self.asked.append("swap")
        return self.may_swap

    def begin_practice(self) -> None:
        self.asked.append("begin")

    def begin_set(self) -> None:
        self.asked.append("begin set")

    def end_set(self) -> None:
        self.asked.append("end set")

    def mark_fault(self) -> None:
        self.asked.append("fault")

    def steer(self, delta_points: float) -> None:
        self.asked.append(delta_points)

    def stop(self) -> Ended:
        self.asked.append("stop")
        return Ended("sessions/one")


class Bench:
    """Windows with told feeds, closed when the test is over."""

    def __init__(self, folder: Path) -> None:
        self.app = application()
        self.feeds: list[ToldFeed] = []
        self.refusals: list[WeightshareError] = []
        self.store = Store(QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat))
        self._windows: list[PracticeWindow] = []
        self.open_bench: OpenBench = refuse_bench

    @property
    def feed(self) -> ToldFeed:
        return self.feeds[-1]

    def open(
        self, *, cautions_read: bool = True, source: str = SOURCE, size: tuple[int, int] = (1366, 768)
    ) -> PracticeWindow:
        self.store.cautions_read = cautions_read
        window = PracticeWindow(SETTINGS, GOAL, (source,), self._make, self.store, open_bench=self.open_bench)
        self.keep(window)
        window.resize(*size)
        window.show()
        window.activateWindow()
        self.until(lambda: bool(window.runner.feed or window.runner.trouble))
        return window

    def keep(self, window: PracticeWindow) -> None:
        """Close `window` when the test is over."""
        self._windows.append(window)

    def _make(self, sources: Sources, _sides: Sides, settings: Settings, goal: Goal) -> Feed:
        if self.refusals:
            raise self.refusals.pop()
        self.feeds.append(ToldFeed())
        self.feed.asked.append((*sources, settings, goal))
        return self.feed

    def until(self, holds: Callable[[], bool], seconds: float = 10.0) -> None:
        """Let Qt work until `holds`; fail after `seconds`."""
        end_s = time.monotonic() + seconds
        while not holds():
            assert time.monotonic() < end_s, "waited in vain"
            self.app.processEvents()
            time.sleep(0.002)

    def close(self) -> None:
        for window in self._windows:
            window.close()
            window.deleteLater()
        self._windows.clear()


def settle(app: QApplication) -> None:
    """Let Qt do all that is due now, deferred deletions among it."""
    app.processEvents()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    app.processEvents()


@pytest.fixture(autouse=True)
def leaves_nothing() -> Iterator[None]:
    """Fail a test that leaves a window, a running timer or a thread behind, or in which a handler raised."""
    app = application()
    threads = set(threading.enumerate())
    # what was there before is not looked at again: a full collection after each test takes longer than most of them
    gc.freeze()
    raised: list[BaseException] = []
    # Qt prints what a handler raises and goes on
    before, sys.excepthook = sys.excepthook, lambda _kind, error, _trace: raised.append(error)
    yield
    settle(app)
    sys.excepthook = before
    gc.collect()
    left = [widget for widget in app.topLevelWidgets() if not widget.isHidden()]
    timers = [timer for widget in app.topLevelWidgets() for timer in widget.findChildren(QTimer) if timer.isActive()]
    started = [thread for thread in threading.enumerate() if thread not in threads]
    assert not raised, f"raised inside Qt: {raised}"
    assert not left, f"windows left open: {left}"
    assert not timers, f"timers left running: {timers}"
    assert not started, f"threads left running: {started}"


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    made = Bench(tmp_path)
    yield made
    made.close()
    settle(made.app)


SIZES = [(1366, 698), (1920, 1010)]
"""The room that the board has on a screen of 1366 x 768 and of 1920 x 1080, above the settings."""


@pytest.fixture(params=SIZES, ids=lambda size: f"{size[0]}")
def size(request: pytest.FixtureRequest) -> tuple[int, int]:
    size: tuple[int, int] = request.param
    return size


@pytest.fixture(params=list(THEMES.values()), ids=lambda theme: theme.name)
def theme(request: pytest.FixtureRequest) -> Theme:
    theme: Theme = request.param
    return theme


@pytest.fixture
def board(theme: Theme, size: tuple[int, int]) -> Iterator[Board]:
    app = application()
    made = Board(theme, 96 / 25.4)
    made.resize(*size)
    made.show()
    yield made
    made.close()
    made.deleteLater()
    settle(app)


def hear_nothing(_seconds: float) -> list[AirFound]:
    raise DeviceError("this computer has no Bluetooth")


@pytest.fixture
def own_scales(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What one test remembers, no other finds; no port of this machine is asked, and no radio: none is here."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setattr("weightshare.scales.finder.list_ports", list)
    monkeypatch.setattr("weightshare.scales.air.search.search", hear_nothing)


@pytest.fixture
def seated() -> Iterator[Callable[..., Seated]]:
    made: list[Seated] = []

    def make(*faults: str, separate: bool = True) -> Seated:
        made.append(Seated(*faults, separate=separate))
        return made[-1]

    yield make
    for one in made:
        one.close()


@pytest.fixture
def own_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What one test remembers, no other finds; the hash takes little here (its own test holds the real one)."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setattr(passphrase.set_passphrase, "__kwdefaults__", {"work": 1 << 4})


@pytest.fixture
def clinics_own(own_place: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """A clinician with a computer of their own: a store's passphrase takes little work there, too."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)


@pytest.fixture
def english_after() -> Iterator[None]:
    yield
    language.speak(language.SOURCE)
