"""`weightshare practise --headless` on scales by air, as a process of its own, and what it says while it runs."""

from __future__ import annotations

import json
import subprocess
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.air.watching import until
from weightshare.records.manifest import verify

COMMAND = [sys.executable, "-W", "error", "-m", "weightshare"]
ENDS_WITHIN_S = 60.0


class Practice:
    """A running session. `told` are the lines that it has said on stderr until now."""

    def __init__(self, process: subprocess.Popen[str], save: Path) -> None:
        self.told: list[str] = []
        self._process, self._save = process, save
        self._reader = threading.Thread(target=self._read, name="what is told")
        self._reader.start()

    def _read(self) -> None:
        assert self._process.stderr is not None
        for line in self._process.stderr:
            self.told.append(line.rstrip("\n"))

    @property
    def is_running(self) -> bool:
        """Whether the session goes on."""
        return self._process.poll() is None

    def until_told(self, words: str, after: int = 0) -> int:
        """Come back once a line with `words` was said; return how many lines there were then."""
        until(lambda: any(words in line for line in self.told[after:]), lambda: (words, self.told))
        return len(self.told)

    def finish(self) -> dict[str, Any]:
        """Return what the session printed at its end: the same as its record gives, analysed again."""
        until(lambda: self._process.poll() is not None, lambda: self.told, ENDS_WITHIN_S)
        self._reader.join(10.0)
        assert self._process.returncode == 0, self.told
        assert self._process.stdout is not None
        printed = self._process.stdout.read()
        (folder,) = self._save.iterdir()
        assert self.told[-1] == f"saved: {folder}"
        verify(folder)
        again = [*COMMAND, "analyse", str(folder), "--json"]
        assert subprocess.run(again, capture_output=True, text=True, check=True, timeout=60).stdout == printed
        analysis: dict[str, Any] = json.loads(printed)
        return analysis


@contextmanager
def practising(save: Path, addresses: Sequence[str], *options: str) -> Iterator[Practice]:
    """Give a session on the scales at `addresses`, with its right side injured; it is ended in any case."""
    sources = [part for address in addresses for part in ("--source", f"ble:{address}")]
    fixed = ["--injured", "right", "--target", "75", "--headless", "--save", str(save), "--json"]
    command = [*COMMAND, "practise", *sources, *fixed, *options]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        practice = Practice(process, save)
        try:
            yield practice
        finally:
            process.kill()
