"""What `weightshare selfcheck` finds, on machines that lack one thing or another."""

from __future__ import annotations

import argparse
import json
import sys
import tomllib
from pathlib import Path

import pytest

from weightshare.cli import machine, peripheral, selfcheck
from weightshare.cli.machine import Check
from weightshare.records.place import session_place
from weightshare.window.display import names_display


def options(*arguments: str) -> argparse.Namespace:
    parser = argparse.ArgumentParser()
    selfcheck.add_parser(parser.add_subparsers())
    return parser.parse_args(["selfcheck", *arguments])


def test_this_machine_can_run_it_and_says_so_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    status = selfcheck.run(options("--json"))
    told = json.loads(capsys.readouterr().out)
    unmet = [check for check in told["checks"] if check["needed"] and not check["ok"]]
    assert unmet == []
    assert status == 0
    assert told["schema"] == "weightshare.selfcheck/1"
    assert told["fit"] is True
    assert {"Python", "numpy", "drawing", "fonts", "display", "sound", "serial ports", "sessions"} <= {
        check["name"] for check in told["checks"]
    }


def test_a_needed_thing_that_lacks_is_status_1_with_its_mend(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(machine, "all_checks", lambda: iter([machine.check_python((3, 10, 4))]))
    assert selfcheck.run(options()) == 1
    out = capsys.readouterr().out
    assert out.startswith("MISSING Python")
    assert "3.10.4" in out
    assert "-> install a Python from 3.11 to 3.13" in out


def test_a_thing_it_can_do_without_is_no_failure(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(machine, "all_checks", lambda: iter([peripheral.check_display({})]))
    display = names_display({})
    assert selfcheck.run(options()) == 0
    assert display or "without display" in capsys.readouterr().out


def test_what_another_system_needs_is_not_asked_for() -> None:
    """A package for Linux alone was told as missing, by a name under which nothing can be imported."""
    lines = ["numpy>=1.26", 'dbus-fast>=4; sys_platform == "linux"', 'pylsl>=1.18; extra == "lsl"', "platformdirs"]
    assert machine.needed_here(lines, "linux") == {"numpy": ">=1.26", "dbus-fast": ">=4", "platformdirs": ""}
    assert machine.needed_here(lines, "win32") == {"numpy": ">=1.26", "platformdirs": ""}


@pytest.mark.skipif(sys.platform != "linux", reason="needed on Linux alone")
def test_every_package_is_imported_by_its_own_name() -> None:
    names = machine.needed_here(declared(), sys.platform)
    trial = machine.probe(machine._IMPORT_TRIAL.format(names=[machine.IMPORT_NAMES.get(one, one) for one in names]))
    assert [line for line in trial.output.splitlines() if "No module named" in line] == []


def declared() -> list[str]:
    """What the checkout says, which may be newer than what is installed."""
    told = tomllib.loads((Path(__file__).resolve().parents[2] / "pyproject.toml").read_text(encoding="utf-8"))
    lines: list[str] = told["project"]["dependencies"]
    return lines


@pytest.mark.parametrize("version", [(3, 11, 0), (3, 12, 9), (3, 13, 1)])
def test_pythons_that_fit(version: tuple[int, int, int]) -> None:
    assert machine.check_python(version) == Check("Python", True, True, ".".join(map(str, version)))


@pytest.mark.parametrize("version", [(3, 10, 99), (3, 14, 0), (2, 7, 18)])
def test_pythons_that_do_not_fit(version: tuple[int, int, int]) -> None:
    assert not machine.check_python(version).ok


@pytest.mark.parametrize(
    ("version", "bounds", "fits"),
    [
        ("6.11.3", "<6.12,>=6.10", True),
        ("6.12.0", "<6.12,>=6.10", False),
        ("6.9.1", ">=6.10", False),
        ("6.10", ">=6.10.0", True),
        ("1.26.0", ">=1.26", True),
        ("4", ">=4,!=4.0", False),
        ("3.5", "", True),
    ],
)
def test_bounds(version: str, bounds: str, fits: bool) -> None:
    assert machine.within(version, bounds) is fits


def test_the_packages_are_those_that_the_package_asks_for() -> None:
    wanted = machine.requirements()
    assert "numpy" in wanted
    assert "pytest" not in wanted
    assert machine.within("6.11.3", wanted["PySide6-Essentials"])
    assert not machine.within("6.12.0", wanted["PySide6-Essentials"])


def test_a_package_that_is_not_installed_names_the_command() -> None:
    check = machine.check_package("no-such-package-of-ours", ">=2", "not tried")
    assert not check.ok
    assert check.mend == 'python -m pip install "no-such-package-of-ours>=2"'


def test_a_package_that_is_too_old_or_broken_is_told() -> None:
    assert machine.check_package("numpy", ">=999", "imported").found.endswith("needs >=999")
    broken = machine.check_package("numpy", ">=1", "libz.so.1: cannot open shared object file")
    assert (broken.ok, broken.needed) == (False, True)
    assert "libz.so.1" in broken.found


def test_a_crash_in_another_process_is_caught() -> None:
    crashed = machine.probe("import os; os.abort()")
    assert not crashed.ok
    assert crashed.reason
    raised = machine.probe("raise SystemExit('no port there')")
    assert raised.reason == "no port there"
    assert machine.probe("print('fine')").output == "fine\n"


def test_qt_that_cannot_start_is_told_with_a_mend(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("QT_QPA_PLATFORM", "no-such-platform")
    monkeypatch.setenv("DISPLAY", ":99999")
    check = peripheral.check_display()
    assert not check.ok
    assert not check.needed
    assert check.found.startswith("Qt opens no window: ")
    assert check.mend


def test_a_library_that_is_not_there_is_named_by_its_package() -> None:
    missing = peripheral.missing_libraries({"libno-such-thing.so.7": "libno7"})
    assert missing == (["libno7"] if sys.platform.startswith("linux") else [])


def test_the_folder_need_not_be_there_yet_and_is_not_made(tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    check = machine.check_folder(folder)
    assert check.ok
    assert "GB free" in check.found
    assert not (tmp_path / "a").exists()


def test_the_folder_looked_at_is_that_of_the_sessions() -> None:
    assert machine.check_folder().found.startswith(str(session_place()))


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="needs a folder that nobody can write to")
def test_a_folder_that_cannot_be_written_to_is_told() -> None:
    check = machine.check_folder(Path("/proc/self/sessions"))
    assert not check.ok
    assert "--save" in check.mend


def test_a_full_disk_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(machine, "NEEDED_FREE_BYTES", 10**18)
    check = machine.check_folder(tmp_path)
    assert not check.ok
    assert "make room" in check.mend


def test_a_clock_before_the_program_was_made_is_wrong() -> None:
    assert not machine.check_clock(0.0).ok
    assert machine.check_clock(1.8e9).ok  # January 2027


def test_a_terminal_without_utf8_is_told_and_not_needed() -> None:
    check = machine.check_encoding("ANSI_X3.4-1968")
    assert (check.ok, check.needed) == (False, False)
    assert machine.check_encoding("utf-8").ok
