"""A board for the firmware to run on, under the host's MicroPython: the names of `machine` that it uses.

What is wired to the pins and buses is told in `world.json`, where the board is started; what the tests have to know is
written to `board.log`. Timers are real threads, and their callbacks come between any two bytecodes of the firmware, as
the scheduled callbacks of a microcontroller do; while one runs the heap is locked, so that taking memory there fails.
"""

import _thread
import json
import sys
import time

import micropython

from converter import Converter
from device import Device

with open("world.json") as file:
    WORLD = json.load(file)

_irq_off = [False]
_in_callback = [False]
_lost = [0]
"""Callbacks that found the queue full, not told of yet."""
_late = [0]
"""Callbacks that came over LATE_US after their time, not told of yet."""
LATE_US = 10000
_pins = {}


def log(what: str, number=None) -> None:
    """Tell the tests; also from within a callback, whose locked heap is no concern of the board's own workings."""
    locked = _in_callback[0]
    if locked:
        micropython.heap_unlock()
    with open("board.log", "a") as out:
        print(what if number is None else f"{what} {number}", file=out)
    if locked:
        micropython.heap_lock()


_converters = [Converter(about, log, _irq_off) for about in WORLD.get("converters", [])]
_devices = [Device(about, log) for about in WORLD.get("devices", [])]


def unique_id() -> bytes:
    """The board's number."""
    return bytes(WORLD.get("unique_id", [0x11, 0x22, 0x33, 0x44, 0x55, 0x66]))


def idle() -> None:
    """Let others run, for a moment."""
    while _lost[0]:
        _lost[0] -= 1
        log("callback lost")
    while _late[0]:
        _late[0] -= 1
        log("callback late")
    time.sleep_us(200)


def disable_irq() -> bool:
    """Interrupts off; return whether they were so before."""
    before = _irq_off[0]
    _irq_off[0] = True
    return before


def enable_irq(state: bool) -> None:
    """As they were before."""
    _irq_off[0] = state


def reset() -> None:
    """The board starts again: here its process ends, and whoever started it may start another."""
    log("reset")
    sys.exit(3)


class Pin:
    """A pin, wired to a converter's clock or data, to a light, or to nothing."""

    IN, OUT, PULL_UP = 0, 1, 2

    def __init__(self, number: int, mode: int = -1, pull: int = -1, value: int = 0) -> None:
        self.number = number
        self._level = WORLD.get("levels", {}).get(str(number), int(pull == self.PULL_UP))
        self._clocks = self._reads = None
        for converter in _converters:
            if converter.clock_pin == number:
                self._clocks = converter
            if converter.data_pin == number:
                self._reads = converter
        self._is_light = WORLD.get("light") == number
        if mode == self.OUT and self._clocks is None:
            self._level = value

    def __call__(self, level=None):
        """Return the level, or set it."""
        if level is None:
            return self._level if self._reads is None else self._reads.data()
        if self._clocks is not None:
            self._clocks.clock(level)
        if self._is_light and level != self._level:
            log("light", level)
        self._level = level
        return None


class ADC:
    """An analogue input that always reads the same."""

    def __init__(self, pin: Pin) -> None:
        self._pin = pin

    def read_u16(self) -> int:
        """What the world says of that pin."""
        return WORLD["analogue"][str(self._pin.number)]


class I2C:
    """A bus; whoever is not there does not acknowledge."""

    def __init__(self, number: int, scl: Pin, sda: Pin, freq: int = 400000) -> None:
        self._devices = {device.address: device for device in _devices if device.bus == number}

    def readfrom_mem_into(self, address: int, register: int, out: bytearray, *, addrsize: int = 8) -> None:
        """Fill `out` from a register on."""
        self._find(address).read_into(register, out, addrsize)

    def writeto_mem(self, address: int, register: int, data: bytes, *, addrsize: int = 8) -> None:
        """Write to a register."""
        self._find(address).write(register, data[0], addrsize)

    def _find(self, address: int) -> Device:
        device = self._devices.get(address)
        if device is None or not device.is_there():
            raise OSError(5)
        return device


class Timer:
    """A timer of the board."""

    PERIODIC = 1

    def __init__(self, number: int) -> None:
        self._run = 0
        self._callback = None
        self._due = 0
        self._fire_bound = self._fire

    def init(self, *, mode: int, freq: float, callback) -> None:
        """Call back so many times a second, from one period on."""
        self.deinit()
        self._callback = callback
        _thread.start_new_thread(self._beat, (self._run, freq))

    def deinit(self) -> None:
        """No more callbacks, and none that was on its way."""
        self._run += 1

    def _beat(self, run: int, freq: float) -> None:
        begun = time.ticks_us()
        beat = 0
        while self._run == run:
            beat += 1
            due = time.ticks_add(begun, int(beat * 1000000 / freq))
            left = time.ticks_diff(due, time.ticks_us())
            while left > 0 and self._run == run:
                time.sleep_us(min(left, 20000))
                left = time.ticks_diff(due, time.ticks_us())
            self._due = due
            try:
                micropython.schedule(self._fire_bound, run)
            except RuntimeError:  # the queue is full: a callback is lost, as on a board
                _lost[0] += 1

    def _fire(self, run: int) -> None:
        if run != self._run:
            return
        if time.ticks_diff(time.ticks_us(), self._due) > LATE_US:
            _late[0] += 1
        _in_callback[0] = True
        micropython.heap_lock()
        try:
            self._callback(self)
        except Exception as error:
            while micropython.heap_unlock():
                pass
            _in_callback[0] = False
            log(f"error in a callback: {type(error).__name__} {error}")
            return
        micropython.heap_unlock()
        _in_callback[0] = False


class WDT:
    """A watchdog that tells when it would have bitten."""

    def __init__(self, timeout: int) -> None:
        self._timeout_ms = timeout
        self._fed = time.ticks_ms()
        log("watchdog", timeout)

    def feed(self) -> None:
        """All is well."""
        now = time.ticks_ms()
        if time.ticks_diff(now, self._fed) > self._timeout_ms:
            log("watchdog bites")
        self._fed = now
