"""`weightshare decode`: bytes from a scale as CSV of raw readings, or a report of what came and what did not."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.scales.capture import RawRecord
    from weightshare.scales.survey import Survey

_EXAMPLE = "weightshare decode session-2026-11-24-101500/raw.wsr --report"
_LABELS = {
    "identity": "IDENTITY",
    "samples": "SAMPLES",
    "condition": "CONDITION",
    "reply": "REPLY",
    "echo": "ECHO",
    "damaged": "damaged or cut",
    "over_long": "too long",
    "unknown_kind": "of an unknown kind",
    "wrong_length": "of a wrong length",
    "wrong_content": "of wrong content",
    "before_identity": "before IDENTITY",
}
_WIDTH = 28


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `decode` to the top parser."""
    summary = "bytes from a scale, as CSV of raw readings, or a report of frames, gaps and damage"
    parser = add_command(subparsers, "decode", summary, _EXAMPLE)
    parser.add_argument("capture", type=Path, metavar="CAPTURE", help="a raw record, or the bare bytes of a stream")
    parser.add_argument("--report", action="store_true", help="count frames, gaps and damage instead")
    parser.add_argument("--source", type=int, metavar="N", help="which scale, of a record of several")
    parser.add_argument("--json", action="store_true", help="print the report as one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print readings or the report; return 0, with damage too. Raises RecordError for what is no capture."""
    from weightshare.scales.capture import read_capture
    from weightshare.scales.survey import survey, to_json

    record = read_capture(args.capture, lenient=True)
    surveys = [each for each in survey(record) if args.source in (None, each.source)]
    _check_source(record, surveys, args.source)
    if args.json:
        print(json.dumps(to_json(record, surveys)))
    elif args.report:
        print(report_table(to_json(record, surveys)))
    else:
        _print_readings(record, surveys)
    return 0


def _check_source(record: RawRecord, surveys: list[Survey], source: int | None) -> None:
    from weightshare.errors import OptionError

    if not surveys:
        there = ", ".join(map(str, record.sources))
        raise OptionError(f"--source {source} is not in {record.path}: it may be {there}")


def _print_readings(record: RawRecord, surveys: list[Survey]) -> None:
    from weightshare.errors import RecordError
    from weightshare.scales.reading import table_lines

    chosen = surveys[0]
    if chosen.unreadable:
        raise RecordError(f"{record.path}: {chosen.unreadable}; --report counts what came")
    notes = _notes(record, chosen, len(surveys))
    if notes:
        print(f"weightshare: {record.path}: {'; '.join(notes)}", file=sys.stderr)
    for block in table_lines(chosen.items):
        sys.stdout.write(block)


def _notes(record: RawRecord, chosen: Survey, sources: int) -> list[str]:
    """What somebody who reads the table should know, in words."""
    notes = [record.damage.removeprefix(f"{record.path}: ")] if record.damage else []
    if not (record.complete or record.damage):
        notes.append("the record was cut")
    if chosen.counts.restarts:
        notes.append("the scale restarted, and time_s begins anew there")
    if sources > 1:
        notes.append(f"these are the readings of source {chosen.source}; --source chooses another")
    return notes


def report_table(report: dict[str, Any]) -> str:
    """Return the report as lines of a name and a figure."""
    state = {None: "", True: ", complete", False: ", cut"}[report["complete"]]
    rows = [("capture", report["capture"]), ("form", report["form"] + ("" if report["damage"] else state))]
    if report["damage"]:
        rows.append(("damage", report["damage"].removeprefix(f"{report['capture']}: ")))
    for source in report["sources"]:
        rows += [("", ""), *_source_rows(source)]
    return "\n".join(f"{name:{_WIDTH}}{figure}".rstrip() for name, figure in rows)


def _source_rows(source: dict[str, Any]) -> list[tuple[str, str]]:
    host_s = source["host_duration_s"]
    gaps = f"{source['gaps']} with {source['lost_frames']} lost frames" if source["gaps"] else "none"
    return [
        (f"scale {source['source']}", _scale_words(source["scale"])),
        ("duration", f"{source['duration_s']:.3f} s by its ticks" + _host_words(host_s)),
        ("bytes", str(source["bytes"])),
        *((f"{_LABELS[name]} frames", str(count)) for name, count in source["frames"].items()),
        ("samples", f"{source['samples']}, {source['missing_readings']} readings missing"),
        ("gaps", gaps),
        ("sequence steps back", str(source["out_of_order"])),
        ("restarts of the scale", str(source["restarts"])),
        ("links opened, closed", f"{source['links_opened']}, {source['links_closed']}"),
        *((f"dropped, {_LABELS[name]}", str(count)) for name, count in source["dropped"].items()),
    ]


def _host_words(host_s: float | None) -> str:
    return "" if host_s is None else f", {host_s:.3f} s on the host"


def _scale_words(scale: dict[str, Any] | None) -> str:
    if scale is None:
        return "never says who it is"
    if "device_id" not in scale:
        return f"speaks protocol version {scale['protocol']}, which this program does not read"
    name = f"{scale['name']} " if scale["name"] else ""
    return f"{name}{scale['device_id']}, {scale['channels']} channels, {scale['rate_Hz']:g} Hz"
