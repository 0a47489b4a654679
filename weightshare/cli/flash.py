"""`weightshare flash`: the firmware on a scale's board, and whether the scale then speaks as it should."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.scales.board.carried import Carried
    from weightshare.scales.board.finding import Finding
    from weightshare.scales.board.prompt import Facts

SCHEMA = "weightshare.flash/1"
BUILDS = ("both", "left", "right")
SECONDS = 10.0
BACK_WITHIN_S = 15.0
"""How long a board may take to start."""
_EXAMPLE = """weightshare flash --build both --name "clinic 1"
  weightshare flash --check serial:/dev/ttyACM0"""


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `flash` to the top parser."""
    summary = "put the firmware on a scale's board, then check that the scale speaks as it should"
    parser = add_command(subparsers, "flash", summary, _EXAMPLE)
    parser.add_argument("--port", metavar="PORT", help="the board's serial port (default: the only one there is)")
    parser.add_argument("--build", choices=BUILDS, default="both", help="which plates the board reads (default both)")
    parser.add_argument("--name", metavar="TEXT", help="what the scale calls itself, up to 32 bytes")
    parser.add_argument(
        "--links", metavar="LIST", help="usb, bluetooth, or usb,bluetooth (default: as in the settings)"
    )
    parser.add_argument(
        "--settings", type=Path, metavar="FILE", help="your own settings in place of the ready-made ones"
    )
    parser.add_argument("--check", metavar="SOURCE", help="put nothing anywhere: only check the scale at this source")
    parser.add_argument(
        "--seconds", type=float, default=SECONDS, metavar="N", help="how long to sample in the check (10)"
    )
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Put the firmware on, unless only a check is asked for; print the check. Return 0 where all is well, else 1."""
    from weightshare.errors import check_range

    check_range("--seconds", args.seconds, 2, 600, "s")
    findings = _check(args.check, args.seconds) if args.check else _flash(args)
    fit = all(finding.ok for finding in findings)
    print(as_json(findings, fit) if args.json else as_table(findings, fit))
    return 0 if fit else 1


def _check(source: str, seconds: float) -> list[Finding]:
    from weightshare.scales.board.exchange import Talk, exchange
    from weightshare.scales.source import open_source, parse_source

    transport = open_source(parse_source(source))
    try:
        transport.open()
        _tell(f"checking {transport.name} with {seconds:g} s of samples")
        return exchange(Talk(transport), seconds)
    finally:
        transport.close()


def _flash(args: argparse.Namespace) -> list[Finding]:
    from weightshare.scales.board.carried import find_carried, read_settings
    from weightshare.scales.board.prompt import check_facts, put_firmware, require_mpremote, restart

    require_mpremote()
    carried = find_carried()
    links = args.links.split(",") if args.links else None
    settings = read_settings(carried, args.build, args.settings, name=args.name, links=links)
    port = args.port or _only_port()
    facts = _ask_board(port)
    check_facts(port, facts, settings.get("links", ["bluetooth"]))
    _tell(f"{port}: MicroPython {'.'.join(map(str, facts.version))} on {facts.platform}; copying the firmware")
    put_firmware(port, carried, settings)
    restart(port)
    _tell(f"{port}: starting the scale")
    return _check_flashed(port, carried, settings, args.seconds)


def _only_port() -> str:
    """Return the one serial port there is. Raises DeviceError or OptionError, with what to do."""
    from weightshare.errors import DeviceError, OptionError
    from weightshare.scales.discovery import list_ports

    ports = [reach.source.removeprefix("serial:") for reach in list_ports()]
    if not ports:
        raise DeviceError("no board was found: plug it in with a cable that carries data, not only power")
    if len(ports) > 1:
        raise OptionError(
            f"--port is needed, for there are several: {', '.join(ports)}; plug only the board in, or choose"
        )
    return ports[0]


def _ask_board(port: str) -> Facts:
    """Return what the board at the prompt says; where a scale runs there instead, say how to get at it."""
    from weightshare.errors import DeviceError
    from weightshare.scales.board.prompt import ask_board
    from weightshare.scales.cable import SerialTransport
    from weightshare.scales.discovery import ask

    transport = SerialTransport(port)
    try:
        transport.open()
        identity = ask(transport)
    finally:
        transport.close()
    if identity is not None:
        version = ".".join(map(str, identity.firmware))
        way = "hold its service pin to ground while you press reset or plug it in, let go, and try again"
        raise DeviceError(f"{port}: a scale runs there already, firmware {version}; {way}")
    return ask_board(port)


def _check_flashed(port: str, carried: Carried, settings: dict[str, Any], seconds: float) -> list[Finding]:
    """Wait until the scale answers, compare what it says with what was put there, and hold the exchange."""
    from weightshare.errors import DeviceError
    from weightshare.scales.board.exchange import Talk, ask_who, exchange

    transport = _reopen(port)
    try:
        identity = ask_who(Talk(transport), BACK_WITHIN_S)
        if identity is None:
            way = (
                "take the service pin off ground and press reset, then `weightshare flash --check serial:" + port + "`"
            )
            raise DeviceError(f"{port}: the firmware is on the board, but no scale answers; {way}")
        return [*_compare(identity, carried, settings), *exchange(Talk(transport), seconds)]
    finally:
        transport.close()


def _reopen(port: str) -> Any:
    """Return the opened port; a board that restarts takes its port away for a moment."""
    import time

    from weightshare.errors import DeviceError
    from weightshare.scales.cable import SerialTransport

    until_s = time.monotonic() + BACK_WITHIN_S
    while True:
        transport = SerialTransport(port)
        try:
            transport.open()
            return transport
        except DeviceError:
            if time.monotonic() >= until_s:
                raise
            time.sleep(0.2)


def _compare(identity: Any, carried: Carried, settings: dict[str, Any]) -> list[Finding]:
    from weightshare.scales.board.finding import Finding

    told, meant = (".".join(map(str, version)) for version in (identity.firmware, carried.version))
    sides = sorted({str(channel.side) for channel in identity.channels if channel.side})
    wished = sorted({channel["side"] for channel in settings["channels"] if channel["side"]})
    return [
        Finding("firmware", told == meant, told if told == meant else f"{told}, not the {meant} that was copied"),
        Finding("name", identity.name == settings.get("name", "scale"), identity.name),
        Finding("sides", sides == wished, ", ".join(sides) or "none"),
    ]


def as_table(findings: list[Finding], fit: bool) -> str:
    """Return the findings as lines, with the verdict at the end."""
    lines = [f"{'ok' if finding.ok else 'NOT SO':8}{finding.name:18}{finding.found}" for finding in findings]
    lines.append("This scale speaks the protocol." if fit else "This scale is not yet as it should be.")
    return "\n".join(lines)


def as_json(findings: list[Finding], fit: bool) -> str:
    """Return the findings as one JSON object: `fit`, and for each its name, whether it is ok, and what was found."""
    rows = [{"name": finding.name, "ok": finding.ok, "found": finding.found} for finding in findings]
    return json.dumps({"schema": SCHEMA, "fit": fit, "checks": rows})


def _tell(words: str) -> None:
    print(f"weightshare: {words}", file=sys.stderr)
