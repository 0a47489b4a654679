"""Make docs/images/practice-light.png and practice-dark.png from the running program, on the virtual scales.

    python docs/screenshots.py

It takes about half a minute: a virtual person is weighed and holds, as in the window itself. No display is needed.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QSettings

from weightshare.model import Side
from weightshare.practice.option import PractiseOptions
from weightshare.practice.screen import Step
from weightshare.task import Goal, Settings
from weightshare.window.app import application, feed_of
from weightshare.window.main import PracticeWindow
from weightshare.window.store import Store
from weightshare.window.theme import THEMES

SIZE = (1366, 768)
HELD_S = 11.0
LONGEST_S = 90.0
FOLDER = Path(__file__).parent / "images"


def main() -> int:
    """Run a session until something is held, and take the pictures."""
    options = PractiseOptions(
        Settings(Side.RIGHT, target_percent=75.0), Goal(30.0, 3), sources=("rig:steady,seed=3",), record=False
    )
    with tempfile.TemporaryDirectory() as folder:
        store = Store(QSettings(str(Path(folder) / "window.ini"), QSettings.Format.IniFormat))
        store.cautions_read = True
        application()
        window = PracticeWindow(options.settings, options.goal, options.sources[0], feed_of(options), store)
        store.set_px_per_mm(window.screen(), 96 / 25.4)
        window.resize(*SIZE)
        window.show()
        try:
            take_pictures(window)
        finally:
            window.close()
    return 0


def take_pictures(window: PracticeWindow) -> None:
    """Go through the session with the big key, and grab the window in both themes while a hold is under way."""
    work_until(lambda: window.flow.step is Step.READY)
    window.go()
    work_until(lambda: held_s(window) >= HELD_S)
    window.bar.say("")
    FOLDER.mkdir(exist_ok=True)
    for name in THEMES:
        window.bar.dark.setChecked(name == "dark")
        window.tick()
        target = FOLDER / f"practice-{name}.png"
        window.grab().save(str(target), "PNG")
        print(target)


def held_s(window: PracticeWindow) -> float:
    """Return the held seconds of the hold under way."""
    return window.runner.view().snapshot.held_s


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
