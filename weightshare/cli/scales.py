"""`weightshare scales`: the scales that can be reached, and how."""

from __future__ import annotations

import argparse
import json
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.scales.discovery import Reach

_EXAMPLE = "weightshare scales --probe"
_ADVICE = "A scale on the network is tcp://HOST:PORT. Practise on one: weightshare practise --source SOURCE"


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `scales` to the top parser."""
    parser = add_command(subparsers, "scales", "the scales that can be reached from here, and how", _EXAMPLE)
    parser.add_argument("--probe", action="store_true", help="ask every serial port whether a scale answers")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print the list; return 0."""
    from weightshare.scales.discovery import list_ports, list_rigs, probe

    ports = [probe(port) for port in list_ports()] if args.probe else list_ports()
    reaches = [*ports, *list_rigs()]
    print(json.dumps({"scales": [to_json(reach) for reach in reaches]}) if args.json else to_table(reaches))
    return 0


def to_json(reach: Reach) -> dict[str, object]:
    """Return one way to reach a scale as plain values; what nobody asked for is null."""
    return {
        "source": reach.source,
        "description": reach.description,
        "answer": reach.answer or None,
        "device_id": reach.identity.device_id if reach.identity else None,
        "name": reach.identity.name if reach.identity else None,
    }


def to_table(reaches: list[Reach]) -> str:
    """Return the list as aligned lines, with what to do with it at the end."""
    width = max(len(reach.source) for reach in reaches) + 2
    lines = [f"{reach.source:{width}}{'; '.join(filter(None, [reach.description, reach.answer]))}" for reach in reaches]
    if not any(reach.source.startswith("serial:") for reach in reaches):
        lines.append("no serial port was found: plug a scale in to see it here")
    return "\n".join([*lines, "", _ADVICE])
