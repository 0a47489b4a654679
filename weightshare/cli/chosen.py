"""Which session is meant: one in a folder, or which of a patient's."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from weightshare.records.store.patient import Patient
    from weightshare.records.store.store import Store
    from weightshare.records.store.visit import Visit

NEWEST = "newest"
"""In place of a time."""


def is_path(what: str) -> bool:
    """Return whether a session's folder is meant: a code that names a folder here is taken for one."""
    try:
        return Path(what).is_dir() or os.sep in what
    except OSError:  # a name that cannot be looked up is no folder
        return False


def choose_visit(store: Store, patient: Patient, began: str | None) -> Visit:
    """Return the session that is meant: the newest (NEWEST, None), or the one that began then. Raises OptionError."""
    from weightshare.errors import OptionError
    from weightshare.records.store.visit import list_visits

    visits = list_visits(store, patient)
    if not visits:
        raise OptionError(
            f"{patient.code}: has no sessions yet; weightshare practise --patient {patient.code} makes one"
        )
    if began is None or began == NEWEST:
        now = store.clock()
        # a clock that was wrong, or a session that was broken off, does not hide the one before
        return next((one for one in reversed(visits) if not (one.broken_off or one.is_future(now))), visits[-1])
    found = [one for one in visits if one.started_at.startswith(began.strip().replace(" ", "T"))]
    if len(found) != 1:
        many = f"{len(found)} sessions" if found else "no session"
        raise OptionError(
            f"--began {began}: {many} of {patient.code} began then; weightshare patient show --all lists them"
        )
    return found[0]


def require_store(place: Path, what: str) -> None:
    """Raise OptionError where `what`, which is no folder, can be no patient's code either: there is no store."""
    from weightshare.errors import OptionError
    from weightshare.records.store.store import is_store

    if not is_store(place):
        raise OptionError(f"{what}: is no folder of a session, and there is no store of patients to look for a code in")
