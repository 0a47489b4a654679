"""Make the pictures in docs/images from the running program, on the virtual scales.

    python docs/screenshots.py

It takes about three minutes: two scales are set up, a virtual person is weighed and holds, then raises its heels in two
sets, as in the window itself; a saved session is looked back at, and the patients are seen. No display is needed, and
nothing of the user's own is touched.
"""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import datetime
from functools import partial
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from tests.lab.weeks import CODE, MEETINGS, QUICK, make_weeks
from tests.seated import Seated
from tests.unit.pasts import save
from weightshare.exercise import Exercise, Phase, Tempo
from weightshare.model import Side
from weightshare.practice.option import PractiseOptions
from weightshare.practice.past.shelf import Wanted
from weightshare.practice.screen import Step
from weightshare.practice.startpress import Feel
from weightshare.practice.startwords import ALL_WELL
from weightshare.records.place import store_place
from weightshare.scales import finder
from weightshare.task import Goal, Settings
from weightshare.window.app import application, default_options, feed_of
from weightshare.window.language import speak
from weightshare.window.main import PracticeWindow
from weightshare.window.patientpage import EVIDENCE, PROGRESS, WEEKS
from weightshare.window.startpage import StartPage
from weightshare.window.store import Store
from weightshare.window.theme import THEMES

SIZE = (1366, 768)
HELD_S = 11.0
FEW_FROM = 26
"""From this day of the eight weeks on sessions are made: all of them would take as long as all other pictures."""
ROW_EDITED, SCROLLED_PX = 9, 330
"""The stage that is shown in the editor, and how far down, px."""
LONGEST_S = 90.0
INTO_S = 0.4
"""How far into a phase its picture is taken, s."""
FOLDER = Path(__file__).parent / "images"
HOLDING = PractiseOptions(
    Settings(Side.RIGHT, target_percent=75.0), Goal(30.0, 3), sources=("rig:steady,seed=3",), record=False
)
LOWERING = PractiseOptions(
    Settings(Side.RIGHT, target_percent=75.0, exercise=Exercise.LOWERING, tempo=Tempo(1.0, 1.0, 2.0, 1.0)),
    Goal(sets=2, repetitions=4, rest_s=10.0),
    sources=("rig:steady,seed=3",),
    record=False,
)


def main() -> int:
    """Run both sessions, and take the pictures."""
    application()
    FOLDER.mkdir(exist_ok=True)
    set_up()
    run_session(HOLDING, take_hold)
    run_session(LOWERING, take_sets)
    look_back()
    change_programme()
    see_patients()
    speak("de")
    run_session(LOWERING, take_german)
    return 0


@contextlib.contextmanager
def opened(options: PractiseOptions, *, greets: bool = False) -> Iterator[PracticeWindow]:
    """Open the window on `options`; nothing is remembered. `greets`: with getting started."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_DATA_HOME"] = folder
        store = Store(QSettings(str(Path(folder) / "window.ini"), QSettings.Format.IniFormat))
        store.cautions_read = True
        feeds = feed_of(options)
        window = PracticeWindow(options.settings, options.goal, options.sources, feeds, store, greets=greets)
        store.set_px_per_mm(window.screen(), 96 / 25.4)
        window.resize(*SIZE)
        window.show()
        try:
            yield window
        finally:
            window.close()


def run_session(options: PractiseOptions, take: Callable[[PracticeWindow], None]) -> None:
    """Open the window on a session of `options`, begin practice, and `take` its pictures."""
    with opened(options) as window:
        work_until(lambda: window.flow.step is Step.READY)
        window.bar.say("")
        window.go()
        take(window)


def set_up() -> None:
    """Set up two scales on the network, with somebody on a chair before them, and take pictures of the steps."""
    # this machine's own ports are of no interest
    finder.list_ports = list
    scales = Seated()
    sources = scales.open_tcp()
    try:
        with opened(default_options(), greets=True) as window:
            work_until(lambda: window._annex._start is not None and window._annex.start.is_open)
            take_steps(window, window._annex.start, scales, sources)
    finally:
        scales.close()


def take_steps(window: PracticeWindow, page: StartPage, scales: Seated, sources: list[str]) -> None:
    """Grab the choice of scales, left and right, the check, and where everything stands."""
    start = page.start
    assert start is not None
    for source in sources:
        start.add(source)
    work_until(lambda: {one.source for one in start.offered} >= set(sources))
    for source in sources:
        at = [one.source for one in start.offered].index(source)
        while start.cursor != at:
            press(page, Qt.Key.Key_Down if start.cursor < at else Qt.Key.Key_Up)
        press(page, Qt.Key.Key_Space)
    work_until(lambda: start.may_go)
    grab(window, "start-choose-light")
    press(page, Qt.Key.Key_Return)
    work_until(lambda: start.watch.feel is Feel.WAITING)
    grab(window, "start-press-light")
    scales.press(Side.LEFT)
    work_until(lambda: start.checked)
    scales.lift(Side.LEFT)
    press(page, Qt.Key.Key_Return)
    began_s = time.monotonic()
    # the press is over in the second that the noise is of
    work_until(lambda: time.monotonic() - began_s > 2.0 and page.paint.shown.headline == ALL_WELL)
    grab(window, "start-check-light")
    press(page, Qt.Key.Key_Return)
    grab(window, "start-place-light")


def look_back() -> None:
    """Take the picture of a saved session, one of its repetitions chosen."""
    with tempfile.TemporaryDirectory() as folder, opened(HOLDING) as window:
        session = save(Path(folder) / "session-1", sources=("rig:raiser",))
        window.door.look_back(Wanted(session.parent, session))
        page = window._annex.past
        work_until(lambda: page.view is not None)
        for _ in range(3):
            QTest.keyClick(page, Qt.Key.Key_Down)
        QTest.keyClicks(page, "-")
        work_until(lambda: window.runner.feed is None)
        grab(window, "look-back-light")


def change_programme() -> None:
    """Take the picture of the editor: a stage of a copied programme, one of its fields with a mistake."""
    with opened(HOLDING) as window:
        window.ward.open_stages()
        window.ward.stage_page.copy.click()
        window.ward.stage_page.edit.click()
        page = window.ward.edit_page
        page.list.setCurrentRow(ROW_EDITED)
        box = page.of_stage.boxes["repetitions"]
        box.setFocus()
        QTest.keyClicks(box, "1")
        work_until(lambda: page.of_stage.hints["repetitions"].property("wrong") == "true")
        page.scrolls[page.of_stage].verticalScrollBar().setValue(SCROLLED_PX)
        grab(window, "editor-light")


def see_patients() -> None:
    """Take pictures of the list of patients, and of the page of the made-up one of the eight weeks."""
    now = datetime(2026, 11, 24, 18, 0).astimezone()
    with opened(HOLDING) as window:
        make_weeks(store_place(), now, meetings=[one for one in MEETINGS if one.day > FEW_FROM], pace=QUICK)
        # as if the passphrase had been given
        window.ward.keeper.take_try(time.monotonic(), right=True)
        window.door.open_patients()
        door = window._annex.patients
        work_until(lambda: not door.clerk.is_busy)
        grab(window, "patients-light")
        door.list.words.setText(CODE)
        press(door.list, Qt.Key.Key_Return)
        work_until(lambda: door.page.sight is not None and not door.clerk.is_busy)
        for tab, name in ((EVIDENCE, "evidence"), (PROGRESS, "progress"), (WEEKS, "weeks")):
            door.page.tabs.setCurrentIndex(tab)
            grab(window, f"patient-{name}-light")


def press(page: QWidget, key: Qt.Key) -> None:
    """Press a key on a page."""
    QTest.keyClick(page, key)
    application().processEvents()


def take_hold(window: PracticeWindow) -> None:
    """Grab the window in both themes while a hold is under way."""
    work_until(lambda: window.runner.view().snapshot.held_s >= HELD_S)
    for name in THEMES:
        window.bar.dark.setChecked(name == "dark")
        grab(window, f"practice-{name}")
    window.bar.dark.setChecked(False)


def take_sets(window: PracticeWindow) -> None:
    """Grab what waits, the rise, the shift, the lowering, the rest and the summary of two sets of heel raises."""
    work_until(lambda: waits(window))
    grab(window, "waiting-light")
    work_until(lambda: len(window.runner.view().snapshot.repetitions) >= 2)
    for phase, name in ((Phase.RISE, "rise"), (Phase.TOP, "shift"), (Phase.LOWERING, "lowering")):
        work_until(partial(is_within, window, phase))
        grab(window, f"{name}-light")
    window.bar.dark.setChecked(True)
    work_until(lambda: not is_within(window, Phase.LOWERING))
    work_until(lambda: is_within(window, Phase.LOWERING))
    grab(window, "lowering-dark")
    window.bar.dark.setChecked(False)
    work_until(lambda: window.flow.step is Step.REST)
    grab(window, "rest-light")
    work_until(lambda: window.flow.step is Step.DONE and window.runner.ended is not None)
    grab(window, "summary-light")


def take_german(window: PracticeWindow) -> None:
    """Grab a lowering in German."""
    work_until(lambda: len(window.runner.view().snapshot.repetitions) >= 1)
    work_until(partial(is_within, window, Phase.LOWERING))
    grab(window, "german-light")


def waits(window: PracticeWindow) -> bool:
    """Return whether the corridor waits for the person."""
    path = None if window.screen_shown is None else window.screen_shown.path
    return path is not None and path.ahead is not None and path.ahead.waits


def is_within(window: PracticeWindow, phase: Phase) -> bool:
    """Return whether `phase` has been under way for INTO_S."""
    snapshot = window.runner.view().snapshot
    if snapshot.phase is not phase or snapshot.phase_since_s is None or snapshot.time_s is None:
        return False
    return snapshot.time_s - snapshot.phase_since_s >= INTO_S


def grab(window: PracticeWindow, name: str) -> None:
    """Write what the window shows now."""
    window.tick()
    # the course of the share is plotted for the first time then
    application().processEvents()
    target = FOLDER / f"{name}.png"
    window.grab().save(str(target), "PNG")
    print(target)


def work_until(holds: Callable[[], bool]) -> None:
    """Let Qt work until `holds`. Raises TimeoutError after LONGEST_S."""
    end_s = time.monotonic() + LONGEST_S
    while not holds():
        if time.monotonic() > end_s:
            raise TimeoutError("the session did not come so far")
        application().processEvents()
        time.sleep(0.005)


if __name__ == "__main__":
    sys.exit(main())
