"""`weightshare rig`: the virtual pair of scales, for other programs to connect to."""

from __future__ import annotations

import argparse
import contextlib
import signal
import sys
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command
from weightshare.errors import INTERRUPTED

if TYPE_CHECKING:
    from weightshare.scales.rig.link import Station
    from weightshare.scales.rig.scene import Scene
    from weightshare.scales.rig.serve import Port
    from weightshare.task import Goal, Settings

_EXAMPLE = "weightshare rig --tcp 7000 --person shaky --target 75 --injured left"


class _TerminatedError(Exception):
    """Somebody asked this process to stop."""


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `rig` to the top parser."""
    parser = add_command(subparsers, "rig", "the virtual pair of scales, on a TCP port or a pseudo-terminal", _EXAMPLE)
    place = parser.add_mutually_exclusive_group()
    place.add_argument("--tcp", type=int, metavar="PORT", help="listen on this port of 127.0.0.1; 0 finds a free one")
    place.add_argument("--pty", action="store_true", help="serve on a pseudo-terminal, as on a serial port")
    parser.add_argument("--separate", action="store_true", help="two scales: left on PORT, right on PORT+1")
    parser.add_argument("--person", default="steady", metavar="NAME", help="who stands on the plates (see --list)")
    parser.add_argument("--faults", default="clean", metavar="NAME", help="what goes wrong (see --list)")
    parser.add_argument("--link", default="direct", metavar="NAME", help="how long each way takes (see --list)")
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="what chance brings (default 1)")
    parser.add_argument("--truth", type=Path, metavar="FILE", help="write what really happened, as JSON, at the end")
    parser.add_argument("--truth-trace", type=Path, metavar="FILE", help="write the true forces too, as a CSV trace")
    _add_task(parser)
    parser.add_argument("--seconds", type=float, metavar="N", help="stop after so many seconds")
    parser.add_argument("--write-calibration", type=Path, metavar="FILE", help="write the virtual cells' calibration")
    parser.add_argument("--list", action="store_true", help="list people, faults and links")
    parser.set_defaults(run=run)


def _add_task(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--injured", choices=("left", "right"), default="left", help="the injured side (default left)")
    parser.add_argument("--target", type=float, default=75.0, metavar="PERCENT", help="share followed (default 75)")
    parser.add_argument("--tolerance", type=float, default=5.0, metavar="POINTS", help="half width of the band")
    parser.add_argument("--grace", type=float, default=1.0, metavar="S", help="how long a hold may be left")
    parser.add_argument("--hold-goal", type=float, default=30.0, metavar="S", help="how long a hold is (default 30)")
    parser.add_argument("--rate", type=float, default=100.0, metavar="HZ", help="the scale's own rate (default 100)")
    parser.add_argument("--stage", metavar="NAME", help="the exercise, as in practise: hold (default), lowering ...")
    parser.add_argument("--tempo", metavar="S-S-S[-S]", help="up, at the top, down, at the bottom (default: its own)")
    parser.add_argument("--sets", type=int, default=3, metavar="N", help="how many sets (default 3)")
    parser.add_argument("--repetitions", type=int, default=10, metavar="N", help="in a set (default 10)")
    parser.add_argument("--rest", type=float, default=60.0, metavar="S", help="between sets (default 60)")
    parser.add_argument("--surface", choices=("floor", "step"), default="floor", help="what the heels are over")
    parser.add_argument("--working", choices=("left", "right"), help="the leg of single-leg work (default: injured)")
    parser.add_argument("--reference-height-mm", type=float, metavar="MM", help="the height of a full raise")
    parser.add_argument("--heels", choices=("fitted", "none"), default="fitted", help="sensors of heel height")
    parser.add_argument("--placement", type=float, default=0.0, metavar="MM", help="how far forward they are worn")


def run(args: argparse.Namespace) -> int:
    """Serve until told to stop; return 0, or 130 where it was interrupted."""
    if args.list:
        print(_catalog())
        return 0
    scene = _make_scene(args)
    if args.write_calibration is not None:
        _write_calibrations(args.write_calibration, _device_ids(args))
    if args.tcp is None and not args.pty:
        return _nowhere(args)
    return _serve(args, scene)


def _nowhere(args: argparse.Namespace) -> int:
    from weightshare.errors import OptionError

    if args.write_calibration is None:
        raise OptionError("rig: say where the scale can be reached: --tcp PORT, or --pty for a serial port")
    return 0


def _catalog() -> str:
    from weightshare.scales.rig.carrier import CARRIERS
    from weightshare.scales.rig.catalog import FAULTS, PEOPLE

    faults = FAULTS.values()
    groups = {
        "people (--person)": [(profile.name, profile.words) for profile in PEOPLE.values()],
        "faults (--faults)": [(fault.name, fault.words) for fault in faults if not fault.of_two],
        "faults of two scales (--separate --faults)": [(fault.name, fault.words) for fault in faults if fault.of_two],
        "links (--link)": [(carrier.name, carrier.words) for carrier in CARRIERS.values()],
    }
    lines = [[title, *(f"  {name:16}{words}" for name, words in rows)] for title, rows in groups.items()]
    return "\n\n".join("\n".join(group) for group in lines)


def _make_scene(args: argparse.Namespace) -> Scene:
    from weightshare.errors import OptionError, check_range
    from weightshare.scales.rig.carrier import find_carrier
    from weightshare.scales.rig.catalog import find_fault, find_person
    from weightshare.scales.rig.plan import Task
    from weightshare.scales.rig.scene import Cast, Scene
    from weightshare.scales.rig.truth import check_place
    from weightshare.scales.rig.wish import FASTEST_HZ, SLOWEST_HZ, make_heels

    task = Task.of(*_asked(args))
    check_range("--rate", args.rate, SLOWEST_HZ, FASTEST_HZ, "Hz")
    check_range("--seconds", args.seconds, 0.0, 1e7, "s")
    if args.seed < 0:
        raise OptionError(f"--seed {args.seed} is out of range: it may be any whole number from 0 on")
    if args.truth_trace is not None and args.truth is None:
        raise OptionError("--truth-trace goes with --truth FILE")
    for option in ("--truth", "--truth-trace", "--write-calibration"):
        path = getattr(args, option[2:].replace("-", "_"))
        if path is not None:
            check_place(option, path)
    find_carrier(args.link)
    fault = find_fault(args.faults, separate=args.separate)
    heels = make_heels(args.heels, args.placement, "--")
    return Scene(Cast(find_person(args.person), fault, task, args.seed, heels))


def _asked(args: argparse.Namespace) -> tuple[Settings, Goal]:
    """Return what is asked of the person. Raises OptionError."""
    from weightshare.errors import OptionError
    from weightshare.exercise import Exercise, Surface, parse_tempo
    from weightshare.model import Side
    from weightshare.task import Goal, Settings

    if args.stage is not None and args.stage not in list(Exercise):
        raise OptionError(f"--stage {args.stage}: there are {', '.join(Exercise)}")
    settings = Settings(
        Side(args.injured),
        args.target,
        args.tolerance,
        args.grace,
        exercise=None if args.stage is None else Exercise(args.stage),
        tempo=None if args.tempo is None else parse_tempo(args.tempo),
        surface=Surface(args.surface),
        working=None if args.working is None else Side(args.working),
        reference_height_mm=args.reference_height_mm,
    )
    return settings, Goal(args.hold_goal, sets=args.sets, repetitions=args.repetitions, rest_s=args.rest)


def _device_ids(args: argparse.Namespace) -> Sequence[str]:
    from weightshare.scales.rig.cell import LEFT_ID, PAIR_ID, RIGHT_ID

    return (LEFT_ID, RIGHT_ID) if args.separate else (PAIR_ID,)


def _write_calibrations(path: Path, device_ids: Sequence[str]) -> None:
    from weightshare.errors import InputError
    from weightshare.records.calibration import write_calibration
    from weightshare.scales.rig.cell import rig_calibration

    names = [path] if len(device_ids) == 1 else [path.with_stem(f"{path.stem}-{side}") for side in ("left", "right")]
    for name, device_id in zip(names, device_ids, strict=True):
        try:
            write_calibration(name, rig_calibration(device_id))
        except OSError as error:
            raise InputError(f"--write-calibration {name}: cannot be written ({error.strerror or error})") from error


def _serve(args: argparse.Namespace, scene: Scene) -> int:
    from weightshare.scales.rig.local import HostClock
    from weightshare.scales.rig.serve import serve
    from weightshare.scales.rig.truth import write_truth

    clock = HostClock()
    stations = _make_stations(args, scene, clock.now_ns())
    status = 0
    try:
        with _stop_on_sigterm(), _open_ports(args, stations) as ports:
            _announce(args, ports)
            serve(ports, clock, args.seconds)
    except KeyboardInterrupt:
        status = INTERRUPTED
    except _TerminatedError:
        status = 0
    if args.truth is not None and not write_truth(scene, args.truth, args.truth_trace):
        print(f"rig: {args.truth} was not written: nothing was sampled", file=sys.stderr)
    return status


def _announce(args: argparse.Namespace, ports: Sequence[Port]) -> None:
    print("\n".join(port.source for port in ports), flush=True)
    for port in ports:
        if port.now_at:
            print(f"rig: {port.source} is {port.now_at} now", file=sys.stderr, flush=True)
    what = f"{args.person}, {args.injured} side to {args.target:g} %, faults {args.faults}, seed {args.seed}"
    what += "" if args.link == "direct" else f", link {args.link}"
    print(f"rig: {what}; Ctrl-C stops it", file=sys.stderr, flush=True)


def _make_stations(args: argparse.Namespace, scene: Scene, now_ns: int) -> list[Station]:
    from weightshare.scales.rig.carrier import find_carrier
    from weightshare.scales.rig.pair import make_stations

    stations = make_stations(scene, find_carrier(args.link), args.rate, now_ns, separate=args.separate)
    for station in stations:
        station.scale.lamp = partial(_shine, str(station.scale.side or "scale"))
    return stations


def _shine(name: str, duration_ms: int) -> None:
    print(f"{name}: light on for {duration_ms / 1000:g} s", file=sys.stderr, flush=True)


@contextlib.contextmanager
def _open_ports(args: argparse.Namespace, stations: Sequence[Station]) -> Iterator[Sequence[Port]]:
    if args.pty:
        with _open_terminals(args, stations) as terminals:
            yield terminals
        return
    from weightshare.scales.rig.serve import open_tcp

    ports = open_tcp(stations, args.tcp)
    try:
        yield ports
    finally:
        for port in ports:
            port.close()


@contextlib.contextmanager
def _open_terminals(args: argparse.Namespace, stations: Sequence[Station]) -> Iterator[Sequence[Port]]:
    from weightshare.errors import OptionError
    from weightshare.scales.rig.terminal import Terminals

    if sys.platform == "win32":
        raise OptionError("--pty: this system has no pseudo-terminals; use --tcp PORT")
    terminals = Terminals(stations, ("left", "right") if args.separate else ("scale",))
    try:
        yield terminals.ports
    finally:
        terminals.close()


@contextlib.contextmanager
def _stop_on_sigterm() -> Iterator[None]:
    def stop(number: int, frame: FrameType | None) -> None:
        raise _TerminatedError

    before = signal.signal(signal.SIGTERM, stop)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)
