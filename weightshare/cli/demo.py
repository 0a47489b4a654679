"""What `make run` starts: the window; where none can be opened, a short session in the terminal and its picture."""

from __future__ import annotations

import sys
import time
from pathlib import Path

from weightshare.cli.peripheral import try_window
from weightshare.errors import INTERRUPTED, DeviceError, WeightshareError
from weightshare.exercise import Exercise, Phase, Tempo
from weightshare.model import Side
from weightshare.practice.engine import Engine
from weightshare.practice.flow import Action, Flow
from weightshare.practice.option import PractiseOptions
from weightshare.practice.screen import Screen, Step
from weightshare.practice.terminal import LiveLine, count_columns
from weightshare.practice.view import LiveView
from weightshare.task import Goal, Settings
from weightshare.window.display import names_display

SOURCE = "rig:raiser"
SETTINGS = Settings(Side.LEFT, 75.0, exercise=Exercise.LOWERING, tempo=Tempo(1.0, 1.0, 3.0, 1.0))
GOAL = Goal(sets=1, repetitions=4)
SECONDS = 40.0
LOOK_S = 0.05
"""How often the patient's screen is looked at; a display does it more often, a picture needs no more."""


def main() -> int:
    """Start what this machine can show; return the exit status."""
    try:
        return show()
    except WeightshareError as error:
        print(f"weightshare: {error}", file=sys.stderr)
        return error.exit_status
    except KeyboardInterrupt:
        return INTERRUPTED


def show(save: Path | None = None, seconds: float = SECONDS) -> int:
    """Open the window, or practise `seconds` in the terminal and keep the session under `save`; return the status."""
    if names_display():
        trial = try_window()
        if trial.ok:
            from weightshare.window.app import open_window

            return open_window(None)
        print(f"no window can be opened here: {trial.reason}", file=sys.stderr)
    return practise(PractiseOptions(SETTINGS, GOAL, (SOURCE,), seconds=seconds, save=save))


def practise(options: PractiseOptions) -> int:
    """Practise without a window; print the analysis, the place of the session and that of the picture."""
    from weightshare.cli.table import appraisal_table

    print(f"practising {options.seconds:g} s at most on the virtual scales, without a window", file=sys.stderr)
    engine, onlooker = Engine(options), Onlooker(options)
    engine.start()
    try:
        _watch(engine, onlooker, LiveLine(sys.stderr, options.goal, count_columns(sys.stderr), options.settings))
    finally:
        finished = engine.stop()
    if finished.appraisal is None:
        raise DeviceError(finished.trouble or f"{options.sources[0]}: no samples came")
    print(appraisal_table(finished.appraisal))
    if finished.folder is None:
        raise DeviceError(finished.trouble)
    print(f"\nsession   {finished.folder}")
    if onlooker.memorable is not None:
        print(f"picture   {_paint(onlooker.memorable, finished.folder)}")
    return 0


def _watch(engine: Engine, onlooker: Onlooker, line: LiveLine) -> None:
    while not engine.is_over:
        view = engine.view()
        line.show(view, time.monotonic())
        if onlooker.look(view) is Action.BEGIN:
            engine.begin_practice()
        time.sleep(LOOK_S)
    line.close()


def _paint(screen: Screen, folder: Path) -> Path:
    """Paint beside the session's folder, not in it: what is in it is sealed."""
    from weightshare.window.app import render_png

    picture = folder.with_name(f"{folder.name}-window.png")
    render_png(screen, picture)
    return picture


class Onlooker:
    """Sees what the patient would see, and presses the one big key for them."""

    def __init__(self, options: PractiseOptions) -> None:
        self._flow = Flow(options.settings, options.goal, (options.sources[0],))
        self.memorable: Screen | None = None
        """The newest screen of a lowering in the band; before the first, the newest of all."""
        self._lowering_seen = False

    def look(self, view: LiveView) -> Action:
        """Take the newest view; return BEGIN at the moment when practice begins."""
        screen, _ = self._flow.update(view)
        lowering = view.snapshot.phase is Phase.LOWERING and view.snapshot.in_band and not view.stale
        if (lowering and self._flow.step is Step.PRACTISE) or not self._lowering_seen:
            self.memorable, self._lowering_seen = screen, lowering
        return self._flow.press() if self._flow.step is Step.READY else Action.NOTHING


if __name__ == "__main__":
    sys.exit(main())
