"""Settled readings as tests make them up."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta, timezone

from weightshare.model import Side
from weightshare.practice.settled import Book
from weightshare.practice.settledmoment import Moment
from weightshare.practice.settledview import SettledView
from weightshare.scales.air.settled import CONNECTED, Heard, SettledPhase, SettledStatus
from weightshare.scales.air.weighing import MassUnit, Weighing
from weightshare.task import Settings

BEGAN = datetime(2026, 11, 24, 14, 30, tzinfo=timezone(timedelta(hours=1)))
LISTENING = SettledStatus(SettledPhase.LISTENING, CONNECTED)


def of_kg(load_kg: float, at_s: float, stamp: datetime | None = None) -> Heard:
    """Return a reading that came `at_s` seconds after the beginning."""
    return heard(Weighing(round(load_kg * 200), MassUnit.KG, stamp), at_s)


def heard(weighing: Weighing | None, at_s: float, fault: str = "") -> Heard:
    return Heard(weighing, round(at_s * 1e9), BEGAN + timedelta(seconds=at_s), b"", fault)


def clock(at_s: float) -> datetime:
    """Return what a clock that is set rightly shows `at_s` seconds after the beginning."""
    return BEGAN.replace(tzinfo=None) + timedelta(seconds=at_s)


def book_of(*readings: tuple[Side, Heard], sides: tuple[Side, ...] = tuple(Side)) -> Book:
    book = Book(sides)
    for side, reading in readings:
        book.take(side, reading)
    return book


def show(
    book: Book,
    now_s: float,
    settings: Settings,
    *,
    body_kg: float | None = None,
    links: dict[Side, SettledStatus] | None = None,
) -> SettledView:
    """Return what is shown `now_s` seconds after the beginning."""
    return Moment(book, links or dict.fromkeys(book.sides, LISTENING), settings, round(now_s * 1e9), body_kg).compose()


class ToldListener:
    """Stands for a scale: says what a test has it say."""

    def __init__(self, source: str, deliver: Callable[[Heard], None]) -> None:
        self.source, self.deliver = source, deliver
        self.status = LISTENING
        self.asked: list[str] = []

    def start(self) -> None:
        self.asked.append("start")

    def stop(self) -> None:
        self.asked.append("stop")
