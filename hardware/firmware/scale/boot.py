"""How often the scale was started, kept in flash: by this a host knows that it restarted."""

import os

FILE, NEW = "boots.txt", "boots.new"


def count_boot() -> int:
    """Count this start; return its number, 1 to 65535 and then 0 again. A cut leaves the old one or the new."""
    number = (_read() + 1) & 0xFFFF
    with open(NEW, "w") as file:
        file.write(str(number))
    os.rename(NEW, FILE)
    return number


def _read() -> int:
    try:
        with open(FILE) as file:
            return int(file.read())
    except (OSError, ValueError):
        return 0
