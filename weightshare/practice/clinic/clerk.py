"""The clerk: one thread that alone holds the open store of patients, and does what it is asked, piece after piece.

Whoever asks goes on at once. What came of it waits until `collect` is called, and is handed over on that thread.
"""

from __future__ import annotations

import errno
import queue
import sqlite3
import threading
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, TypeVar

from weightshare.errors import WeightshareError
from weightshare.records.store.store import Store, make_store, open_store
from weightshare.records.store.trail import user_name
from weightshare.tongue import say

LEAVE_S = 20.0
"""How long is waited for what was begun, when the clerk is to go."""

Found = TypeVar("Found")


def local_time() -> datetime:
    """Return local time with its offset."""
    return datetime.now().astimezone()


@dataclass(frozen=True, slots=True)
class _Errand:
    """What is to be done, and who is told what came of it, or why nothing did."""

    work: Callable[[], Any]
    take: Callable[[Any], None]
    fail: Callable[[str], None]


class Clerk:
    """Opens the store in the folder `place` when told to, and keeps it open until told to close it.

    `clock` gives local time with its offset; `who` stands in the trail.
    """

    def __init__(self, place: Path, clock: Callable[[], datetime] = local_time, who: str = "") -> None:
        self.place, self.clock, self.who = place, clock, who or user_name()
        self.is_open = False
        """Whether the store is open, as far as was collected."""
        self._store: Store | None = None
        self._asked: queue.SimpleQueue[_Errand | None] = queue.SimpleQueue()
        self._done: queue.SimpleQueue[Callable[[], None]] = queue.SimpleQueue()
        self._waiting = 0
        self._thread: threading.Thread | None = None

    @property
    def is_busy(self) -> bool:
        """Whether something that was asked has not been collected yet."""
        return self._waiting > 0

    def open(self, passphrase: str | None, take: Callable[[], None], fail: Callable[[str], None]) -> None:
        """Open the store, or find it open."""
        self._begin(lambda: open_store(self.place, self.who, self.clock, passphrase), take, fail)

    def make(self, passphrase: str | None, take: Callable[[], None], fail: Callable[[str], None]) -> None:
        """Make the store, sealed where a passphrase is given, and leave it open."""
        self._begin(lambda: make_store(self.place, self.who, self.clock, passphrase), take, fail)

    def _begin(self, opens: Callable[[], Store], take: Callable[[], None], fail: Callable[[str], None]) -> None:
        def work() -> None:
            if self._store is None:
                self._store = opens()

        def taken(_nothing: None) -> None:
            self.is_open = True
            take()

        self._hand_over(_Errand(work, taken, fail))

    def do(self, work: Callable[[], Found], take: Callable[[Found], None], fail: Callable[[str], None]) -> None:
        """Have `work` done that needs no open store; told as `ask` tells it."""
        self._hand_over(_Errand(work, take, fail))

    def ask(self, work: Callable[[Store], Found], take: Callable[[Found], None], fail: Callable[[str], None]) -> None:
        """Have `work` done with the open store; `take` is told what it returns, `fail` in words why it came to nothing.

        Both are called by `collect`.
        """

        def with_store() -> Found:
            assert self._store is not None, "the store was opened before"
            return work(self._store)

        self._hand_over(_Errand(with_store, take, fail))

    def collect(self) -> None:
        """Hand over what was done since the last time."""
        while True:
            try:
                told = self._done.get_nowait()
            except queue.Empty:
                return
            self._waiting -= 1
            told()

    def close(self) -> None:
        """Close the store once all before that is done, and forget its key; what was asked is still collected."""
        self.is_open = False
        if self._thread is not None:
            self._hand_over(_Errand(self._shut, lambda _nothing: None, lambda _said: None))

    def leave(self) -> bool:
        """Close the store and end the thread; wait for that, LEAVE_S at most. Return whether it is done."""
        thread, self._thread = self._thread, None
        if thread is None:
            return True
        self.is_open = False
        self._asked.put(_Errand(self._shut, lambda _nothing: None, lambda _said: None))
        self._asked.put(None)
        thread.join(LEAVE_S)
        return not thread.is_alive()

    def _shut(self) -> None:
        store, self._store = self._store, None
        if store is not None:
            store.close()

    def _hand_over(self, errand: _Errand) -> None:
        if self._thread is None:
            # no daemon: what is being written is written before the program ends
            self._thread = threading.Thread(target=self._serve, name="weightshare-patients", daemon=False)
            self._thread.start()
        self._waiting += 1
        self._asked.put(errand)

    def _serve(self) -> None:
        while (errand := self._asked.get()) is not None:
            self._done.put(_do(errand))


def _do(errand: _Errand) -> Callable[[], None]:
    """Do it; return what is to be told of it."""
    try:
        found = errand.work()
    except (WeightshareError, OSError, sqlite3.Error) as error:
        said = say_why(error)
    except Exception as error:
        traceback.print_exception(error)
        said = say("The program failed inside: {name}. Nothing was changed. Try it again.", name=type(error).__name__)
    else:
        return lambda: errand.take(found)
    return lambda: errand.fail(said)


def say_why(error: Exception) -> str:
    """Return in words why something came to nothing, and what to do."""
    if isinstance(error, WeightshareError):
        return " ".join(str(error).split())
    if isinstance(error, OSError) and error.errno == errno.ENOSPC:
        return say("{place}: the disk is full; free some space on it, then try again", place=error.filename or "")
    if isinstance(error, OSError):
        return f"{error.filename or ''}: {error.strerror or error}".lstrip(": ")
    return str(error)
