"""Puts one scale together from its settings, and runs it."""

import machine
from scale import VERSION, body
from scale.battery import Battery
from scale.clock import Clock
from scale.light import Light
from scale.sampler import Sampler
from scale.station import Station


class Who:
    """What the scale says of itself."""

    def __init__(self, settings: dict, boot_count: int) -> None:
        self.tenths_Hz = int(settings["rate_Hz"] * 10)
        self.all_tenths_Hz = [int(rate * 10) for rate in settings["rates_Hz"]]
        self.channels = [_told(channel) for channel in settings["channels"]]
        self._name = settings["name"].encode()
        self._boot_count = boot_count
        self._id = (bytes(8) + machine.unique_id())[-8:]

    def tell(self) -> bytes:
        """Return the body of IDENTITY."""
        return body.identity(
            self._id,
            version=VERSION,
            boot_count=self._boot_count,
            tenths_Hz=self.tenths_Hz,
            channels=self.channels,
            name=self._name,
        )


def _told(channel: dict) -> tuple:
    quantity, side = body.QUANTITIES[channel["quantity"]], body.SIDES[channel["side"]]
    return quantity, side, channel["x_mm"], channel["y_mm"]


def run(settings: dict, boot_count: int) -> None:
    """Be a scale, for ever. A board that hangs is started again by its watchdog."""
    station = Station(
        Who(settings, boot_count),
        [make_link(name, settings) for name in settings["links"]],
        sampler=make_sampler(settings),
        clock=Clock(),
        light=Light(settings["light"]),
        battery=Battery(settings["battery"]),
    )
    watchdog = machine.WDT(timeout=settings["watchdog_ms"])
    while True:
        station.step()
        watchdog.feed()
        machine.idle()


def make_sampler(settings: dict) -> Sampler:
    """Return the sampler of all channels, in their order."""
    buses = {bus["id"]: _make_bus(bus) for bus in settings["buses"]}
    channels = settings["channels"]
    is_force = [channel["quantity"] == "force" for channel in channels]
    sensors = [make_sensor(channel, buses) for channel in channels]
    return Sampler(sensors, is_force, settings["timer"], max(settings["rates_Hz"]))


def make_sensor(channel: dict, buses: dict):
    """Return what reads one channel; only the drivers that are in use are loaded."""
    if channel["driver"] == "two-wire":
        from scale.twowire import TwoWire

        return TwoWire(channel)
    from scale.register import RegisterSensor

    return RegisterSensor(channel, buses[channel["bus"]])


def make_link(name: str, settings: dict):
    """Return a link by its name in the settings."""
    if name == "usb":
        from scale.usb import UsbLink

        return UsbLink()
    from scale.air import AirLink

    return AirLink(settings["name"].encode())


def _make_bus(bus: dict):
    pins = {"scl": machine.Pin(bus["scl"]), "sda": machine.Pin(bus["sda"])}
    return machine.I2C(bus["id"], freq=bus["Hz"], **pins)
