"""A Bluetooth radio for the firmware to talk to: what a test tells comes as events, what is sent is kept.

No radio waves here: whether a host hears it is to be verified on the bench.
"""

FLAG_NOTIFY, FLAG_WRITE = 0x10, 0x08


class UUID:
    """A UUID of 128 bits."""

    def __init__(self, text: str) -> None:
        self.text = text


class BLE:
    """The one radio."""

    made: list = []  # noqa: RUF012

    def __init__(self) -> None:
        self.made.append(self)
        self.settings = {}
        self.notified = []
        self.advertised = []
        self.room = 100
        self.written = b""
        self.hear = None
        self.services = ()

    def active(self, on: bool) -> None:
        """Switched on."""

    def config(self, **settings) -> None:
        """Keep what was set."""
        self.settings.update(settings)

    def irq(self, handler) -> None:
        """Whom to tell."""
        self.hear = handler

    def gatts_register_services(self, services) -> tuple:
        """Return a handle for each characteristic."""
        self.services = services
        return tuple([tuple([10 * i + k for k in range(len(service[1]))]) for i, service in enumerate(services)])

    def gatts_set_buffer(self, handle: int, size: int, append: bool = False) -> None:
        """How much one write may bring."""
        self.size = size

    def gatts_read(self, handle: int) -> bytes:
        """What was written last."""
        return self.written[: self.size]

    def gatts_notify(self, connection: int, handle: int, data: bytes) -> None:
        """Sent, or refused for lack of room."""
        if not self.room:
            raise OSError(12)
        self.room -= 1
        self.notified.append((connection, handle, data))

    def gap_advertise(self, interval_us: int, adv_data: bytes, *, resp_data: bytes) -> None:
        """Advertised."""
        self.advertised.append((interval_us, adv_data, resp_data))
