"""What stands in a body: the layouts of the wire protocol, version 1. All numbers are little-endian."""

import struct

PROTOCOL = 1
NO_READING = -2147483648
"""A reading that there was none of."""
NOTHING_NEW = NO_READING + 1
"""What a sensor says between two readings; never sent."""

IDENTITY, SAMPLES, CONDITION, REPLY, ECHO = 1, 2, 3, 4, 5
WHO, START, STOP, BLINK, PING = 0x81, 0x82, 0x83, 0x84, 0x85
DONE, UNKNOWN_COMMAND, WRONG_LENGTH, OUT_OF_RANGE, BUSY = 0, 1, 2, 3, 4
CELL_SILENT, OVERLOAD, BATTERY_LOW, BUFFER_OVERRAN = 1, 2, 4, 8
UNKNOWN_TEMPERATURE = -32768
TICK_RATE_HZ = 1000000

QUANTITIES = {"force": 1, "heel height": 2, "temperature": 3}
SIDES = {"": 0, "left": 1, "right": 2}

COMMANDS = {WHO: "<BB", START: "<BBH", STOP: "<BB", BLINK: "<BBH", PING: "<BI"}
"""Layout of each command; the byte after the kind is its token, but PING has a nonce."""

SAMPLES_HEAD = "<BHIIB"
SAMPLES_HEAD_SIZE = struct.calcsize(SAMPLES_HEAD)


def identity(device_id, *, version, boot_count, tenths_Hz, channels, name):
    """Return the body that says who this is. `channels`: (quantity, side, x_mm, y_mm) each; `name`: UTF-8 bytes."""
    head = struct.pack(
        "<BB8s3BHIHB", IDENTITY, PROTOCOL, device_id, *version, boot_count, TICK_RATE_HZ, tenths_Hz, len(channels)
    )
    places = b"".join([struct.pack("<BBhh", *channel) for channel in channels])
    return head + places + bytes([len(name)]) + name


def condition(tick, battery_mV, lost, faults, *, centi_degC=UNKNOWN_TEMPERATURE):
    """Return the body that says how this scale is."""
    return struct.pack("<BIHhIH", CONDITION, tick, battery_mV, centi_degC, lost, faults)


def reply(command, token, result):
    """Return the body that says how a command was taken."""
    return struct.pack("<BBBB", REPLY, command, token, result)


def echo(nonce, tick):
    """Return the body that answers a PING read at `tick`."""
    return struct.pack("<BII", ECHO, nonce, tick)


def refusal(body):
    """Return the REPLY with which `body` has to be refused as a command, or None where it is one."""
    kind = body[0]
    token = body[1] if len(body) > 1 else 0
    layout = COMMANDS.get(kind)
    if layout is None:
        return reply(kind, token, UNKNOWN_COMMAND)
    if len(body) != struct.calcsize(layout):
        return reply(kind, token, WRONG_LENGTH)
    return None
