"""Two virtual scales by Bluetooth, without a radio, for trying commands and the window by hand.

    python tests/air/serve.py raiser,stage=lowering,target=75,seed=3

What follows is spelled as after `rig:` in a source: who stands there, `faults=`, `seed=`, `link=`, and `cells=hidden`
for scales that nobody has calibrated. It prints the line that has to be set where `weightshare` is started, and the
sources; then a line that is typed in changes the air:

    drop left      the link breaks, once          off left, on left   the scale loses its power, and has it again
    adapter off    Bluetooth is switched off      unplug, plug        the adapter is pulled out, and put back
    service off    the Bluetooth service crashes  bus off             the message bus dies, and the service with it
    battery left 15                               quit
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.air.host import VARIABLE, Air, virtual_scales
from tests.air.peripheral import BATTERY_LEVEL, Peripheral, bathroom_scale, frames_service
from weightshare.errors import WeightshareError
from weightshare.model import Side
from weightshare.task import Settings

NEAR = {
    "neighbour": lambda: Peripheral("00:00:5E:00:53:33", "a neighbour's scale", frames_service(), rssi=-85),
    "shop": lambda: bathroom_scale("00:00:5E:00:53:44"),
}
"""Who else can be on the air: a scale of the same kind that is somebody else's, and a store-bought one."""


class Desk:
    """What can be done to the air, by the words that are typed for it."""

    def __init__(self, air: Air, scales: dict[str, Peripheral]) -> None:
        self._air, self._scales = air, scales
        self._deeds: dict[str, Callable[[], object]] = {
            "adapter off": lambda: air.do(air.stack.set_powered, False),
            "adapter on": lambda: air.do(air.stack.set_powered, True),
            "unplug": lambda: air.do(air.stack.unplug_adapter),
            "plug": lambda: air.do(air.stack.plug_adapter),
            "service off": air.kill_service,
            "service on": air.revive_service,
            "bus off": air.kill_bus,
            "bus on": air.revive_bus,
        }
        for name, scale in scales.items():
            self._deeds[f"drop {name}"] = partial(air.do, air.stack.drop, scale)
            self._deeds[f"off {name}"] = partial(air.do, air.stack.switch, scale, False)
            self._deeds[f"on {name}"] = partial(air.do, air.stack.switch, scale, True)

    def obey(self, line: str) -> str:
        """Do what `line` says; return what is to be said about it."""
        words = line.lower().split()
        deed = self._deeds.get(" ".join(words))
        if deed is not None:
            return _attempt(deed)
        if len(words) == 3 and words[0] == "battery" and words[1] in self._scales and words[2].isdecimal():
            self._scales[words[1]].find(BATTERY_LEVEL).value = bytes([min(int(words[2]), 100)])
            return "done; it is read once a minute"
        return f"there are: {', '.join(self._deeds)}, battery NAME PERCENT, quit"


def _attempt(deed: Callable[[], object]) -> str:
    try:
        deed()
    except Exception as error:
        # what cannot be done now, as a service that is begun twice, must not end what is being tried
        return f"not now ({type(error).__name__}: {error})"
    return "done"


def main() -> int:
    """Serve until `quit`, the end of the input, or Ctrl-C."""
    args = _parse()
    try:
        settings = Settings(Side(args.injured), args.target)
        _, made = virtual_scales(args.spec, settings, one=args.one)
    except WeightshareError as error:
        print(error, file=sys.stderr)
        return 2
    scales = dict(zip(("both",) if args.one else ("left", "right"), made, strict=True))
    with Air(*made, *(NEAR[name]() for name in args.near)) as air:
        print(f"export {VARIABLE}={air.bus.address}")
        sides = (f"ble:{scale.address}  {name}" for name, scale in scales.items())
        print(*sides, sep="\n", flush=True)
        try:
            _listen(Desk(air, scales))
        except KeyboardInterrupt:
            return 130
    return 0


def _listen(desk: Desk) -> None:
    for line in sys.stdin:
        if line.strip() == "quit":
            return
        if line.strip():
            print(desk.obey(line), flush=True)


def _parse() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("spec", nargs="?", default="steady", help="who stands there, and more (default: steady)")
    parser.add_argument("--injured", choices=list(Side), default="left", help="the side followed (default left)")
    parser.add_argument("--target", type=float, default=75.0, metavar="PERCENT", help="its share (default 75)")
    parser.add_argument("--one", action="store_true", help="one scale with both sides instead of two")
    parser.add_argument("--near", action="append", choices=list(NEAR), default=[], help="who else is on the air")
    return parser.parse_args()


if __name__ == "__main__":
    sys.exit(main())
