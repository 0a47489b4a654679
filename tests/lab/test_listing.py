"""Streams are listed with what serves as scales, and why another does not; selfcheck says whether they can be had."""

from __future__ import annotations

import json
import subprocess
import sys
from importlib import metadata

import pytest

from tests.lab.conftest import Laboratory
from weightshare.cli.machine import LABORATORY, check_laboratory
from weightshare.scales.lab.listing import list_streams


def test_streams_are_listed_with_what_they_serve_for(name: str) -> None:
    plates, odd = Laboratory(name), Laboratory(f"{name} odd", ("Fz1", "Fz2"), source="plates-2")
    told = {reach.source: reach.answer for reach in list_streams()}
    assert told[f"lsl:{name}"] == "left is Left Fz in N, right is Right Fz in N, load positive"
    assert "name both: ,left=LABEL,right=LABEL" in told[f"lsl:{name} odd"]
    plates.leave()
    odd.leave()


def test_the_command_lists_them(name: str) -> None:
    lab = Laboratory(name)
    command = [sys.executable, "-m", "weightshare", "scales", "--no-air", "--json"]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True)
    assert f"lsl:{name}" in [scale["source"] for scale in json.loads(done.stdout)["scales"]]
    lab.leave()


def test_selfcheck_says_which_of_it_is_there(monkeypatch: pytest.MonkeyPatch) -> None:
    assert all(check.ok and not check.needed for check in check_laboratory())

    def nothing(package: str) -> str:
        raise metadata.PackageNotFoundError(package)

    monkeypatch.setattr(metadata, "version", nothing)
    missing = list(check_laboratory())
    assert [check.ok or check.needed for check in missing] == [False] * len(LABORATORY)
    assert missing[0].mend == 'python -m pip install "pylsl>=1.18"'
