"""Runs the benches: `make bench`, or `python tests/bench/run.py [NAME ...] [--json]`.

Each module bench_NAME.py beside this one has `measure()`, which returns a list of figures. Every figure is a ratio
taken within one run, so that it means the same on a fast machine and on a slow one. Each module runs in a process of
its own.
Exit status: 0 where every figure keeps its limit, 1 where one does not, 2 where a bench could not run.
"""

from __future__ import annotations

import argparse
import importlib.util
import json
import os
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import NotRequired, TypedDict

HERE = Path(__file__).resolve().parent
TIME_LIMIT_S = 900.0


class Figure(TypedDict):
    """One figure: `direction` is `at most` or `at least`; `note` says how it was taken or why it is missed."""

    name: str
    value: float
    limit: float
    direction: str
    note: NotRequired[str]


def kept(figure: Figure) -> bool:
    """Tell whether a figure keeps its limit; one that is not a number does not."""
    if figure["direction"] == "at most":
        return figure["value"] <= figure["limit"]
    if figure["direction"] == "at least":
        return figure["value"] >= figure["limit"]
    raise ValueError(f"{figure['name']}: direction {figure['direction']!r} is neither `at most` nor `at least`")


def find(names: Iterable[str]) -> list[str]:
    """Return the benches asked for, or all there are; raise LookupError where one is not there."""
    there = sorted(path.stem.removeprefix("bench_") for path in HERE.glob("bench_*.py"))
    wanted = list(names) or there
    unknown = [name for name in wanted if name not in there]
    if unknown:
        raise LookupError(f"no bench {', '.join(unknown)}; there are: {', '.join(there)}")
    return wanted


def measure_here(name: str) -> list[Figure]:
    """Load bench_NAME.py and return its figures."""
    spec = importlib.util.spec_from_file_location(f"bench_{name}", HERE / f"bench_{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    figures: list[Figure] = module.measure()
    return figures


def measure_apart(name: str) -> list[Figure]:
    """Return the figures of one bench, taken in a process of its own; raise RuntimeError where it fails."""
    environment = {"QT_QPA_PLATFORM": "offscreen", **os.environ}
    command = [sys.executable, str(HERE / "run.py"), "--alone", name]
    done = subprocess.run(command, capture_output=True, text=True, env=environment, timeout=TIME_LIMIT_S, check=False)
    if done.returncode:
        raise RuntimeError(f"bench {name} did not run:\n{done.stderr.strip() or done.returncode}")
    figures: list[Figure] = json.loads(done.stdout.splitlines()[-1])
    return figures


def row(bench: str, figure: Figure) -> str:
    """Return one line of the table."""
    mark = "kept" if kept(figure) else "MISSED"
    line = f"{mark:8}{bench:12}{figure['value']:10.3g}  {figure['direction']:9}{figure['limit']:<8g}{figure['name']}"
    return line + (f"\n{'':20}{figure['note']}" if figure.get("note") else "")


def parse(arguments: list[str] | None) -> argparse.Namespace:
    """Return the options of the command line."""
    parser = argparse.ArgumentParser(description="Run the benches and hold their figures against their limits.")
    parser.add_argument("names", nargs="*", metavar="NAME", help="the benches to run; all where none is named")
    parser.add_argument("--json", action="store_true", help="print one JSON object instead of the table")
    parser.add_argument("--alone", metavar="NAME", help=argparse.SUPPRESS)
    return parser.parse_args(arguments)


def run_all(names: Iterable[str], show: bool) -> tuple[dict[str, list[Figure]], bool]:
    """Run the benches one after the other; return what they found, and whether all of them ran."""
    found: dict[str, list[Figure]] = {}
    complete = True
    for name in names:
        print(f"bench: {name} ...", file=sys.stderr)
        try:
            found[name] = measure_apart(name)
        except (RuntimeError, subprocess.TimeoutExpired) as error:
            print(error, file=sys.stderr)
            complete = False
            continue
        if show:
            print("\n".join(row(name, figure) for figure in found[name]), flush=True)
    return found, complete


def main(arguments: list[str] | None = None) -> int:
    """Run the benches that are asked for, print what they found and return the exit status."""
    options = parse(arguments)
    if options.alone:
        print(json.dumps(measure_here(options.alone)))
        return 0
    try:
        names = find(options.names)
    except LookupError as error:
        print(error, file=sys.stderr)
        return 2
    found, complete = run_all(names, show=not options.json)
    figures = [figure for each in found.values() for figure in each]
    missed = sum(not kept(figure) for figure in figures)
    if options.json:
        print(json.dumps({"benches": found, "missed": missed}, indent=2))
    else:
        print(f"{len(figures) - missed} of {len(figures)} figures keep their limit")
    return (1 if missed else 0) if complete else 2


if __name__ == "__main__":
    sys.exit(main())
