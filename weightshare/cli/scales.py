"""`weightshare scales`: the scales that can be reached, and how."""

from __future__ import annotations

import argparse
import json
import sys
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.scales.discovery import Reach

_EXAMPLE = "weightshare scales --probe"
LISTEN_S = 4.0
_ADVICE = "A scale on the network is tcp://HOST:PORT. Practise on one: weightshare practise --source SOURCE"


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `scales` to the top parser."""
    parser = add_command(subparsers, "scales", "the scales that can be reached from here, and how", _EXAMPLE)
    parser.add_argument(
        "--probe", action="store_true", help="ask each port, and each one heard, whether a scale answers"
    )
    parser.add_argument("--no-air", action="store_true", help="do not look by Bluetooth")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the list; return 0."""
    from weightshare.scales.discovery import list_ports, list_rigs, probe
    from weightshare.scales.lab.listing import list_streams

    heard, trouble = ([], "") if args.no_air else _listen()
    found = [*list_ports(), *heard]
    reaches = [*(map(probe, found) if args.probe else found), *list_streams(), *list_rigs()]
    if args.json:
        print(json.dumps({"scales": [to_json(reach) for reach in reaches], "bluetooth": trouble or None}))
    else:
        print(to_table(reaches, trouble))
    return 0


def _listen() -> tuple[list[Reach], str]:
    """Return who is heard by Bluetooth, and why nobody can be, in words."""
    from weightshare.errors import DeviceError
    from weightshare.scales.discovery import list_air

    if sys.stderr.isatty():
        print(f"listening for scales by Bluetooth, {LISTEN_S:g} s ...", file=sys.stderr)
    try:
        return list_air(LISTEN_S), ""
    except DeviceError as error:
        return [], str(error)


def to_json(reach: Reach) -> dict[str, object]:
    """Return one way to reach a scale as plain values; what nobody asked for is null."""
    return {
        "source": reach.source,
        "description": reach.description,
        "answer": reach.answer or None,
        "device_id": reach.identity.device_id if reach.identity else None,
        "name": reach.identity.name if reach.identity else None,
    }


def to_table(reaches: list[Reach], no_air: str = "") -> str:
    """Return the list as aligned lines, with what to do with it at the end; `no_air`: why nobody is heard."""
    width = max(len(reach.source) for reach in reaches) + 2
    lines = [f"{reach.source:{width}}{'; '.join(filter(None, [reach.description, reach.answer]))}" for reach in reaches]
    if not any(reach.source.startswith("serial:") for reach in reaches):
        lines.append("no serial port was found: plug a scale in to see it here")
    if no_air:
        lines.append(f"no Bluetooth: {no_air}")
    return "\n".join([*lines, "", _ADVICE])
