"""A file of settled readings, one JSON object a line: each as it came, with its instant."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from io import FileIO
from pathlib import Path
from typing import Any

from weightshare.records.lock import hold
from weightshare.records.whole import FOLDER_MODE, open_private, write_all

SCHEMA = "weightshare.readings/1"
FILE_PATTERN = "readings-*.jsonl"


class ReadingFile:
    """Made with the first reading: where none came, nothing is left behind. `head` opens it, in its first line."""

    def __init__(self, place: Path, head: Mapping[str, Any], began: datetime) -> None:
        self.path: Path | None = None
        """Where it lies; None before the first reading."""
        self.trouble = ""
        """What is being lost, in words; empty while all is written."""
        self._place, self._head, self._began = place, head, began
        self._file: FileIO | None = None

    def add(self, content: Mapping[str, Any]) -> None:
        """Write one line; where that fails, `trouble` says so."""
        try:
            if self._file is None:
                self._open()
            self._write(content)
        except OSError as error:
            self.trouble = f"the readings are not kept: {self.path or self._place}: {error.strerror or error}"

    def close(self) -> None:
        """Close it."""
        if self._file is not None:
            self._file.close()
            self._file = None

    def _open(self) -> None:
        self._place.mkdir(parents=True, exist_ok=True, mode=FOLDER_MODE)
        path = _free_path(self._place, f"readings-{self._began:%Y-%m-%d-%H%M%S}")
        self._file, self.path = open_private(path), path
        # nobody takes away what is still being written
        hold(self._file.fileno())
        self._write({"schema": SCHEMA, **self._head})

    def _write(self, content: Mapping[str, Any]) -> None:
        assert self._file is not None
        write_all(self._file, (json.dumps(content, ensure_ascii=False) + "\n").encode())


def _free_path(place: Path, name: str) -> Path:
    """Return a path in `place` that is not taken yet."""
    path, number = place / f"{name}.jsonl", 2
    while path.exists():
        path, number = place / f"{name}-{number}.jsonl", number + 1
    return path
