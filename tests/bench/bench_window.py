"""The practice window against a bare window of PySide6 and pyqtgraph: first paint, CPU, delay from frame to paint."""

from __future__ import annotations

import json
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

ROUNDS = 7
RUN_S = 12.0
SETTLE_S = 8.0
"""Zero, weighing and the first shift: after it the path is on the screen with a full trail growing."""
POINTS = 1200
"""Twelve seconds of trail at 100 Hz: what the practice window reduces and draws."""
SIZE = (1366, 768)
FRAME_S = 1 / 60
FIRST_MOST = 1.4
WHY_LATE = "; nearly all of the difference is loading some 170 modules, a fifth of that making their frozen dataclasses"
"""Found by -X importtime and by a clock around `dataclass`; the painting itself takes a twentieth of it."""

_BARE = f"""
import os, sys, time
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
import numpy as np
import pyqtgraph as pg
app = QApplication(sys.argv)
wanted_s = float(sys.argv[1])
class Plot(pg.PlotWidget):
    def paintEvent(self, event):
        super().paintEvent(event)
        if not wanted_s:
            print("painted", flush=True)
            os._exit(0)
plot = Plot()
plot.setRange(xRange=(0, 100), yRange=(0, {POINTS}), padding=0)
plot.disableAutoRange()
curve = pg.PlotCurveItem(pen=pg.mkPen("k", width=1))
plot.addItem(curve)
y = np.arange({POINTS}, dtype=float)
ticks = 0
def tick():
    global ticks
    ticks += 1
    curve.setData(50 + 10 * np.sin((y + ticks) / 80), y)
plot.resize({SIZE[0]}, {SIZE[1]})
plot.show()
tick()
timer = QTimer()
timer.timeout.connect(tick)
timer.start(round(1000 * {FRAME_S}))
marks = []
def mark():
    marks.append(time.thread_time())
QTimer.singleShot(2000, mark)
def end():
    print(time.thread_time() - marks[0], ticks, flush=True)
    os._exit(0)
QTimer.singleShot(int(2000 + 1000 * wanted_s), end)
app.exec()
"""

_OURS = f"""
import json, os, sys, time
from pathlib import Path
from PySide6.QtCore import QTimer
from weightshare.model import Side
from weightshare.task import Goal, Settings
from weightshare.practice.option import PractiseOptions
from weightshare.window import app as entry
from weightshare.window.main import PracticeWindow
from weightshare.window.store import Store
from weightshare.window.view import PaintedView
wanted_s, place = float(sys.argv[1]), Path(sys.argv[2])
paint = PaintedView.paintEvent
def paint_event(self, event):
    paint(self, event)
    if not wanted_s and self.screen_shown is not None and "kg on the scales now" in self.screen_shown.note:
        print("painted", flush=True)
        os._exit(0)
PaintedView.paintEvent = paint_event
app = entry.application()
options = PractiseOptions(Settings(Side.LEFT, target_percent=75.0), Goal(), sources=("rig:steady",), save=place)
store = Store()
store.cautions_read = True
window = PracticeWindow(options.settings, options.goal, ("rig:steady",), entry.feed_of(options), store)
window.resize({SIZE[0]}, {SIZE[1]})
window.show()
waiting, delays, marks = [], [], []
if wanted_s:
    from weightshare.model import Chunk
    from weightshare.practice.inbox import Inbox
    put = Inbox.put
    def note(self, items):
        waiting.extend(int(item.arrival_ns[-1]) for item in items if isinstance(item, Chunk))
        put(self, items)
    Inbox.put = note
    def painted(_sample_s, age_s):
        now_ns = time.monotonic_ns()
        newest_ns = now_ns - int(age_s * 1e9)
        while waiting and waiting[0] <= newest_ns + 500_000:
            delays.append((now_ns - waiting.pop(0)) / 1e9)
    def begin():
        window.go()
        waiting.clear()
        window.board.path.after_paint = painted
        marks.append(time.thread_time())
    def end():
        print(json.dumps([time.thread_time() - marks[0], delays]), flush=True)
        window.close()
        app.quit()
    QTimer.singleShot(int(1000 * {SETTLE_S}), begin)
    QTimer.singleShot(int(1000 * ({SETTLE_S} + wanted_s)), end)
app.exec()
"""

_BENT = f"""
import sys, time
sys.path.insert(0, {str(Path(__file__).resolve().parents[2])!r})
from dataclasses import replace
import numpy as np
from tests.window import lowering
from weightshare.window.app import application
from weightshare.window.path import PathView
from weightshare.window.theme import LIGHT
app = application()
view = PathView(LIGHT)
view.resize(786, 456)
view.show()
app.processEvents()
painted = []
view.after_paint = lambda _sample_s, age_s: painted.append(age_s)
bent = [lowering.screen(lowering.path(float(at_s))) for at_s in np.arange(0.0, 5.0, 1 / 60)]
for screen in bent:
    view.show_screen(screen)
    view.repaint()
began = time.process_time()
for screen in bent:
    view.show_screen(screen)
    view.repaint()
took_s = time.process_time() - began
assert len(painted) == 2 * len(bent)
print(took_s / len(bent))
"""


def measure() -> list[dict[str, Any]]:
    """Return the ratios of first paint and of the window thread's CPU time, and the delay from frame to paint."""
    with tempfile.TemporaryDirectory() as place:
        bare_s, ours_s = [], []
        for _ in range(ROUNDS):
            bare_s.append(_until_painted(_BARE, place))
            ours_s.append(_until_painted(_OURS, place))
        bare_cpu_s = float(_run(_BARE, place).split()[0])
        bent_s = float(_run(_BENT, place).split()[-1])
        ours_cpu_s, delays_s = json.loads(_run(_OURS, place).splitlines()[-1])
    first = statistics.median(ours_s) / statistics.median(bare_s)
    note = (
        f"median of {ROUNDS}: {statistics.median(ours_s) * 1e3:.0f} ms against {statistics.median(bare_s) * 1e3:.0f} ms"
    )
    if first > FIRST_MOST:
        note += WHY_LATE
    delays_s.sort()
    p50, p99 = delays_s[len(delays_s) // 2], delays_s[int(len(delays_s) * 0.99)]
    of = f"{len(delays_s)} frames in {RUN_S:g} s"
    cpu = f"window's thread over {RUN_S:g} s: {ours_cpu_s:.2f} s against {bare_cpu_s:.2f} s"
    return [
        _figure("first paint with a live number / bare window", first, FIRST_MOST, note),
        _figure("window's CPU / bare plot of as many points", ours_cpu_s / bare_cpu_s, 1.5, cpu),
        _figure("paint of a corridor that bends / display frame", bent_s / FRAME_S, 0.15, f"{bent_s * 1e3:.2f} ms"),
        _figure("arrival to paint, p50 / display frame", p50 / FRAME_S, 1.0, f"{p50 * 1e3:.1f} ms, {of}"),
        _figure("arrival to paint, p99 / (2 frames + 5 ms)", p99 / (2 * FRAME_S + 0.005), 1.0, f"{p99 * 1e3:.1f} ms"),
    ]


def _figure(name: str, value: float, limit: float, note: str) -> dict[str, Any]:
    return {"name": name, "value": value, "limit": limit, "direction": "at most", "note": note}


def _command(code: str, seconds: float, place: str) -> list[str]:
    return [sys.executable, "-c", code, str(seconds), str(Path(place))]


def _until_painted(code: str, place: str) -> float:
    begin = time.perf_counter()
    with subprocess.Popen(_command(code, 0.0, place), stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        said = child.stdout.readline()
        took = time.perf_counter() - begin
    if said.strip() != "painted":
        raise RuntimeError(f"nothing was painted: exit {child.returncode}")
    return took


def _run(code: str, place: str) -> str:
    done = subprocess.run(_command(code, RUN_S, place), capture_output=True, text=True, timeout=120, check=True)
    return done.stdout
