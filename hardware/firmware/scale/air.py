"""The link by Bluetooth LE: one frame a notification, one command a write, one host at a time."""

from binascii import unhexlify

import bluetooth
from scale.frame import open_frame

SERVICE = "31d8d319-73a1-414f-bb42-9692ec651a0b"
FRAMES = "f5960238-4425-4997-9dde-507d87e9ba19"
COMMANDS = "8973f634-6421-46a7-b038-64961cd7769d"

CONNECTED, DISCONNECTED, WRITTEN, MTU_CHANGED = 1, 2, 3, 21
"""What the board's Bluetooth tells of; the numbers are MicroPython's."""
FIRST_MTU, WISHED_MTU = 23, 247
ATT_HEAD = 3
ADVERTISE_US = 100000
COMMANDS_WAITING = 8
LONGEST_COMMAND = 64
FLAGS, WHOLE_NAME, UUIDS_128 = 0x01, 0x09, 0x07


class AirLink:
    """Plain frames in and out. What the radio cannot take now is taken back, and tried again."""

    def __init__(self, name: bytes) -> None:
        self._name = name
        self._waiting = []
        self._host = None
        self._gone = False
        self.payload = FIRST_MTU - ATT_HEAD
        """Bytes of the longest frame that it takes; as agreed with the host."""
        self._radio = bluetooth.BLE()
        self._radio.active(True)
        self._radio.config(gap_name=name, mtu=WISHED_MTU)
        self._radio.irq(self._hear)
        frames = (bluetooth.UUID(FRAMES), bluetooth.FLAG_NOTIFY)
        commands = (bluetooth.UUID(COMMANDS), bluetooth.FLAG_WRITE)
        service = (bluetooth.UUID(SERVICE), (frames, commands))
        ((self._frames, self._commands),) = self._radio.gatts_register_services((service,))
        self._radio.gatts_set_buffer(self._commands, LONGEST_COMMAND)
        self._advertise()

    def receive(self) -> "bytes | None":
        """Return the body of the next command, or None."""
        while self._waiting:
            body = open_frame(self._waiting.pop(0))
            if body:
                return body
        return None

    def lost(self) -> bool:
        """Return whether the host went away since this was last asked."""
        gone, self._gone = self._gone, False
        return gone

    def idle(self) -> bool:
        """Return whether a frame may be given."""
        return self._host is not None

    def send(self, frame) -> bool:
        """Notify the host of one frame; False where that cannot be now. A frame that is too long is never cut."""
        if self._host is None or len(frame) > self.payload:
            return False
        try:
            self._radio.gatts_notify(self._host, self._frames, bytes(frame))
        except OSError:  # the radio's own buffers are full
            return False
        return True

    def pump(self) -> None:
        """Nothing is held back here."""

    def _hear(self, event: int, data: tuple) -> None:
        if event == CONNECTED:
            self._host = data[0]
            self.payload = FIRST_MTU - ATT_HEAD
            self._waiting.clear()
        elif event == DISCONNECTED:
            self._host, self._gone = None, True
            self._advertise()
        elif event == MTU_CHANGED:
            self.payload = data[1] - ATT_HEAD
        elif event == WRITTEN and len(self._waiting) < COMMANDS_WAITING:
            self._waiting.append(self._radio.gatts_read(self._commands))

    def _advertise(self) -> None:
        uuid = bytes(reversed(unhexlify(SERVICE.replace("-", ""))))  # the lowest byte comes first
        self._radio.gap_advertise(
            ADVERTISE_US,
            _field(FLAGS, b"\x06") + _field(UUIDS_128, uuid),
            resp_data=_field(WHOLE_NAME, self._name[:29]),
        )


def _field(kind: int, data: bytes) -> bytes:
    return bytes([len(data) + 1, kind]) + data
