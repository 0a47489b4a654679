"""The bare command on a real X server, with the rig's two scales served by another process: the known pair is found."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings

from tests.window.test_real_display import WITHIN_S, display, wait_until
from weightshare.model import Side
from weightshare.records.pair import Footwear, Pair, PairedScale, write_pair
from weightshare.records.setting import read_head
from weightshare.scales.rig.cell import LEFT_ID, RIGHT_ID

__all__ = ["display"]

pytestmark = pytest.mark.skipif(shutil.which("Xvfb") is None, reason="needs Xvfb")
KNOWN_WITHIN_S = 20.0


@pytest.fixture
def rig() -> Iterator[list[str]]:
    """Two scales in a process of their own; their sources."""
    command = [sys.executable, "-m", "weightshare", "rig", "--tcp", "0", "--separate"]
    served = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    assert served.stdout is not None
    yield [served.stdout.readline().strip() for _ in range(2)]
    served.terminate()
    served.communicate(timeout=WITHIN_S)


def test_the_known_pair_is_found_and_practised_on_in_time(display: str, rig: list[str], tmp_path: Path) -> None:
    """The pair was set up with left and right the other way round than the scales say: what was set up holds."""
    own, looks = tmp_path / "data" / "weightshare", tmp_path / "config"
    scales = PairedScale(LEFT_ID, rig[0], Side.RIGHT), PairedScale(RIGHT_ID, rig[1], Side.LEFT)
    write_pair(Pair(scales, footwear=Footwear("clogs", 20.0, 21.0)), own / "pair.json")
    settings = QSettings(str(looks / "weightshare" / "window.ini"), QSettings.Format.IniFormat)
    settings.setValue("cautions_read", "true")
    settings.sync()
    environment = os.environ | {"DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}
    environment |= {"XDG_DATA_HOME": str(tmp_path / "data"), "XDG_CONFIG_HOME": str(looks)}
    environment.pop("WAYLAND_DISPLAY", None)
    began_s = time.monotonic()
    command = [sys.executable, "-m", "weightshare"]
    program = subprocess.Popen(command, env=environment, stderr=subprocess.PIPE, text=True)
    try:
        wait_until(lambda: any(record.stat().st_size > 10_000 for record in tmp_path.rglob("raw.wsr")), program)
        took_s = time.monotonic() - began_s
        program.send_signal(signal.SIGINT)
        _, said = program.communicate(timeout=WITHIN_S)
    finally:
        program.kill()
        program.wait(WITHIN_S)
    assert program.returncode == 130 and "Traceback" not in said
    assert took_s < KNOWN_WITHIN_S
    (folder,) = (path.parent for path in tmp_path.rglob("settings.json"))
    head = read_head(folder)
    assert head.sources == tuple(rig) and head.sides == (Side.RIGHT, Side.LEFT)
    assert head.footwear == Footwear("clogs", 20.0, 21.0)
    print(f"from the command to ten kilobytes of record: {took_s:.1f} s")
