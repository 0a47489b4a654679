"""Boards for the tests of the firmware."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from tests.device.conftest import PtyHost, hosting
from tests.firmware.boards import Board, World, find_micropython, run_on_board, shipped, wired


@pytest.fixture
def make_board(tmp_path: Path) -> Iterator[Callable[..., Board]]:
    """Make boards that are started; their settings are those of the standard build unless given."""
    find_micropython()
    boards: list[Board] = []

    def make(settings: Mapping[str, Any] | None = None, world: World | None = None, start: bool = True) -> Board:
        settings = settings or shipped()
        folder = tmp_path / f"flash-{len(boards)}"
        folder.mkdir()
        boards.append(Board(folder, settings, world or wired(settings)))
        return boards[-1].start() if start else boards[-1]

    yield make
    for board in boards:
        board.close()


@pytest.fixture
def board(make_board: Callable[..., Board]) -> Board:
    """A board of the standard build, switched on."""
    return make_board()


@pytest.fixture
def micropython(tmp_path: Path) -> Callable[..., str]:
    """Run code under MicroPython, with the firmware on its path; returns what it prints."""
    return lambda code, *paths: run_on_board(code, tmp_path, *paths)


@pytest.fixture
def tiny_pty() -> Iterator[Callable[..., PtyHost]]:
    """Make scales of the tests' own, which are not this firmware, on pseudo-terminals."""
    with hosting(PtyHost) as make:
        yield make
