"""The clerk: one thread holds the store, and tells what came of each piece on the thread of whoever asks."""

from __future__ import annotations

import errno
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.unit.kept import PASSPHRASE, clock, new_store, store_with
from weightshare.errors import StoreError
from weightshare.practice.clinic.clerk import Clerk, say_why
from weightshare.records.store import cipher
from weightshare.records.store.patient import list_patients
from weightshare.records.store.store import Store, is_store
from weightshare.records.store.trail import user_name


class Told:
    """What a clerk told, and on which thread."""

    def __init__(self) -> None:
        self.found: list[Any] = []
        self.wrong: list[str] = []
        self.threads: set[int] = set()

    def take(self, found: Any = None) -> None:
        self.found.append(found)
        self.threads.add(threading.get_ident())

    def fail(self, said: str) -> None:
        self.wrong.append(said)


@pytest.fixture
def clerk(tmp_path: Path) -> Iterator[Clerk]:
    made = Clerk(tmp_path / "s", clock, "tester")
    yield made
    assert made.leave()


def settle(clerk: Clerk) -> None:
    end_s = time.monotonic() + 20.0
    while clerk.is_busy:
        assert time.monotonic() < end_s, "the clerk does not come back"
        clerk.collect()
        time.sleep(0.001)


def test_it_does_what_it_is_asked_elsewhere_and_tells_it_here(clerk: Clerk, tmp_path: Path) -> None:
    with store_with(tmp_path / "s", "A-1"):
        pass
    told = Told()
    clerk.open(None, told.take, told.fail)
    clerk.ask(lambda store: [one.code for one in list_patients(store)], told.take, told.fail)
    clerk.ask(lambda _store: threading.get_ident(), told.take, told.fail)
    assert told.found == [] and not clerk.is_open, "nothing is told before it is collected"
    settle(clerk)
    assert clerk.is_open and told.found[:2] == [None, ["A-1"]] and told.wrong == []
    assert told.threads == {threading.get_ident()} and told.found[2] not in told.threads


def test_a_new_store_is_made_sealed_and_opens_by_its_passphrase_alone(
    clerk: Clerk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    told = Told()
    clerk.make(PASSPHRASE, told.take, told.fail)
    settle(clerk)
    assert is_store(tmp_path / "s") and clerk.is_open
    clerk.close()
    settle(clerk)
    assert not clerk.is_open
    for passphrase in (None, "another one altogether"):
        clerk.open(passphrase, told.take, told.fail)
    settle(clerk)
    assert not clerk.is_open and len(told.wrong) == 2
    assert "sealed" in told.wrong[0] and "passphrase" in told.wrong[1]
    clerk.open(PASSPHRASE, told.take, told.fail)
    settle(clerk)
    assert clerk.is_open


def test_what_goes_wrong_is_said_in_one_line_and_the_next_piece_is_done(
    clerk: Clerk, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    new_store(tmp_path / "s").close()
    told = Told()
    clerk.open(None, told.take, told.fail)

    def refuse(_store: Store) -> None:
        raise StoreError("two\nlines")

    def fill(_store: Store) -> None:
        raise OSError(errno.ENOSPC, "No space left on device", "here")

    def break_down(_store: Store) -> None:
        raise ZeroDivisionError

    for work in (refuse, fill, break_down):
        clerk.ask(work, told.take, told.fail)
    clerk.ask(lambda _store: "after", told.take, told.fail)
    settle(clerk)
    assert told.found == [None, "after"]
    assert told.wrong[0] == "two lines" and "disk is full" in told.wrong[1] and "ZeroDivisionError" in told.wrong[2]
    assert "ZeroDivisionError" in capsys.readouterr().err, "a failure inside is not swept under the carpet"


def test_it_ends_with_its_thread_and_what_was_begun_is_done(tmp_path: Path) -> None:
    new_store(tmp_path / "s").close()
    clerk, told = Clerk(tmp_path / "s", clock), Told()
    assert clerk.leave(), "one that was never asked anything has nothing to end"
    clerk.open(None, told.take, told.fail)
    done: list[bool] = []
    clerk.ask(lambda _store: done.append(True), told.take, told.fail)
    assert clerk.leave() and done == [True]


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (StoreError("gone"), "gone"),
        (OSError(errno.EACCES, "Permission denied", "/x"), "/x: Permission denied"),
        (ValueError("odd"), "odd"),
    ],
)
def test_reasons_in_words(error: Exception, said: str) -> None:
    assert say_why(error) == said


def test_somebody_stands_in_the_trail(monkeypatch: pytest.MonkeyPatch) -> None:
    assert user_name()
    nobody: Callable[[], str] = lambda: (_ for _ in ()).throw(KeyError)  # noqa: E731
    monkeypatch.setattr("weightshare.records.store.trail.getuser", nobody)
    assert user_name() == "unknown"
