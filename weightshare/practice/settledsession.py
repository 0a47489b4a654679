"""A session of settled readings without a screen: one store-bought scale, or one under each foot."""

from __future__ import annotations

import queue
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Protocol

from weightshare import __version__
from weightshare.model import STANDARD_GRAVITY, Side
from weightshare.practice.option import PractiseOptions
from weightshare.practice.settled import Book, Pair
from weightshare.practice.settledmoment import Moment
from weightshare.practice.settledview import SettledView
from weightshare.records.place import session_place
from weightshare.records.reading import ReadingFile
from weightshare.scales.air.settled import Heard, SettledStatus


class Listener(Protocol):
    """What listens to one scale. Nothing here blocks but `stop`, which has a bound."""

    @property
    def status(self) -> SettledStatus:
        """Where the link stands."""

    def start(self) -> None:
        """Begin to look for the scale, and to listen."""

    def stop(self) -> None:
        """Let go of the scale."""


OpenListener = Callable[[str, Callable[[Heard], None]], Listener]
"""Makes what listens to the scale at a source; it hands each reading to the callable, from a thread of its own."""


@dataclass(frozen=True, slots=True)
class Taken:
    """One reading of a session. `is_new` is False for one that the scale had kept from before.

    `pair` is what it makes with the newest of the other foot; None where it makes nothing.
    """

    side: Side
    heard: Heard
    is_new: bool
    pair: Pair | None = None

    def to_json(self) -> dict[str, Any]:
        """Return it as a JSON object; a load that there is not is null."""
        weighing, pair = self.heard.weighing, self.pair
        return {
            "at": self.heard.arrived_at.isoformat(timespec="milliseconds"),
            "side": self.side.value,
            "load_kg": None if weighing is None else _rounded(weighing.load_kg),
            "reading": None if weighing is None else weighing.value,
            "unit": None if weighing is None else weighing.unit.value,
            "failed": weighing is not None and weighing.has_failed,
            "new": self.is_new,
            "share_percent": None if pair is None else _rounded(pair.share_percent),
            "limb_symmetry_index_percent": None if pair is None else _rounded(pair.symmetry_percent),
            "scale_time": None if weighing is None or weighing.stamp is None else weighing.stamp.isoformat(),
            "user": None if weighing is None else weighing.user,
            "fault": self.heard.fault,
            "raw": self.heard.raw.hex(),
        }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 6)


def sides_of(options: PractiseOptions) -> tuple[Side, ...]:
    """Return under which foot each of the sources is: one alone under the injured foot, else the first is the left."""
    return (options.settings.injured,) if len(options.sources) == 1 else options.sides or (Side.LEFT, Side.RIGHT)


class SettledSession:
    """Runs from `start` to `stop`. `view` may be called at any rate, always from one thread.

    `open_listener` listens to a source; `clock_ns` gives host time and `now` local time.
    """

    def __init__(
        self,
        options: PractiseOptions,
        open_listener: OpenListener,
        clock_ns: Callable[[], int] = time.monotonic_ns,
        now: Callable[[], datetime] = lambda: datetime.now().astimezone(),
    ) -> None:
        self.options = options
        self.readings: list[Taken] = []
        """Every reading so far, in the order of arrival."""
        self._now_ns, self._now = clock_ns, now
        weight_N = options.settings.body_weight_N
        self.body_kg = None if weight_N is None else weight_N / STANDARD_GRAVITY
        self._sides = sides_of(options)
        self._book = Book(tuple(sorted(self._sides)))
        self._came: queue.SimpleQueue[tuple[Side, Heard]] = queue.SimpleQueue()
        self._file = self._make_file(options, now())
        self._listeners = {
            side: open_listener(source, self._teller(side))
            for source, side in zip(options.sources, self._sides, strict=True)
        }

    def _make_file(self, options: PractiseOptions, began: datetime) -> ReadingFile | None:
        if not options.record:
            return None
        scales = [{"source": source, "side": side} for source, side in zip(options.sources, self._sides, strict=True)]
        head = {
            "began": began.isoformat(timespec="seconds"),
            "program": f"weightshare {__version__}",
            "injured_side": options.settings.injured,
            "body_weight_kg": self.body_kg,
            "scales": scales,
        }
        return ReadingFile(options.save or session_place(), head, began)

    def _teller(self, side: Side) -> Callable[[Heard], None]:
        return lambda heard: self._came.put((side, heard))

    def start(self) -> None:
        """Begin to listen."""
        for listener in self._listeners.values():
            listener.start()

    def view(self) -> SettledView:
        """Take what came, and return what is shown now."""
        return self._moment().compose()

    def take_weight(self) -> bool:
        """Take the newest reading for body weight; return whether there was one to take.

        With one scale both feet were on it then: as a reading of one foot it is forgotten.
        """
        weight = self._moment().weight_kg
        if weight is None:
            return False
        self.body_kg = weight
        if len(self._sides) == 1:
            self._book.forget()
        self._keep({"at": self._now().isoformat(timespec="milliseconds"), "body_weight_kg": round(weight, 6)})
        return True

    def _moment(self) -> Moment:
        self._take()
        links = {side: listener.status for side, listener in self._listeners.items()}
        recording = "" if self._file is None else self._file.trouble
        return Moment(self._book, links, self.options.settings, self._now_ns(), self.body_kg, recording)

    def _take(self) -> None:
        while True:
            try:
                side, heard = self._came.get_nowait()
            except queue.Empty:
                return
            new = self._book.take(side, heard)
            pair = self._book.pair(self.options.settings.injured, heard.arrived_ns) if new else None
            taken = Taken(side, heard, new, pair)
            self.readings.append(taken)
            self._keep(taken.to_json())

    def _keep(self, content: dict[str, Any]) -> None:
        if self._file is not None:
            self._file.add(content)

    @property
    def place(self) -> Path | None:
        """Where the readings are kept; None where none are."""
        return None if self._file is None else self._file.path

    @property
    def statuses(self) -> Sequence[SettledStatus]:
        """Where the links stand, in the order of the sources."""
        return tuple(listener.status for listener in self._listeners.values())

    def stop(self) -> None:
        """Let go of the scales, and close the record."""
        for listener in self._listeners.values():
            listener.stop()
        self._take()
        if self._file is not None:
            self._file.close()
