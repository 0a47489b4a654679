"""How long `weightshare --help` takes against starting Python and doing nothing, in the same environment."""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

ROUNDS = 25


def measure() -> list[dict[str, Any]]:
    """Return the ratio of the two medians; the runs alternate, so that a busy moment meets both."""
    script = next(Path(sys.executable).parent.glob("weightshare*"))
    help_s, pass_s = [], []
    for _ in range(ROUNDS):
        pass_s.append(_seconds([sys.executable, "-c", "pass"]))
        help_s.append(_seconds([str(script), "--help"]))
    ours, bare = statistics.median(help_s[1:]), statistics.median(pass_s[1:])
    note = f"median of {ROUNDS - 1}: {ours * 1e3:.0f} ms against {bare * 1e3:.0f} ms"
    return [
        {"name": "--help / python -c pass", "value": ours / bare, "limit": 3.0, "direction": "at most", "note": note}
    ]


def _seconds(command: list[str]) -> float:
    begin = time.perf_counter()
    subprocess.run(command, stdout=subprocess.DEVNULL, check=True)
    return time.perf_counter() - begin
