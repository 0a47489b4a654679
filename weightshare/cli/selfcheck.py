"""`weightshare selfcheck`: what this machine has and lacks for the program to run, and the mend."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.cli.machine import Check

SCHEMA = "weightshare.selfcheck/1"
EXAMPLE = "weightshare selfcheck --json"


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `selfcheck` to the top parser."""
    summary = "what this machine has and lacks for the program to run, and the mend"
    parser = add_command(subparsers, "selfcheck", summary, EXAMPLE)
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print every check; return 0 where all that is needed is there, else 1."""
    from weightshare.cli.machine import all_checks

    checks = tuple(all_checks())
    fit = all(check.ok for check in checks if check.needed)
    print(as_json(checks, fit) if args.json else as_table(checks, fit))
    return 0 if fit else 1


def as_json(checks: Iterable[Check], fit: bool) -> str:
    """Return the checks as one JSON object: `fit`, and for each its name, whether needed and ok, finding and mend."""
    rows = [
        {"name": check.name, "needed": check.needed, "ok": check.ok, "found": check.found, "mend": check.mend or None}
        for check in checks
    ]
    return json.dumps({"schema": SCHEMA, "fit": fit, "checks": rows}, indent=2, ensure_ascii=not _speaks_utf8())


def as_table(checks: Iterable[Check], fit: bool) -> str:
    """Return the checks as a table with the mend of each fault under it."""
    lines = []
    for check in checks:
        mark = "ok" if check.ok else "MISSING" if check.needed else "without"
        lines.append(f"{mark:8}{check.name:20}{check.found}")
        if check.mend:
            lines.append(f"{'':28}-> {check.mend}")
    lines.append("This machine can run weightshare." if fit else "This machine cannot run all of weightshare yet.")
    return "\n".join(lines)


def _speaks_utf8() -> bool:
    return (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
