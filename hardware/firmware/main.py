"""The first file that the board runs.

With the service pin held to ground at the start, or with settings that cannot be used, the board stays at its prompt:
nothing is measured, and new firmware or settings can be put on.
"""

import sys
import time

import micropython

import machine
from scale import setting

PAUSE_S = 3
"""Before a start after an error: one that comes back at once must not wear out the flash."""


def is_held(pin: "int | None") -> bool:
    """Return whether the service pin is held to ground."""
    return pin is not None and not machine.Pin(pin, machine.Pin.IN, machine.Pin.PULL_UP)()


def main() -> None:
    """Start the scale. What stops it is kept in fault.txt, and the board starts again."""
    if hasattr(micropython, "alloc_emergency_exception_buf"):  # without it, the room is there already
        micropython.alloc_emergency_exception_buf(100)
    try:
        settings = setting.load("settings.json")
    except ValueError as error:
        print("settings.json:", error)
        return
    if is_held(settings["service"]):
        print("service: the scale is not started")
        return
    from scale import board, boot

    try:
        board.run(settings, boot.count_boot())
    except Exception as error:
        with open("fault.txt", "w") as file:
            sys.print_exception(error, file)
        time.sleep(PAUSE_S)
        machine.reset()


main()
