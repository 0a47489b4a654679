"""Holds the direction of imports; see RANK, and the plan in DEVELOPERS.md."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

RANK = {
    "errors": 0,
    "tongue": 0,
    "model": 1,
    "exercise": 2,
    "task": 3,
    "state": 4,
    "pipeline": 5,
    "metrology": 6,
    "programme": 7,
    "scales": 7,
    "records": 8,
    "practice": 9,
    "workbench": 9,
    "report": 10,
    "plot": 11,
    "window": 11,
    "cli": 12,
}
"""Each part may import from itself and from those of a lower rank; programme and scales, practice and workbench, plot
and window do not know each other, and the window does not know the commands."""

PUBLIC = "weightshare"
"""The package itself, with its public functions: above records, under practice."""

PUBLIC_RANK = 8

QT = {"PySide6", "shiboken6", "pyqtgraph"}
PURE = {
    "__future__", "abc", "bisect", "collections", "contextlib", "dataclasses", "enum", "fractions", "functools",
    "heapq", "itertools", "math", "numbers", "operator", "statistics", "types", "typing", "warnings", "datetime",
    "numpy", "scipy", "importlib", "pathlib.PurePath",
}  # fmt: skip
"""What the pure parts may know: no files, no clock, no threads. Loading code and naming a path open no file."""

POSIX_ONLY = {"fcntl", "grp", "pwd", "resource", "posix", "curses", "readline", "syslog"}
TERMINAL = {"pty", "tty", "termios"}
HEAVY = {"numpy", "scipy", "pandas", "pyarrow", "matplotlib", "PySide6", "pyqtgraph", "sounddevice", "serial", "cobs"}


@dataclass(frozen=True)
class Import:
    """One import: by which module, of what, on which line, and whether as soon as the module is loaded."""

    by: str
    of: str
    line: int
    at_once: bool

    def __str__(self) -> str:
        return f"{self.by}, line {self.line}, imports {self.of}"


def imports(source: str, name: str, package: str) -> Iterator[Import]:
    """Yield every import in `source`, those inside functions too; `package` is what relative imports start from."""
    tree = ast.parse(source)
    typing_only = {id(inner) for node in ast.walk(tree) if _is_type_checking(node) for inner in ast.walk(node)}
    later = {
        id(inner)
        for node in ast.walk(tree)
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda))
        for inner in ast.walk(node)
    } | typing_only
    for node in ast.walk(tree):
        for target in _targets(node, package):
            yield Import(name, target, node.lineno, id(node) not in later)  # type: ignore[attr-defined]


def _is_type_checking(node: ast.AST) -> bool:
    return isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"


def _targets(node: ast.AST, package: str) -> list[str]:
    if isinstance(node, ast.Import):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.ImportFrom):
        above = package.split(".")[: len(package.split(".")) - node.level + 1] if node.level else []
        base = ".".join([*above, *([node.module] if node.module else [])])
        # `from weightshare import model` and `from . import model` name modules; of pathlib, one name is pure
        return [f"{base}.{alias.name}" for alias in node.names] if base in (PUBLIC, "pathlib") else [base]
    return []


def part_of(module: str) -> str:
    """Return the part of the house that `module` belongs to: `pipeline`, or `weightshare` for the package itself."""
    names = module.split(".")
    if names[1:] == ["__main__"]:
        return "cli"
    return names[1] if len(names) > 1 and names[1] in RANK else PUBLIC


def breaches(found: Import) -> list[str]:
    """Return what is wrong with one import, in words."""
    part, top = part_of(found.by), found.of.split(".", maxsplit=1)[0]
    wrong = []
    if top == PUBLIC and not _may_know(part, found.of):
        wrong.append(f"{found}: {part} must not know {part_of(found.of)}")
    if top in QT and part != "window":
        wrong.append(f"{found}: only window knows Qt")
    if part in ("errors", "model", "exercise", "task", "state", "pipeline", "metrology") and not {top, found.of} & (
        PURE | {PUBLIC}
    ):
        wrong.append(f"{found}: {part} knows no files, no clock, no threads")
    if top in POSIX_ONLY | TERMINAL and found.at_once:
        wrong.append(f"{found}: {top} is not on every system; import it inside a function, where it is there")
    if top in TERMINAL and not found.by.startswith("weightshare.scales.rig"):
        wrong.append(f"{found}: only the rig has a pseudo-terminal")
    return wrong


def _may_know(part: str, module: str) -> bool:
    other = part_of(module)
    if part == other or module == f"{PUBLIC}.__version__":
        return True
    ours, theirs = RANK.get(part, PUBLIC_RANK), RANK.get(other, PUBLIC_RANK)
    # the public functions stand on records and are stood on by the commands only
    return theirs <= ours if part == PUBLIC else theirs < ours or (other == PUBLIC and ours > PUBLIC_RANK)


def modules(checkout: Path) -> Iterator[tuple[str, str, str]]:
    """Yield the source, the dotted name and the package of every module of weightshare."""
    for path in sorted((checkout / "weightshare").rglob("*.py")):
        names = list(path.relative_to(checkout).with_suffix("").parts)
        package = ".".join(names[:-1])
        if names[-1] == "__init__":
            names.pop()
        yield path.read_text(encoding="utf-8"), ".".join(names), package


def test_imports_run_one_way(checkout: Path) -> None:
    found = [item for source, name, package in modules(checkout) for item in imports(source, name, package)]
    assert len(found) > 50
    assert [line for item in found for line in breaches(item)] == []


def test_every_part_has_a_place(checkout: Path) -> None:
    tops = {path.stem for path in (checkout / "weightshare").iterdir() if path.is_dir() or path.suffix == ".py"}
    assert tops - {"__pycache__", "__init__", "__main__", "public"} <= set(RANK)


@pytest.mark.parametrize(
    ("name", "source"),
    [
        ("weightshare.pipeline.share", "import os"),
        ("weightshare.pipeline.share", "from pathlib import Path"),
        ("weightshare.pipeline.share", "def f():\n    import time"),
        ("weightshare.pipeline.share", "from weightshare.scales import frame"),
        ("weightshare.pipeline.share", "from weightshare import records"),
        ("weightshare.pipeline.share", "from ..records import trace"),
        ("weightshare.model", "from weightshare.pipeline import share"),
        ("weightshare.errors", "from weightshare.model import Side"),
        ("weightshare.scales.link", "import weightshare.records.recorder"),
        ("weightshare.records.session", "from weightshare.practice.engine import Engine"),
        ("weightshare.practice.engine", "from PySide6.QtCore import QTimer"),
        ("weightshare.practice.engine", "from weightshare.window import main"),
        ("weightshare.cli.practise", "def f():\n    import pyqtgraph as pg"),
        ("weightshare.window.main", "from weightshare.cli import main"),
        ("weightshare.scales.rig.pseudo", "import pty"),
        ("weightshare.scales.serial", "def f():\n    import termios"),
        ("weightshare.records.lock", "import fcntl"),
    ],
)
def test_a_planted_breach_is_caught(name: str, source: str) -> None:
    (found,) = imports(source, name, name.rpartition(".")[0])
    assert breaches(found)


@pytest.mark.parametrize(
    ("name", "source"),
    [
        ("weightshare.pipeline.share", "import numpy as np"),
        ("weightshare.pipeline.share", "from weightshare.model import Side"),
        ("weightshare.pipeline.share", "from . import clock"),
        ("weightshare.records.session", "from weightshare import __version__"),
        ("weightshare.pipeline.share", "from pathlib import PurePath"),
        ("weightshare.window.main", "from PySide6.QtCore import QTimer"),
        ("weightshare.cli", "def f():\n    from weightshare.window import main"),
        ("weightshare.cli.analyse", "import weightshare"),
        ("weightshare", "from weightshare.records import trace"),
        ("weightshare.scales.rig.pseudo", "def f():\n    import pty"),
        ("weightshare.records.lock", "def f():\n    import fcntl"),
    ],
)
def test_a_lawful_import_passes(name: str, source: str) -> None:
    (found,) = imports(source, name, name.rpartition(".")[0] or name)
    assert breaches(found) == []


@pytest.mark.parametrize("module", ["weightshare", "weightshare.cli"])
def test_help_loads_nothing_heavy(module: str) -> None:
    """`--help` is held to three times the start of Python; numpy alone would cost more."""
    code = f"import {module}, sys; print(*sorted(sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = {name.split(".")[0] for name in done.stdout.split()}
    assert "argparse" in loaded or module == "weightshare"
    assert loaded & HEAVY == set()
