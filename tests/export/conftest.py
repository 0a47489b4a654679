"""One session of holds and one of heel raises, made once for all tests of a process, and opened."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit import told
from weightshare.records.diary import About, Entry, add_entries
from weightshare.records.export.saved import SavedSession, load_saved

NOTE = '=HYPERLINK("x")'
NAME = "Zoë Invented"


@pytest.fixture(scope="session")
def folders(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A place with both: four heel raises lowered with 75 % and, a day later, a hold at 60 %."""
    place = tmp_path_factory.mktemp("sessions")
    lowered = told.record(place, told.LOWERING, "raiser", 30.0, sets=told.one_set(30.0))
    at = told.FIRST.isoformat()
    notes = (Entry(About.NOTE, at, words=words) for words in (f"{NAME.upper()} slept well", NOTE))
    add_entries(lowered, Entry(About.PAIN_AFTER, at, 2), Entry(About.EFFORT, at, 5), *notes)
    told.record(place, told.HOLD, "steady", 21.0, day=1)
    return place


@pytest.fixture(scope="session")
def lowered(folders: Path) -> SavedSession:
    """The session of heel raises."""
    return load_saved(sorted(folders.iterdir())[0], patient="A-1", name=NAME)


@pytest.fixture(scope="session")
def held(folders: Path) -> SavedSession:
    """The session of a hold."""
    return load_saved(sorted(folders.iterdir())[1])
