"""The settings: one JSON file, checked key by key before anything is switched on.

`weightshare flash` checks them with this same module before it writes them, so it stays with plain Python.
"""

import json

QUANTITIES = ("force", "heel height", "temperature")
SIDES = ("", "left", "right")
DRIVERS = ("two-wire", "register")
LINKS = ("usb", "bluetooth")
MAX_CHANNELS, MAX_NAME = 16, 32
SLOWEST_HZ, FASTEST_HZ = 1, 500
SMALL = 0x3FFFFFFF
"""What fits a small integer of the board: larger ones take memory, which an interrupt may not."""

_TOP = {
    "name": "scale",
    "rate_Hz": 80,
    "rates_Hz": None,
    "timer": 0,
    "light": None,
    "service": None,
    "battery": None,
    "watchdog_ms": 8000,
    "links": ["usb", "bluetooth"],
    "buses": [],
    "channels": [],
}
_BATTERY = {"pin": None, "full_mV": None, "low_mV": 0}
_BUS = {"id": None, "scl": None, "sda": None, "Hz": 400000}
_CHANNEL = {"quantity": None, "side": None, "x_mm": 0, "y_mm": 0, "driver": None}
_TWO_WIRE = {"clock": None, "data": None, "pulses": 25, "reverse": False}
_REGISTER = {
    "bus": 0,
    "address": None,
    "register_bits": 8,
    "setup": [],
    "ready": None,
    "reading": None,
    "signed": False,
    "clear": [],
    "factor": 1,
    "offset": 0,
    "least": -0x800000,
    "most": 0x7FFFFF,
}


def load(path: str) -> dict:
    """Return the settings in a file. Raises ValueError, which says what is wrong and where."""
    try:
        with open(path) as file:
            given = json.load(file)
    except OSError:
        raise ValueError("there is no file " + path) from None
    except ValueError:
        raise ValueError(path + " is no JSON; look for a missing comma or quotation mark") from None
    return check(given)


def check(given: dict) -> dict:
    """Return the settings with all keys filled in. Raises ValueError for the first one that cannot be used."""
    whole = _fill(given, _TOP, "settings")
    _check_top(whole)
    whole["rates_Hz"] = _check_rates(whole["rate_Hz"], whole["rates_Hz"])
    whole["buses"] = [_fill(bus, _BUS, f"buses[{i}]") for i, bus in enumerate(whole["buses"])]
    if whole["battery"] is not None:
        whole["battery"] = _fill(whole["battery"], _BATTERY, "battery")
        _number(whole["battery"]["full_mV"], 1, 65535, "battery.full_mV")
        _number(whole["battery"]["low_mV"], 0, 65535, "battery.low_mV")
    buses = [bus["id"] for bus in whole["buses"]]
    whole["channels"] = [_channel(place, f"channels[{i}]", buses) for i, place in enumerate(whole["channels"])]
    _demand(any(c["quantity"] == "force" for c in whole["channels"]), "channels", "has no force channel")
    _check_pins(whole)
    return whole


def _check_top(whole: dict) -> None:
    name = whole["name"]
    _demand(isinstance(name, str) and len(name.encode()) <= MAX_NAME, "name", "is text of up to 32 bytes")
    for key in ("links", "buses", "channels"):
        _demand(isinstance(whole[key], list), key, "is a list")
    _demand(whole["links"] and all(link in LINKS for link in whole["links"]), "links", "may be " + _words(LINKS))
    _demand(1 <= len(whole["channels"]) <= MAX_CHANNELS, "channels", "are 1 to 16")
    _number(whole["watchdog_ms"], 2000, 8300, "watchdog_ms")
    _number(whole["timer"], -1, 3, "timer")


def _check_rates(own, rates) -> list:
    rates = [own] if rates is None else rates
    _demand(isinstance(rates, list) and own in rates, "rates_Hz", "is a list that has rate_Hz")
    for rate in rates:
        _demand(isinstance(rate, (int, float)) and SLOWEST_HZ <= rate <= FASTEST_HZ, "rates_Hz", "are 1 to 500")
        _demand(rate * 10 == int(rate * 10), "rates_Hz", "are whole tenths of a hertz")
    return rates


def _channel(place, where: str, buses: list) -> dict:
    driver = place.get("driver") if isinstance(place, dict) else None
    _demand(driver in DRIVERS, where + ".driver", "may be " + _words(DRIVERS))
    whole = _fill(place, _with(_CHANNEL, _TWO_WIRE if driver == "two-wire" else _REGISTER), where)
    _demand(whole["quantity"] in QUANTITIES, where + ".quantity", "may be " + _words(QUANTITIES))
    _demand(whole["side"] in SIDES, where + ".side", "may be left, right, or empty")
    for key in ("x_mm", "y_mm"):
        _number(whole[key], -32768, 32767, where + "." + key)
    if driver == "two-wire":
        _number(whole["pulses"], 25, 27, where + ".pulses")
        _demand(isinstance(whole["reverse"], bool), where + ".reverse", "is true or false")
    else:
        _check_register(whole, where, buses)
    return whole


def _check_register(whole: dict, where: str, buses: list) -> None:
    _demand(whole["bus"] in buses, where + ".bus", "is the id of one of buses")
    _number(whole["address"], 8, 119, where + ".address")
    _demand(whole["register_bits"] in (8, 16), where + ".register_bits", "is 8 or 16")
    _pair(whole["reading"], where + ".reading", 1, 3)
    if whole["ready"] is not None:
        _pair(whole["ready"], where + ".ready", 1, 255)
    for key in ("setup", "clear"):
        _demand(isinstance(whole[key], list), where + "." + key, "is a list of [register, value]")
        for pair in whole[key]:
            _pair(pair, where + "." + key, 0, 255)
    for key in ("factor", "offset", "least", "most"):
        _number(whole[key], -SMALL, SMALL, where + "." + key)
    farthest = max(abs(whole["least"]), abs(whole["most"])) * abs(whole["factor"]) + abs(whole["offset"])
    _demand(farthest <= SMALL, where, "comes to readings that are too large: narrow least and most")


def _pair(pair, where: str, least: int, most: int) -> None:
    _demand(isinstance(pair, list) and len(pair) == 2, where, "is a pair: a register and a number")
    _number(pair[0], 0, 65535, where)
    _number(pair[1], least, most, where)


def _check_pins(whole: dict) -> None:
    places = [("light", whole["light"]), ("service", whole["service"])]
    if whole["battery"] is not None:
        places.append(("battery.pin", whole["battery"]["pin"]))
    for i, bus in enumerate(whole["buses"]):
        places += [(f"buses[{i}].{key}", bus[key]) for key in ("scl", "sda")]
    for i, channel in enumerate(whole["channels"]):
        places += [(f"channels[{i}].{key}", channel[key]) for key in ("clock", "data") if key in channel]
    taken = {}
    for where, pin in places:
        if pin is None:
            continue
        _number(pin, 0, 63, where)
        _demand(pin not in taken, where, f"is pin {pin}, which {taken.get(pin)} has already")
        taken[pin] = where


def _fill(given, defaults: dict, where: str) -> dict:
    _demand(isinstance(given, dict), where, "is an object: { ... }")
    for key in given:
        _demand(key in defaults, where + "." + key, "is not known; known are " + _words(sorted(defaults)))
    whole = _with(defaults, given)
    for key in ("id", "scl", "sda", "clock", "data", "address", "pin", "full_mV"):
        _demand(key not in whole or whole[key] is not None, where + "." + key, "is missing")
    return whole


def _with(first: dict, second: dict) -> dict:
    both = dict(first)
    both.update(second)
    return both


def _number(value, least: int, most: int, where: str) -> None:
    whole = isinstance(value, int) and not isinstance(value, bool)
    _demand(whole and least <= value <= most, where, f"is a whole number from {least} to {most}")


def _words(names) -> str:
    return ", ".join(names)


def _demand(so, where: str, words: str) -> None:
    if not so:
        raise ValueError(where + " " + words)
