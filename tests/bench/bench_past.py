"""An hour of a session opened and painted, against reading its trace alone; a step of zooming, against bare lines."""

from __future__ import annotations

import json
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
import pyarrow.parquet as pq
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap
from PySide6.QtWidgets import QWidget

from tests.unit.pasts import LOWERING, SETS, counted, raised, save
from weightshare.model import Floats, Trace
from weightshare.practice.past.opening import open_past
from weightshare.practice.past.view import PastView
from weightshare.window.app import application
from weightshare.window.mark import polygon
from weightshare.window.pastpage import PastPage
from weightshare.window.theme import LIGHT

HOUR_S = 3600.0
ROUNDS = 15
SIZE = (1920, 1080)
FRAME_MS = 1000.0 / 60.0


def make_hour(place: Path) -> Path:
    """An hour at 100 Hz with heel heights: the same two sets over and over, with what was counted in each."""
    trace, analysis = raised(), counted()
    seconds = trace.time_s.size * 0.01
    times = round(HOUR_S / seconds) + 1
    time_s: Floats = np.arange(trace.time_s.size * times, dtype=np.float64) / 100.0
    hour = Trace(time_s, {name: np.tile(values, times) for name, values in trace.columns.items()})
    shifted = [_shift(one, k * seconds) for k in range(times) for one in analysis.to_json()["repetitions"]]
    changes = {"repetitions": shifted, "duration_s": float(time_s[-1]), "samples": time_s.size}
    return save(place / "session-hour", hour, LOWERING, changes=changes, sets=SETS, analysis=analysis)


def _shift(repetition: dict[str, Any], by_s: float) -> dict[str, Any]:
    instants = ("start_s", "top_s", "lowering_s", "end_s")
    return repetition | {name: repetition[name] + by_s for name in instants}


def measure() -> list[dict[str, Any]]:
    """Return both ratios, of processor time; what is compared takes turns."""
    app = application()
    with tempfile.TemporaryDirectory() as folder:
        session = make_hour(Path(folder))
        counts = len(json.loads((session / "analysis.json").read_bytes())["repetitions"])
        parent = QWidget()
        parent.resize(*SIZE)
        page = PastPage(parent, QWidget(parent), (), LIGHT)
        parent.show()
        page._cover()

        def open_it() -> None:
            page.view = PastView(open_past(session))
            page._fit_parts()
            page._show()
            page.grab()

        def read_it() -> None:
            pq.read_table(session / "trace.parquet", use_threads=False)

        opened, read = _alternate(open_it, read_it)
        zoom, bare = _alternate(_zooming(page), _bare(page))
        page._uncover()
        page.leave()
        app.processEvents()
    return [
        {
            "name": "an hour's session opened and painted / its Parquet file read alone",
            "value": opened / read,
            "limit": 9.0,
            "direction": "at most",
            "note": f"{opened * 1e3:.0f} ms against {read * 1e3:.0f} ms; {counts} repetitions, seals checked",
        },
        {
            "name": "a step of zooming, painted / as many bare polylines of as many points",
            "value": zoom / bare,
            "limit": 3.5,
            "direction": "at most",
            "note": f"{zoom * 1e3:.1f} ms against {bare * 1e3:.1f} ms; a picture at 60 Hz has {FRAME_MS:.1f} ms",
        },
    ]


def _zooming(page: PastPage) -> Callable[[], None]:
    """One step in or out, over the whole range, and the picture of it; repeated by the caller."""
    steps = iter([0.7] * 10_000)
    painted = QPixmap(page.plane.size())

    def step() -> None:
        view = page.view
        assert view is not None
        if view.span_s[1] - view.span_s[0] < 5.0:
            view.show_whole()
        view.zoom(next(steps), 0.4 * view.whole_s[1])
        page.plane.show_view(view)
        page.plane.render(painted)

    return step


def _bare(page: PastPage) -> Callable[[], None]:
    """As many points in as many polylines, with nothing else on the picture."""
    view = page.view
    assert view is not None
    count = sum(len(lane.curves) for lane in view.lanes)
    places = page.plane.places()
    columns = round(places.plane.width())
    x = places.plane.left() + np.repeat(np.arange(1.5 * columns) / 1.5, 2)
    y = places.lanes[0].center().y() + 40.0 * np.sin(x / 30.0) + np.tile((-1.0, 1.0), x.size // 2)
    painted = QPixmap(page.plane.size())

    def step() -> None:
        painter = QPainter(painted)
        painter.fillRect(painted.rect(), QColor(LIGHT.ground))
        painter.setPen(QPen(QColor(LIGHT.ink), 1))
        for _ in range(count):
            painter.drawPolyline(polygon(x, y))
        painter.end()

    return step


def _alternate(*works: Callable[[], None]) -> list[float]:
    """Return the median processor time of each, s, the first round of all left out: others may be busy meanwhile."""
    taken: list[list[float]] = [[] for _ in works]
    for _ in range(ROUNDS + 1):
        for place, work in enumerate(works):
            begin_s = time.process_time()
            work()
            taken[place].append(time.process_time() - begin_s)
    return [statistics.median(times[1:]) for times in taken]
