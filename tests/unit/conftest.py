"""Whole finished sessions, made once for all tests of a process; and stores, plain and sealed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.unit import told
from tests.unit.kept import PASSPHRASE, store_with
from weightshare.records.store import cipher
from weightshare.records.store.patient import Patient
from weightshare.records.store.store import Store


@pytest.fixture(scope="session")
def held(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A session of holds at 60 %."""
    return told.record(tmp_path_factory.mktemp("held"))


@pytest.fixture(scope="session")
def lowered(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A session of one set of heel raises, lowered with 75 %."""
    return told.record(tmp_path_factory.mktemp("lowered"), told.LOWERING, "raiser", sets=told.one_set(45.0))


@pytest.fixture(params=[None, PASSPHRASE], ids=["plain", "sealed"])
def kept(
    request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[tuple[Store, Patient]]:
    """A store with one patient, plain and sealed."""
    monkeypatch.setattr(cipher, "WORK", 1 << 14)
    with store_with(tmp_path / "s", passphrase=request.param) as pair:
        yield pair
