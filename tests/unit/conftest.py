"""Whole finished sessions, made once for all tests of a process."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.unit import told


@pytest.fixture(scope="session")
def held(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A session of holds at 60 %."""
    return told.record(tmp_path_factory.mktemp("held"))


@pytest.fixture(scope="session")
def lowered(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A session of one set of heel raises, lowered with 75 %."""
    return told.record(tmp_path_factory.mktemp("lowered"), told.LOWERING, "raiser", sets=told.one_set(45.0))
