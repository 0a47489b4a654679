"""A bundle is a data package: held against the standard's own reference library.

Source: Frictionless Standards, Data Package and Table Schema, version 1; the library `frictionless` validates sizes,
checksums, headers, types, constraints, keys.
"""

from __future__ import annotations

import json
import warnings
import zipfile
from pathlib import Path
from typing import Any

import pytest

from tests.unit.kept import session, store_with
from tests.unit.test_store_readings import write
from weightshare.records.diary import About, Entry
from weightshare.records.store.bundle import write_bundle
from weightshare.records.store.ruling import Ruling, keep_ruling
from weightshare.records.store.saying import say
from weightshare.records.store.settled import take_readings
from weightshare.records.store.visit import list_visits, take_in

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # what the library's own dependencies say on loading
    import frictionless


@pytest.fixture
def unpacked(tmp_path: Path) -> Path:
    """A bundle of three sessions, unpacked."""
    with store_with(tmp_path / "s") as (store, patient):
        for day in range(2):
            take_in(store, patient, session(tmp_path, day))
        holds = [{"start_s": 3.2, "end_s": 33.4, "held_s": 30.1, "supported": False}]
        gaps = [{"start_s": 40.0, "end_s": 40.5}]
        low = [{"start_s": 14.0, "end_s": 14.9, "reason": "low"}]
        take_in(
            store,
            patient,
            session(tmp_path, 7, holds=holds, gaps=gaps, rejected=low, longest_hold_s=30.1, total_held_s=30.1),
        )
        keep_ruling(store, patient, Ruling("2026-05-01", "C. L.", "stays", "a", "a", "not yet"))
        say(store, patient, list_visits(store, patient)[0], Entry(About.EFFORT, "2026-03-02T11:00:00+02:00", 5))
        readings = write(tmp_path, 41.0)
        readings.close()
        assert readings.path is not None
        take_readings(store, patient, readings.path)
        write_bundle(store, patient, tmp_path / "a.zip")
    with zipfile.ZipFile(tmp_path / "a.zip") as archive:
        archive.extractall(tmp_path / "package")
    return tmp_path / "package"


def validate(folder: Path) -> Any:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return frictionless.validate(str(folder / "datapackage.json"))


def test_the_reference_library_finds_nothing_wrong(unpacked: Path) -> None:
    report = validate(unpacked)
    assert report.valid, report.flatten(["title", "fieldName", "message"])
    assert report.stats["tasks"] > 20
    assert report.stats["errors"] == 0


@pytest.mark.parametrize(
    ("name", "old", "new", "words"),
    [
        ("data/sessions.csv", ",left,", ",west,", "constraint"),
        ("data/repetitions.csv", ",height,", ",guess,", "constraint"),
        ("data/figures.csv", ",50.0,", ",half,", "type"),
    ],
)
def test_and_it_would_find_what_is_wrong(name: str, old: str, new: str, words: str, unpacked: Path) -> None:
    """The schemas bite: a value of another type, or one that cannot be, is found."""
    path = unpacked / name
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))
    report = validate(unpacked)
    assert not report.valid
    assert words in json.dumps(report.flatten(["type", "title"])).lower()


def test_an_altered_file_fails_its_checksum(unpacked: Path) -> None:
    path = next(unpacked.rglob("raw.wsr"))
    path.write_bytes(path.read_bytes()[:-1] + b"x")
    report = validate(unpacked)
    assert "hash" in json.dumps(report.flatten(["type", "message"])).lower()
