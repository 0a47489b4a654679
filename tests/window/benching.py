"""A calibration that shows what a test says, the real result of one without a scale, and the views of a whole run."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np

from tests.unit.benches import MASSES, Plate, make_record
from weightshare.metrology.evaluate import evaluate
from weightshare.metrology.found import Found
from weightshare.metrology.reading import Kind, Spot
from weightshare.model import Side
from weightshare.window.benchfeed import BenchWish
from weightshare.workbench.plan import Ask, Wanted, make_plan
from weightshare.workbench.view import BenchView, Stage

PLAN = make_plan(Wanted(MASSES))
LAY = "Lay the second 10 kg mass on the middle of the LEFT plate"
WRONG_PLATE = "The RIGHT plate changed by 20.1 kg, but the LEFT one is asked for: put it back as it was"


class ToldBench:
    """Shows what it is told to, and remembers what it was asked."""

    def __init__(self, wish: BenchWish) -> None:
        self.wish = wish
        self.shown = asking()
        self.asked: list[str] = []

    def start(self) -> None:
        self.asked.append("start")

    def view(self) -> BenchView:
        return self.shown

    def confirm(self) -> None:
        self.asked.append("confirm")

    def back(self) -> None:
        self.asked.append("back")

    def stop(self) -> None:
        self.asked.append("stop")


def step(kind: Kind = Kind.SERIES, load_kg: float = 20.0, spot: Spot = Spot.MIDDLE, side: Side = Side.LEFT) -> Ask:
    """Return the first step of the plan that is such a one."""
    wanted = kind, load_kg, spot, side
    return next(a for a in PLAN if (a.placement.kind, a.load_kg, a.placement.spot, a.placement.side) == wanted)


def asking(**more: Any) -> BenchView:
    values: dict[str, Any] = {
        "stage": Stage.ASK,
        "ask": step(),
        "number": 3,
        "steps": len(PLAN),
        "headline": LAY,
        "words": "20 kg in all are to lie there.",
        "left_s": 1290.0,
        "load_kg": (10.03, 0.02),
        "may_confirm": True,
        "may_go_back": True,
    }
    return BenchView(**(values | more))


@lru_cache(maxsize=1)
def found() -> Found:
    """Return the result of a calibration of both plates, the right one the left one's image."""
    scatter_N = np.random.default_rng(1).normal(0.0, 0.25, 200).tolist()
    left = evaluate(make_record(Plate(curve=1e-6, hysteresis_N=0.2, creep=2e-4, scatter_N=scatter_N)))
    right: dict[str, Any] = {
        name: tuple(replace(one, side=Side.RIGHT) for one in getattr(left, name))
        for name in ("fits", "figures", "residuals")
    }
    both = {name: getattr(left, name) + theirs for name, theirs in right.items()}
    said = "the right plate: the front left quarter reads 3.2 % more than the middle; a foot may be loose"
    return replace(left, **both, cautions=(*left.cautions, said))


def done(place: str = "", kept: str = "") -> BenchView:
    return BenchView(stage=Stage.DONE, found=found(), number=len(PLAN), steps=len(PLAN), place=place, kept=kept)


def all_views() -> dict[str, BenchView]:
    """Return a view of each kind that can come."""
    return {
        "connect": BenchView(),
        "up": asking(),
        "down": asking(headline="Take a 20 kg mass off the LEFT plate", trouble=WRONG_PLATE, load_kg=(60.0, 20.1)),
        "quarter": asking(
            ask=step(Kind.CORNER, 20.0, Spot.REAR_RIGHT, Side.RIGHT),
            headline="Move the 20 kg to the rear right quarter of the RIGHT plate",
            load_kg=(None, None),
        ),
        "measure": asking(stage=Stage.MEASURE, part=0.6, headline="Hands off: measuring", still=True),
        "creep": asking(
            stage=Stage.MEASURE,
            ask=step(Kind.CREEP, 60.0),
            part=0.3,
            headline="Leave it. Nobody touches the scales: 4 minutes",
            words="60.0 kg lie still; how the reading creeps is watched.",
        ),
        "failed": BenchView(Stage.FAILED, trouble="serial:COM9: there is no such port; plug the scale in"),
    }
