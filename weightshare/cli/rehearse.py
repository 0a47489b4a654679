"""`weightshare rehearse`: every stage of a programme done by a virtual person, before a patient does it."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.practice.rehearsal import Rehearsed
    from weightshare.programme.stage import Stage

SCHEMA = "weightshare.rehearsal/1"
_EXAMPLE = """\
weightshare rehearse achilles --short
  weightshare rehearse my.toml --stage lowering-80 --person tiring --json"""


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `rehearse` to the top parser."""
    words = "every stage of a programme done by a virtual person, in a fraction of the time"
    parser = add_command(subparsers, "rehearse", words, _EXAMPLE)
    parser.add_argument("programme", metavar="NAME|FILE", help="a ready-made programme, or a file")
    parser.add_argument("--stage", action="append", metavar="NAME", help="only this stage; may be given again")
    parser.add_argument("--short", action="store_true", help="two sets of two, or two holds of 3 s, short rests")
    parser.add_argument("--injured", choices=("left", "right"), default="right", help="the injured side (right)")
    parser.add_argument("--person", metavar="WHO", help="a virtual person and wishes, as after rig: (raiser)")
    parser.add_argument("--save", type=Path, metavar="DIR", help="keep the sessions in DIR")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Do the stages one by one; return 0 where all that was done was counted, and measured right, else 1.

    Raises ProgrammeError where there is no such programme or stage, and OptionError where there is no such person.
    """
    from weightshare.model import Side
    from weightshare.practice.rehearsal import PERSON, rehearse, shorten
    from weightshare.programme.shelf import find_programme

    kept = find_programme(args.programme)
    stages = [kept.find(name) for name in args.stage] if args.stage else list(kept.programme.stages)
    person, injured = PERSON if args.person is None else args.person, Side(args.injured)
    done: list[Rehearsed] = []
    for place, stage in enumerate(stages):
        _say_progress(place, len(stages), stage)
        asked = shorten(stage) if args.short else stage
        done.append(rehearse(kept, asked, injured, person, save=args.save))
        if not args.json:
            print("\n".join(lines_of(done[-1])), flush=True)
    agree = all(one.agrees for one in done)
    if args.json:
        print(json.dumps({"schema": SCHEMA, "agrees": agree, "stages": [to_json(one) for one in done]}))
    elif not agree:
        print("not all that was done was measured as it was: see the lines marked NOT", file=sys.stderr)
    return 0 if agree else 1


def _say_progress(place: int, count: int, stage: Stage) -> None:
    if sys.stderr.isatty():
        print(f"{place + 1} of {count}: {stage.name} \u2026", file=sys.stderr)


def lines_of(one: Rehearsed) -> list[str]:
    """Return what came of a stage: a line for it, and one for each set or hold."""
    analysis = one.finished.analysis
    assert analysis is not None
    took = f"{analysis.duration_s:.0f} s of the person's time"
    kind = "sets" if one.stage.exercise.is_repeated else "holds"
    head = f"{one.stage.key:18}{'as it was' if one.agrees else 'NOT as it was'}: {len(one.parts)} of {one.asked} {kind}"
    said = [f"{head}, {took}"]
    for part in one.parts:
        if part.held_s is not None:
            true = "unknown" if part.true_held_s is None else f"{part.true_held_s:.1f}"
            said.append(f"  hold {part.number}: {part.held_s:.1f} s held, truly {true}")
            continue
        share = "" if part.share_percent is None else f", {_say_share(part.share_percent, part.true_share_percent)}"
        said.append(f"  set {part.number}: {part.counted} counted of {part.done} done{share}")
    return [*said, *(f"  {words}" for words in one.messages)]


def _say_share(measured: float, true: float | None) -> str:
    truly = "unknown" if true is None else f"{true + 0.0:.1f}"
    return f"{measured + 0.0:.1f} % on the injured side on the way down, truly {truly}"


def to_json(one: Rehearsed) -> dict[str, Any]:
    """Return it as plain values."""
    from weightshare.pipeline.result import rounded
    from weightshare.records.value import to_plain

    return {
        "stage": one.stage.key,
        "agrees": one.agrees,
        "asked": one.asked,
        "parts": rounded([to_plain(part) for part in one.parts]),
        "done": [to_plain(row) for row in one.assessment.done],
        "suggestion": one.assessment.suggestion.to_json(),
        "messages": list(one.messages),
        "folder": None if one.finished.folder is None else str(one.finished.folder),
    }
