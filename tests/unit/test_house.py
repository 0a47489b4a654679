"""Holds the habits of the house that a machine can check: sizes, docstrings, links, no places of one machine."""

from __future__ import annotations

import argparse
import ast
import re
import shutil
import statistics
import subprocess
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from weightshare.cli import peripheral

FILE_LINES = 300
TEST_FILE_LINES = 400
"""A table of cases may be longer than a module."""
FUNCTION_LINES_MEDIAN = 8
LONG_FUNCTION_LINES = 30
LONG_FUNCTIONS_AT_MOST = 0.02

NOT_OURS = {
    "a place on one machine": r"(?<![\w.-])/(?:work|root|opt|home/\w+)/",
    "a registry's address": r"(?:py" + r"pi|files\.python" + r"hosted|deb\.deb" + r"ian)\.(?:org|net)|--index" + "-url",
    "a number of somebody's list": r"\b(?:issue|ticket) #?\d",
}


def tracked(checkout: Path) -> list[Path]:
    """Return the text files of the checkout that are the project's own."""
    names: list[str] = []
    if shutil.which("git"):
        command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
        listed = subprocess.run(command, cwd=checkout, capture_output=True, text=True, check=False)
        names = listed.stdout.split("\0") if listed.returncode == 0 else []
    paths = [checkout / name for name in names if name] or list(_by_hand(checkout))
    return [path for path in paths if path.is_file() and path.suffix not in (".png", ".parquet", ".bin")]


def _by_hand(checkout: Path) -> Iterator[Path]:
    """Walk a checkout that has no history (an archive), or a machine that has no git."""
    for folder in ("weightshare", "tests", "docs", "hardware", "calibration", ".ci"):
        yield from (path for path in (checkout / folder).rglob("*") if "__pycache__" not in path.parts)
    yield from (path for path in checkout.iterdir() if path.suffix in (".md", ".toml") or path.name == "Makefile")


def python_files(checkout: Path) -> list[Path]:
    return [path for path in tracked(checkout) if path.suffix == ".py"]


def trees(checkout: Path) -> Iterator[tuple[str, ast.Module]]:
    for path in sorted((checkout / "weightshare").rglob("*.py")):
        yield str(path.relative_to(checkout)), ast.parse(path.read_text(encoding="utf-8"))


def test_files_fit_a_reader(checkout: Path) -> None:
    lines = {
        path.relative_to(checkout): len(path.read_text(encoding="utf-8").splitlines())
        for path in python_files(checkout)
    }
    assert len(lines) > 20
    limit = {path: TEST_FILE_LINES if path.parts[0] == "tests" else FILE_LINES for path in lines}
    assert {str(path): n for path, n in lines.items() if n > limit[path]} == {}


def test_functions_fit_a_reader(checkout: Path) -> None:
    lengths = {
        f"{name}:{node.lineno} {node.name}": _body_lines(node)
        for name, tree in trees(checkout)
        for node in ast.walk(tree)
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))
    }
    assert statistics.median(lengths.values()) <= FUNCTION_LINES_MEDIAN
    long = {name: n for name, n in lengths.items() if n > LONG_FUNCTION_LINES}
    assert len(long) <= LONG_FUNCTIONS_AT_MOST * len(lengths), long


def _body_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Count the lines of a function without its signature and docstring."""
    body = node.body[1:] if ast.get_docstring(node) is not None else node.body
    return (node.end_lineno or 0) - body[0].lineno + 1 if body else 0


def test_everything_public_says_what_it_is(checkout: Path) -> None:
    silent = [
        f"{name}: {getattr(node, 'name', 'the module')}"
        for name, tree in trees(checkout)
        for node in _public(tree)
        if ast.get_docstring(node) is None
    ]
    assert silent == []


def _public(tree: ast.Module) -> Iterator[ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef]:
    """Yield the module, its public classes and functions, and the public methods of those classes."""
    if tree.body:
        yield tree
    holders: list[ast.Module | ast.ClassDef] = [tree]
    for holder in holders:
        for node in holder.body:
            if isinstance(node, (ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)) and node.name[0] != "_":
                if not _inherits_words(node):
                    yield node
                if isinstance(node, ast.ClassDef):
                    holders.append(node)


def _inherits_words(node: ast.AST) -> bool:
    """An override carries the words of what it overrides; so does a property's setter. Qt's own keep Qt's names."""
    marks = [ast.unparse(mark) for mark in getattr(node, "decorator_list", [])]
    name = getattr(node, "name", "")
    return any(mark == "override" or mark.endswith(".setter") for mark in marks) or bool(re.search(r"[a-z][A-Z]", name))


@pytest.mark.parametrize("what", NOT_OURS)
def test_nothing_is_tied_to_one_machine(checkout: Path, what: str) -> None:
    found = [
        f"{path.relative_to(checkout)}:{number}: {line.strip()}"
        for path in tracked(checkout)
        for number, line in enumerate(path.read_text(encoding="utf-8", errors="replace").splitlines(), 1)
        if re.search(NOT_OURS[what], line)
    ]
    assert found == []


def documents(checkout: Path) -> list[Path]:
    return [path for path in tracked(checkout) if path.suffix == ".md"]


def test_links_between_documents_lead_somewhere(checkout: Path) -> None:
    broken = [
        f"{path.relative_to(checkout)}: {link}"
        for path in documents(checkout)
        for link in re.findall(r"\]\(([^)]+)\)", path.read_text(encoding="utf-8"))
        if not re.match(r"\w+:", link) and not _leads_somewhere(path, link)
    ]
    assert broken == []


def _leads_somewhere(path: Path, link: str) -> bool:
    file, _, anchor = link.partition("#")
    target = (path.parent / file).resolve() if file else path
    if not target.exists():
        return False
    return not anchor or anchor in _anchors(target)


def _anchors(path: Path) -> set[str]:
    """Return what headings can be linked to: lower case, spaces as dashes, no punctuation."""
    headings = re.findall(r"^#+ (.+)$", path.read_text(encoding="utf-8"), flags=re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


def test_the_documents_name_every_command_and_option(checkout: Path) -> None:
    from weightshare import cli

    told = (checkout / "docs" / "commands.md").read_text(encoding="utf-8")
    parsers = _commands(cli.build_parser())
    assert len(parsers) >= 7
    untold = [f"weightshare {name}" for name in parsers if f"## `weightshare {name}" not in told]
    for name, parser in parsers.items():
        section = told.partition(f"## `weightshare {name}")[2].partition("\n## ")[0]
        options = [option for action in parser._actions for option in action.option_strings]
        untold += [f"weightshare {name} {option}" for option in options if option[:2] == "--" and option not in section]
    assert [line for line in untold if not line.endswith("--help")] == []


def _commands(parser: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    (group,) = [action for action in parser._actions if isinstance(action, argparse._SubParsersAction)]
    return dict(group.choices)


def test_the_plan_of_the_house_names_every_module(checkout: Path) -> None:
    plan = (checkout / "DEVELOPERS.md").read_text(encoding="utf-8")
    untold, told = [], 0
    for package in ("pipeline", "programme", "scales", "scales/rig", "records", "practice", "window"):
        # the virtual scales are told of at the end of the section on scales
        section = plan.partition(f"\n### `{package.partition('/')[0]}`\n")[2].partition("\n### ")[0]
        modules = [path.stem for path in (checkout / "weightshare" / package).glob("*.py") if path.stem != "__init__"]
        untold += [f"{package}/{name}" for name in modules if f"`{name}`" not in section]
        told += len(modules)
    assert told > 90 and untold == []


def test_every_test_is_run(checkout: Path) -> None:
    """The folders are named one by one, in their order; one that is forgotten would never be run."""
    named = tomllib.loads((checkout / "pyproject.toml").read_text())["tool"]["pytest"]["ini_options"]["testpaths"]
    there = {path.relative_to(checkout).parts[:2] for path in (checkout / "tests").rglob("test_*.py")}
    assert {tuple(path.split("/")) for path in named} == there


def test_the_changes_tell_of_this_version(checkout: Path) -> None:
    project = tomllib.loads((checkout / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert f"\n## {project['version']} " in (checkout / "CHANGELOG.md").read_text(encoding="utf-8")


def test_every_dependency_has_its_reason(checkout: Path) -> None:
    project = tomllib.loads((checkout / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    reasons = (checkout / "DEVELOPERS.md").read_text(encoding="utf-8")
    wanted = [*project["dependencies"], *project["optional-dependencies"]["dev"]]
    names = [re.split(r"[<>=!~; ]", line)[0] for line in wanted]
    assert [name for name in names if f"| {name} |" not in reasons] == []


def test_set_up_and_selfcheck_ask_for_the_same_libraries(checkout: Path) -> None:
    setup = (checkout / ".ci" / "setup").read_text(encoding="utf-8")
    asked = dict(re.findall(r"(lib\S+\.so\.\d+)=([a-z0-9.-]+)", setup))
    assert asked == {**peripheral.OFFSCREEN_LIBRARIES, **peripheral.WINDOW_LIBRARIES}
