"""`weightshare readings`: what each channel of a scale reads, with or without a calibration."""

from __future__ import annotations

import argparse
import json
import math
import threading
import time
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.model import Identity
    from weightshare.scales.capture import RawWriter
    from weightshare.scales.link import Link
    from weightshare.workbench.tally import ChannelTotal, Second, Tally

_EXAMPLE = "weightshare readings --source serial:/dev/ttyACM0 --seconds 60 --record noise.wsr"
LOOK_S = 0.05
PATIENCE_S = 8.0
"""How long no new sample is waited for; a board that restarts as its port is opened needs a second or two."""
STOP_S = 3.0


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the command `readings` to the top parser."""
    summary = "what each channel of a scale reads, as the scale says it: for who builds, tests or mends one"
    parser = add_command(subparsers, "readings", summary, _EXAMPLE)
    parser.add_argument("--source", metavar="SOURCE", help="rig: (default), tcp://HOST:PORT, serial:PORT, ble:ADDRESS")
    parser.add_argument("--seconds", type=float, default=10.0, metavar="N", help="so much sample time (default 10)")
    parser.add_argument("--record", type=Path, metavar="FILE", help="write the raw record to a new file")
    parser.add_argument("--json", action="store_true", help="print one JSON object at the end, and no lines before")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print a line for each second and a table at the end; return 0. Raises OptionError, DeviceError."""
    from weightshare.errors import check_range
    from weightshare.scales.source import DEFAULT_SOURCE, open_source, parse_source
    from weightshare.workbench.tally import Tally

    check_range("--seconds", args.seconds, 1.0, 86_400.0, "s")
    transport = open_source(parse_source(args.source or DEFAULT_SOURCE))
    writer = _open_record(args.record)
    tally = Tally()
    try:
        link = _connect(transport, writer, tally)
        _follow(link, tally, args.seconds, quiet=args.json)
        if writer is not None:
            writer.end(time.monotonic_ns())
    finally:
        if writer is not None:
            writer.close()
    print(json.dumps(to_json(tally)) if args.json else "\n".join(total_lines(tally)))
    return 0


def _open_record(path: Path | None) -> RawWriter | None:
    from weightshare.errors import OptionError
    from weightshare.scales.capture import RawWriter

    try:
        return None if path is None else RawWriter(path)
    except FileExistsError:
        raise OptionError(f"--record {path}: there is such a file already; name a new one") from None


def _connect(transport: object, writer: RawWriter | None, tally: Tally) -> Link:
    """Return the link, not yet begun; every scale that measures anything will do."""
    from weightshare.records.recorder import Unrecorded
    from weightshare.scales.link import Link
    from weightshare.scales.transport import Transport

    def judge(identity: Identity) -> str | None:
        tally.take(identity)
        return None

    assert isinstance(transport, Transport)
    return Link(transport, writer or Unrecorded(), tally.hear, judge)


def _follow(link: Link, tally: Tally, seconds: float, *, quiet: bool) -> None:
    """Print each second until there are enough, and let the scale go. Raises DeviceError where nothing comes."""
    from weightshare.errors import DeviceError

    pause, number, seen, since_s = threading.Event(), 1, 0, time.monotonic()
    link.start()
    try:
        while tally.identity is None or tally.samples < seconds * tally.identity.rate_Hz:
            pause.wait(LOOK_S)
            number = _print_new(tally, number, seconds, quiet=quiet)
            if tally.samples > seen:
                seen, since_s = tally.samples, time.monotonic()
            if link.has_ended:
                break
            if time.monotonic() - since_s > PATIENCE_S:
                raise DeviceError(f"{link.name}: {link.status.fault or 'no samples come'}")
        _print_new(tally, number, seconds, quiet=quiet)
    finally:
        tally.close()
        link.ask_to_stop()
        link.join(STOP_S)


def _print_new(tally: Tally, number: int, seconds: float, *, quiet: bool) -> int:
    """Print what seconds are whole by now, from `number` on; return the next one."""
    while number <= seconds:
        second = tally.second(number)
        if second is None:
            break
        if not quiet:
            head = head_lines(tally) if number == 1 else []
            print("\n".join([*head, second_line(second)]), flush=True)
        number += 1
    return number


def head_lines(tally: Tally) -> list[str]:
    """Return who the scale is, and what its columns are."""
    who = tally.identity
    if who is None:
        return []
    version = ".".join(map(str, who.firmware))
    names = [f"{total.name} ({total.unit})" for total in tally.totals()]
    columns = [f"{index}: {name}" for index, name in enumerate(names)]
    said = f'scale {who.device_id} "{who.name}", firmware {version}, boot count {who.boot_count}'
    return [said, *columns, "mean and standard deviation of each channel, second by second:"]


def second_line(second: Second) -> str:
    """Return one second as a line."""
    pairs = zip(second.means, second.sds, strict=True)
    return f"{second.number:5d} s" + "".join(f"  {_figure(mean, 12)} ± {_figure(sd, 7)}" for mean, sd in pairs)


def _figure(value: float, width: int) -> str:
    return f"{'-':>{width}}" if math.isnan(value) else f"{value:{width}.2f}"


def total_lines(tally: Tally) -> list[str]:
    """Return all in all as a table, with what is wrong under it."""
    from weightshare.pipeline.fault import fault_words

    totals, rate_Hz = tally.totals(), tally.rate_Hz()
    told_Hz = tally.identity.rate_Hz if tally.identity is not None else float("nan")
    heads = ("mean", "sd", "least", "greatest", "none", "limit")
    lines = ["", f"{'':30}" + "".join(f"{head:>14}" for head in heads)]
    lines += [_total_line(total) for total in totals]
    rate = "not known" if rate_Hz is None else f"{rate_Hz:.2f}"
    lines.append(f"{tally.samples} samples, {rate} a second by this computer's clock, {told_Hz:g} by the scale's word")
    lines.append(
        f"frames lost on the way {tally.lost_frames}, samples lost on the scale {tally.lost_on_scale}, "
        f"link lost {tally.drops}, restarts {tally.boots}"
    )
    return [*lines, *fault_words(tally.faults)]


def _total_line(total: ChannelTotal) -> str:
    values = (total.mean, total.sd, total.least, total.greatest)
    figures = "".join(f"{'-' if value is None else f'{value:.2f}':>14}" for value in values)
    return f"{f'{total.name} ({total.unit})':30}{figures}{total.missing:>14}{total.at_limit:>14}"


def to_json(tally: Tally) -> dict[str, object]:
    """Return all in all as plain values, `weightshare.readings/1`."""
    who = tally.identity
    return {
        "schema": "weightshare.readings/1",
        "device_id": who.device_id if who else None,
        "name": who.name if who else None,
        "boot_count": who.boot_count if who else None,
        "samples": tally.samples,
        "rate_Hz": tally.rate_Hz(),
        "told_rate_Hz": who.rate_Hz if who else None,
        "frames_lost": tally.lost_frames,
        "samples_lost_on_scale": tally.lost_on_scale,
        "link_lost": tally.drops,
        "restarts": tally.boots,
        "battery_mV": tally.battery_mV,
        "faults": tally.faults,
        "channels": [_channel_json(total) for total in tally.totals()],
    }


def _channel_json(total: ChannelTotal) -> dict[str, object]:
    channel = total.channel
    return {
        "index": total.index,
        "quantity": channel.quantity.name.lower(),
        "side": channel.side,
        "x_mm": channel.x_mm,
        "y_mm": channel.y_mm,
        "unit": total.unit,
        "mean": total.mean,
        "sd": total.sd,
        "least": total.least,
        "greatest": total.greatest,
        "missing": total.missing,
        "at_limit": total.at_limit,
    }
