"""A process that forks children at work on a store, and kills each at an instant it is told. Run by test_store_killed.

Loading the program takes a second, a child a millisecond. A line in: what is done, where, after how many seconds the
child is killed (below 0: never). A line out: whether it came to its end, and how long it took, s.
"""

from __future__ import annotations

import os
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path

from tests.unit.kept import PASSPHRASE, TODAY, old_store
from weightshare.records.store.backup import backup_store
from weightshare.records.store.inbox import take_inbox
from weightshare.records.store.latch import needs_passphrase
from weightshare.records.store.patient import delete_patient, find_patient
from weightshare.records.store.ruling import Ruling, keep_ruling
from weightshare.records.store.store import Store
from weightshare.records.store.unbundle import take_bundle


def open_in(folder: Path) -> Store:
    """Open the store in `folder`, sealed or not."""
    return old_store(folder / "s", PASSPHRASE if needs_passphrase(folder / "s") else None)


def save(folder: Path) -> None:
    """Take in what lies in the inbox."""
    with open_in(folder) as store:
        take_inbox(store, find_patient(store, "A-1"))


def bring(folder: Path) -> None:
    """Take in a bundle."""
    with open_in(folder) as store:
        take_bundle(store, folder / "a.zip", TODAY)


def update(folder: Path) -> None:
    """Bring an older store up to date."""
    open_in(folder).close()


def back_up(folder: Path) -> None:
    """Write a backup."""
    with open_in(folder) as store:
        backup_store(store, folder / "b.zip")


def decide(folder: Path) -> None:
    """Sign a decision."""
    with open_in(folder) as store:
        keep_ruling(store, find_patient(store, "A-1"), Ruling("2026-05-03", "C. L.", "stays", "a", "a", "third"))


def delete(folder: Path) -> None:
    """Delete a patient."""
    with open_in(folder) as store:
        delete_patient(store, find_patient(store, "A-1"))


WORK: dict[str, Callable[[Path], None]] = {
    "save": save,
    "bring": bring,
    "update": update,
    "back up": back_up,
    "decide": decide,
    "delete": delete,
}


def work(task: Callable[[Path], None], folder: Path) -> None:
    """Do `task`, and end the process."""
    try:
        task(folder)
    except BaseException as error:
        print(error, file=sys.stderr, flush=True)
        os._exit(1)
    os._exit(0)


def kill_after(task: Callable[[Path], None], folder: Path, seconds: float) -> tuple[bool, float]:
    """Do `task` in a child that is killed after `seconds`; return whether it came to its end, and how long it took."""
    began_s = time.perf_counter()
    child = os.fork()
    if child == 0:
        work(task, folder)
    while seconds >= 0.0 and time.perf_counter() - began_s < seconds:
        if os.waitpid(child, os.WNOHANG) != (0, 0):
            return True, time.perf_counter() - began_s
    if seconds >= 0.0:
        os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    assert status in (0, signal.SIGKILL), status
    return status == 0, time.perf_counter() - began_s


if __name__ == "__main__":
    print("ready", flush=True)
    for line in sys.stdin:
        name, where, after = line.rstrip("\n").split("\t")
        print(*kill_after(WORK[name], Path(where), float(after)), flush=True)
