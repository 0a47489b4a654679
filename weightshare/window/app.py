"""The window's entry: a Qt application around one practice window, and its picture without a display."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING

from PySide6.QtCore import QMessageLogContext, QTimer, QtMsgType, qInstallMessageHandler
from PySide6.QtWidgets import QApplication

from weightshare.errors import INTERRUPTED, DeviceError, RecordError
from weightshare.exercise import Exercise
from weightshare.model import Side
from weightshare.practice.asked import revise
from weightshare.practice.clinic.charge import Charge
from weightshare.practice.option import PractiseOptions
from weightshare.practice.screen import Screen
from weightshare.records.assignment import read_assignment
from weightshare.records.pair import footwear_of
from weightshare.records.passphrase import has_passphrase
from weightshare.task import Goal, Settings
from weightshare.tongue import mark, say
from weightshare.window.board import Board
from weightshare.window.choice import DEFAULT_PERCENT
from weightshare.window.display import names_display
from weightshare.window.feed import Feed, OpenFeed, Order, Sides, Sources
from weightshare.window.language import find_wanted, languages, speak
from weightshare.window.main import PracticeWindow
from weightshare.window.recovery import Recovery
from weightshare.window.store import MM_PER_INCH, Store
from weightshare.window.theme import THEMES

if TYPE_CHECKING:
    from weightshare.practice.past.shelf import Wanted
    from weightshare.window.benchfeed import BenchFeed, BenchWish

DEFAULT_SOURCE = "rig:steered"
"""What a newcomer meets: virtual scales with a person who goes where the arrow keys send the load."""

GONE = mark("the patient {code} is no longer in the store, or the store was moved: the clinician chooses again")

NOT_ASSIGNED = "nothing is set to be done"


def default_options() -> PractiseOptions:
    """Return what the window opens with when nothing was asked for."""
    settings = Settings(Side.LEFT, target_percent=DEFAULT_PERCENT, exercise=Exercise.HOLD)
    return PractiseOptions(settings, sources=(DEFAULT_SOURCE,))


def open_window(
    options: PractiseOptions | None = None,
    *,
    settled: bool = False,
    wanted: Wanted | None = None,
    patients: Path | None = None,
) -> int:
    """Open the practice window and return the exit status when it is closed: 0, or 130 where it was interrupted.

    Without `options` it opens with getting started, or with the scales that are remembered. `settled`: it opens with
    the settled readings of store-bought scales; `wanted`: with these saved sessions. `patients`: the
    store of patients, None: the user's own. Raises DeviceError where there is
    no display.
    """
    _require_display()
    app, store = _start_application(), Store()
    window: PracticeWindow | None = None
    while True:
        speak(find_wanted(store.language))
        if window is None:
            window = _make_window(options, store, settled=settled, wanted=wanted)
            window.ward.order.store = patients
        else:
            window = make_again(window, store)
        chosen: list[str] = []
        window.cautions.offer_languages(languages(), store.language)
        window.cautions.language_chosen.connect(partial(_take_language, window, chosen))
        if _run(app, window):
            return INTERRUPTED
        if not chosen:
            return 0


def _make_window(
    options: PractiseOptions | None, store: Store, *, settled: bool, wanted: Wanted | None
) -> PracticeWindow:
    """Return the window, not yet shown."""
    greets, order = options is None and wanted is None, Order()
    if options is None:
        options = find_assigned(order)
    else:
        order.prescription, order.place = options.prescription, options.place
        # where there is a passphrase the clinician allows it, and whoever typed the command may be anybody
        order.alone_allowed = options.cleared and not has_passphrase()
    if options.code and options.save is not None:
        order.charge = Charge(options.code, str(options.save), options.elsewhere)
    window = _lay_out(options, order, store, greets=greets)
    if settled:
        QTimer.singleShot(0, window, window.open_settled)
    if wanted is not None:
        QTimer.singleShot(0, window, partial(window.door.look_back, wanted))
    return window


def _lay_out(options: PractiseOptions, order: Order, store: Store, *, greets: bool) -> PracticeWindow:
    window = PracticeWindow(
        options.settings,
        options.goal,
        options.sources,
        feed_of(options, order),
        store,
        sides=options.sides,
        recovery=Recovery(options.save),
        open_bench=open_bench,
        greets=greets,
        order=order,
    )
    window.options = options
    return window


def make_again(before: PracticeWindow, store: Store) -> PracticeWindow:
    """Return the window anew, in another language: for the same patient, with the same stage, on the same scales."""
    flow, options = before.flow, before.options or default_options()
    files = options.calibrations if flow.sources == options.sources else ()
    settings = replace(flow.settings, counting_from_s=None)
    known = replace(options, settings=settings, goal=flow.goal, sources=flow.sources, sides=flow.sides)
    return _lay_out(replace(known, calibrations=files), before.ward.order, store, greets=before.door.greets)


def _take_language(window: PracticeWindow, chosen: list[str], code: str) -> None:
    """Remember the language; the window opens anew in it, but not while somebody practises."""
    window.store.language = code
    if not window.flow.locked:
        chosen.append(code)
        window.close()


def _run(app: QApplication, window: PracticeWindow) -> bool:
    """Show `window` until it is closed; return whether that was an interruption."""
    interrupted = []

    def interrupt(_number: int, _frame: FrameType | None) -> None:
        interrupted.append(True)
        QTimer.singleShot(0, window, window.close)

    before = signal.signal(signal.SIGINT, interrupt)
    try:
        # where nobody manages windows, maximising alone does nothing
        window.resize(window.screen().availableSize())
        window.showMaximized()
        app.exec()
    finally:
        signal.signal(signal.SIGINT, before)
        window.close()
    return bool(interrupted)


def application() -> QApplication:
    """Return the process's one Qt application, made where there is none yet."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication([sys.argv[0] if sys.argv else "weightshare"])
        app.setApplicationName("weightshare")
        app.setStyle("Fusion")
    return app


def _start_application() -> QApplication:
    """Return the application on a real display. Qt aborts where it cannot open it: one line instead."""

    def listen(kind: QtMsgType, _context: QMessageLogContext, _words: str) -> None:
        if kind is QtMsgType.QtFatalMsg:
            hint = "`weightshare selfcheck` says what is missing, and `weightshare practise --headless` needs no window"
            print(f"weightshare: no window can be opened on this display; {hint}", file=sys.stderr, flush=True)
            os._exit(DeviceError.exit_status)

    before = qInstallMessageHandler(listen)
    try:
        return application()
    finally:
        qInstallMessageHandler(before)


def find_assigned(order: Order) -> PractiseOptions:
    """Return what the window opens with when nothing was asked for: what the clinician left for the patient, if so.

    `order` takes its stage, or why it is not known what is to be done.
    """
    options = default_options()
    if not has_passphrase():
        return options
    try:
        assigned = read_assignment()
    except RecordError as error:
        assigned, order.trouble = None, str(error)
    if assigned is None:
        order.trouble = order.trouble or NOT_ASSIGNED
        return options
    order.prescription, order.place = assigned.prescription, assigned.place
    order.charge = Charge(assigned.code, assigned.inbox)
    if order.charge.is_gone:
        order.trouble = say(GONE, code=assigned.code)
    order.alone_allowed, order.at_home = assigned.alone_allowed, assigned.at_home
    return replace(options, settings=assigned.settings, goal=assigned.goal)


def feed_of(options: PractiseOptions, order: Order | None = None) -> OpenFeed:
    """Return how a session is opened with `options`, on the sources and with the settings of the window.

    They are of the stage in `order`; without it, of that of the options.
    """
    standing = order or Order(options.prescription)

    def open_feed(sources: Sources, sides: Sides, settings: Settings, goal: Goal) -> Feed:
        from weightshare.window.live import EngineFeed

        # a calibration given by hand belongs to the source that it was given with
        files = options.calibrations if sources == options.sources else ()
        kept = standing.charge.keep(options)
        asked = replace(kept, settings=settings, goal=goal, sources=sources, sides=sides, calibrations=files)
        stage = revise(standing.prescription, settings, goal)
        return EngineFeed(replace(asked, footwear=footwear_of(sources), prescription=stage))

    return open_feed


def open_bench(wish: BenchWish) -> BenchFeed:
    """Return the calibration that is wished for, not yet begun. Raises WeightshareError where it cannot be done."""
    from weightshare.window import benchlive

    return benchlive.open_bench(wish)


def render_png(screen: Screen, path: Path, size: tuple[int, int] = (1366, 768), theme: str = "light") -> None:
    """Write what the patient would see of `screen` to `path` as a PNG of `size` px; needs no display.

    Raises OSError where it cannot be written.
    """
    with _offscreen_without_display():
        application()
    board = Board(THEMES[theme], 96.0 / MM_PER_INCH)
    board.resize(*size)
    board.show_screen(screen)
    written = board.grab().save(str(path), "PNG")
    board.deleteLater()
    if not written:
        raise OSError(f"{path}: the picture of the window could not be written")


@contextmanager
def _offscreen_without_display() -> Iterator[None]:
    """Let Qt start where there is no display: it would end the program otherwise."""
    missing = "QT_QPA_PLATFORM" not in os.environ and not names_display()
    if missing:
        os.environ["QT_QPA_PLATFORM"] = "offscreen"
    try:
        yield
    finally:
        if missing:
            del os.environ["QT_QPA_PLATFORM"]


def _require_display() -> None:
    if not names_display() and "QT_QPA_PLATFORM" not in os.environ:
        raise DeviceError("there is no display to open a window on; run `weightshare practise --headless` instead")
