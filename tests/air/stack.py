"""An `org.bluez` without a radio: the real bleak finds, connects and hears devices through it, over a real bus.

It answers messages, not through the classes that D-Bus libraries have for services, so that the order of signals, the
names of errors and the paths are as the tests want them. What bleak rests on, found by reading it: paths are exactly
/serviceXXXX/charXXXX; an adapter has Roles and Powered; Connected is told before Connect is answered, then come the
services, then ServicesResolved. Source of names and meanings: BlueZ, doc/org.bluez.*.rst.
"""

from __future__ import annotations

import asyncio
import contextlib
import time
from collections.abc import Iterator

from dbus_fast import Message, MessageType, Variant
from dbus_fast.aio import MessageBus
from dbus_fast.constants import RequestNameReply

from tests.air.peripheral import FRAMES, Characteristic, Peripheral, Refusal

ADAPTER = "org.bluez.Adapter1"
DEVICE = "org.bluez.Device1"
GATT_SERVICE = "org.bluez.GattService1"
GATT_CHARACTERISTIC = "org.bluez.GattCharacteristic1"
PROPERTIES = "org.freedesktop.DBus.Properties"
OBJECTS = "org.freedesktop.DBus.ObjectManager"
FAILED = "org.bluez.Error.Failed"
ADAPTER_PATH = "/org/bluez/hci0"
ADVERTISE_EVERY_S = 0.05
RESOLVE_S = 0.01
UNHURRIED = 50
"""So many signals go out before the bus is asked whether it keeps up: dbus-fast breaks on a socket that is full."""

Values = dict[str, Variant]


class NoSuchMethodError(Exception):
    """A message asks for what this stack has not."""


class RefusedError(Exception):
    """The answer is an error of this name, with these words."""

    def __init__(self, name: str, words: str = "") -> None:
        super().__init__(name, words)
        self.name, self.words = name, words


class Stack:
    """The Bluetooth service with one adapter; every method has to be called in its loop."""

    def __init__(self, bus_address: str, *, has_adapter: bool = True, powered: bool = True) -> None:
        self._bus_address = bus_address
        self._powered = powered
        self._has_adapter = has_adapter
        self._objects: dict[str, dict[str, Values]] = {}
        self.peripherals: dict[str, Peripheral] = {}
        self.calls: list[str] = []
        """The methods that were called, in their order."""
        self._hanging: dict[str, Message] = {}
        self._signals = 0
        self._tasks: set[asyncio.Task[None]] = set()
        self._scan: asyncio.Task[None] | None = None
        self._bus: MessageBus | None = None

    # -- from beginning to end

    async def start(self) -> None:
        """Appear on the bus."""
        self._bus = await MessageBus(bus_address=self._bus_address).connect()
        self._bus.add_message_handler(self._answer)
        self._objects = {ADAPTER_PATH: {ADAPTER: self._adapter_values()}} if self._has_adapter else {}
        reply = await self._bus.request_name("org.bluez")
        assert reply is RequestNameReply.PRIMARY_OWNER
        for peripheral in self.peripherals.values():
            self._begin(self._speak(peripheral))

    async def stop(self) -> None:
        """Vanish from the bus without a word, as a service that crashes does."""
        tasks, self._tasks, self._scan = self._tasks, set(), None
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
        for peripheral in self.peripherals.values():
            peripheral.forget()
        bus, self._bus = self._bus, None
        if bus is not None:
            bus.disconnect()
            with contextlib.suppress(Exception):
                await bus.wait_for_disconnect()  # type: ignore[no-untyped-call]

    def add(self, peripheral: Peripheral) -> None:
        """Bring a device near."""
        peripheral.path = f"{ADAPTER_PATH}/dev_{peripheral.address.replace(':', '_')}"
        self.peripherals[peripheral.path] = peripheral
        if self._bus is not None:
            self._begin(self._speak(peripheral))

    def _begin(self, work: object) -> asyncio.Task[None]:
        task: asyncio.Task[None] = asyncio.get_running_loop().create_task(work)  # type: ignore[arg-type]
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)
        return task

    def _adapter_values(self) -> Values:
        return {
            # an address that is set aside for documentation: RFC 7042, 2.1.2
            "Address": Variant("s", "00:00:5E:00:53:01"),
            "AddressType": Variant("s", "public"),
            "Name": Variant("s", "computer"),
            "Alias": Variant("s", "computer"),
            "Powered": Variant("b", self._powered),
            "Discovering": Variant("b", False),
            "Roles": Variant("as", ["central", "peripheral"]),
            "UUIDs": Variant("as", []),
        }

    # -- what a test does to the air

    def set_powered(self, powered: bool) -> None:
        """Switch the adapter off or on; off, every device is disconnected."""
        self._powered = powered
        for peripheral in self.peripherals.values():
            if peripheral.connected and not powered:
                self.drop(peripheral)
        self._change(ADAPTER_PATH, ADAPTER, Powered=Variant("b", powered))

    def unplug_adapter(self) -> None:
        """Take the adapter away, with everything that hangs on it."""
        for peripheral in self.peripherals.values():
            peripheral.forget()
        for path in sorted(self._objects, key=len, reverse=True):
            self._remove(path)

    def plug_adapter(self) -> None:
        """Have an adapter again; it knows no device yet."""
        self._add(ADAPTER_PATH, ADAPTER, self._adapter_values())

    def switch(self, peripheral: Peripheral, on: bool) -> None:
        """Switch a device off (or let it go out of reach), or on again."""
        peripheral.is_on = on
        if peripheral.connected and not on:
            self.drop(peripheral)

    def drop(self, peripheral: Peripheral) -> None:
        """Break a connection, as it is told of one that nobody asked to end; nothing for one that is none."""
        if not peripheral.connected:
            return
        peripheral.forget()
        self._change(peripheral.path, DEVICE, ServicesResolved=Variant("b", False))
        self._change(peripheral.path, DEVICE, Connected=Variant("b", False))
        inside = [path for path in self._objects if path.startswith(f"{peripheral.path}/")]
        for path in sorted(inside, key=len, reverse=True):
            self._remove(path)

    def notify(self, peripheral: Peripheral, uuid: str, value: bytes) -> bool:
        """Send one notification; return whether anybody had subscribed."""
        characteristic = peripheral.find(uuid)
        if not characteristic.notifying:
            return False
        self._change(characteristic.path, GATT_CHARACTERISTIC, Value=Variant("ay", value))
        peripheral.sent += 1
        return True

    # -- what the devices do

    async def _speak(self, peripheral: Peripheral) -> None:
        while peripheral.scale is not None:
            now_ns = time.monotonic_ns()
            if peripheral.connected and not peripheral.is_reachable(now_ns):
                self.drop(peripheral)
            self._pass_on(peripheral, now_ns)
            if self._signals >= UNHURRIED:
                await self._keep_up()
            await asyncio.sleep(max(peripheral.scale.next_ns(now_ns) - time.monotonic_ns(), 0) / 1e9)

    def _pass_on(self, peripheral: Peripheral, now_ns: int) -> None:
        for frame in peripheral.speak(now_ns):
            self.notify(peripheral, FRAMES, frame)

    async def _keep_up(self) -> None:
        """Go to the bus and back."""
        self._signals = 0
        assert self._bus is not None
        ping = Message(
            destination="org.freedesktop.DBus",
            path="/org/freedesktop/DBus",
            interface="org.freedesktop.DBus.Peer",
            member="Ping",
        )
        await self._bus.call(ping)

    async def _advertise(self) -> None:
        while True:
            now_ns = time.monotonic_ns()
            for peripheral in self.peripherals.values():
                if not peripheral.connected and peripheral.is_reachable(now_ns):
                    self._make_heard(peripheral)
            await asyncio.sleep(ADVERTISE_EVERY_S)

    def _make_heard(self, peripheral: Peripheral) -> None:
        if peripheral.path in self._objects:
            self._change(peripheral.path, DEVICE, RSSI=Variant("n", peripheral.rssi))
            return
        self._add(
            peripheral.path,
            DEVICE,
            {
                "Address": Variant("s", peripheral.address),
                "AddressType": Variant("s", "random"),
                "Name": Variant("s", peripheral.name),
                "Alias": Variant("s", peripheral.name),
                "Adapter": Variant("o", ADAPTER_PATH),
                "Paired": Variant("b", False),
                "Trusted": Variant("b", False),
                "Connected": Variant("b", False),
                "ServicesResolved": Variant("b", False),
                "RSSI": Variant("n", peripheral.rssi),
                # an advertisement has room for one UUID of 128 bits
                "UUIDs": Variant("as", list(peripheral.services)[:1]),
            },
        )

    # -- signals

    def _add(self, path: str, interface: str, values: Values) -> None:
        self._objects[path] = {interface: values}
        self._tell("/", OBJECTS, "InterfacesAdded", "oa{sa{sv}}", path, {interface: values})

    def _remove(self, path: str) -> None:
        interfaces = list(self._objects.pop(path))
        self._tell("/", OBJECTS, "InterfacesRemoved", "oas", path, interfaces)

    def _change(self, path: str, interface: str, **values: Variant) -> None:
        self._objects[path][interface].update(values)
        self._tell(path, PROPERTIES, "PropertiesChanged", "sa{sv}as", interface, values, [])

    def _tell(self, path: str, interface: str, member: str, signature: str, *body: object) -> None:
        signal = Message(
            message_type=MessageType.SIGNAL,
            path=path,
            interface=interface,
            member=member,
            signature=signature,
            body=list(body),
        )
        self._signals += 1
        self._send(signal)

    def _send(self, message: Message) -> None:
        if self._bus is not None and self._bus.connected:
            self._bus.send(message)

    # -- what the host asks

    def _answer(self, message: Message) -> Message | bool | None:
        if message.message_type is not MessageType.METHOD_CALL or not (message.interface or "").startswith("org."):
            return None
        if message.interface in ("org.freedesktop.DBus", "org.freedesktop.DBus.Peer"):
            return None
        self.calls.append(message.member or "")
        try:
            return self._obey(message, message.interface or "", message.member or "", message.path or "")
        except RefusedError as error:
            return Message.new_error(message, error.name, error.words)
        except KeyError:
            return Message.new_error(message, "org.freedesktop.DBus.Error.UnknownObject", f"no {message.path}")

    def _obey(self, message: Message, interface: str, member: str, path: str) -> Message | bool:
        if interface == OBJECTS:
            return Message.new_method_return(message, "a{oa{sa{sv}}}", [self._objects])
        if interface == PROPERTIES and member == "Get":
            return Message.new_method_return(message, "v", [self._objects[path][message.body[0]][message.body[1]]])
        if interface == ADAPTER:
            self._obey_adapter(member, path, message.body)
            return Message.new_method_return(message)
        if interface == DEVICE:
            return self._obey_device(message, member, self._known(path))
        if interface == GATT_CHARACTERISTIC:
            return self._obey_characteristic(message, member, path)
        raise RefusedError("org.freedesktop.DBus.Error.UnknownMethod", f"{interface}.{member}")

    def _known(self, path: str) -> Peripheral:
        if path not in self._objects:
            raise KeyError(path)
        return self.peripherals[path]

    def _obey_adapter(self, member: str, path: str, body: list[object]) -> None:
        if path not in self._objects:
            raise KeyError(path)
        if member == "StartDiscovery":
            self._start_discovery()
        elif member == "StopDiscovery" and self._scan is not None:
            self._scan.cancel()
            self._scan = None
        elif member == "RemoveDevice":
            self._remove(str(body[0]))

    def _start_discovery(self) -> None:
        if not self._powered:
            raise RefusedError("org.bluez.Error.NotReady", "Resource Not Ready")
        if self._scan is not None:
            raise RefusedError("org.bluez.Error.InProgress", "Operation already in progress")
        self._scan = self._begin(self._advertise())

    def _obey_device(self, message: Message, member: str, peripheral: Peripheral) -> Message | bool:
        if member == "Connect":
            if not self._powered:
                raise RefusedError("org.bluez.Error.NotReady", "Resource Not Ready")
            self._begin(self._connect(message, peripheral))
            return True
        if member == "Disconnect":
            hanging = self._hanging.pop(peripheral.path, None)
            if hanging is not None:
                self._send(Message.new_error(hanging, FAILED, "br-connection-canceled"))
            self.drop(peripheral)
            return Message.new_method_return(message)
        raise RefusedError("org.freedesktop.DBus.Error.UnknownMethod", member)

    async def _connect(self, message: Message, peripheral: Peripheral) -> None:
        refusal = peripheral.refusals.popleft() if peripheral.refusals else None
        if refusal is Refusal.HANGS or not peripheral.is_reachable(time.monotonic_ns()):
            self._hanging[peripheral.path] = message
            return
        if refusal is Refusal.FAILS:
            self._send(Message.new_error(message, FAILED, refusal.value))
            return
        peripheral.connected = True
        self._change(peripheral.path, DEVICE, Connected=Variant("b", True))
        if refusal is Refusal.ABORTS:
            self._send(Message.new_error(message, FAILED, refusal.value))
            self.drop(peripheral)
            return
        self._send(Message.new_method_return(message))
        await asyncio.sleep(RESOLVE_S)
        if refusal is Refusal.VANISHES:
            self.drop(peripheral)
        elif peripheral.connected:
            self._offer(peripheral)

    def _offer(self, peripheral: Peripheral) -> None:
        """Tell of a device's services, then that all of them are told."""
        handles = iter(range(0x10, 0xFFFF))
        for uuid, characteristics in peripheral.services.items():
            path = f"{peripheral.path}/service{next(handles):04x}"
            values = {"UUID": Variant("s", uuid), "Primary": Variant("b", True)}
            self._add(path, GATT_SERVICE, {**values, "Device": Variant("o", peripheral.path)})
            for characteristic in characteristics:
                self._offer_one(characteristic, path, handles, peripheral.mtu)
        self._change(peripheral.path, DEVICE, ServicesResolved=Variant("b", True))

    def _offer_one(self, characteristic: Characteristic, service: str, handles: Iterator[int], mtu: int) -> None:
        characteristic.path = f"{service}/char{next(handles):04x}"
        next(handles)
        self._add(
            characteristic.path,
            GATT_CHARACTERISTIC,
            {
                "UUID": Variant("s", characteristic.uuid),
                "Service": Variant("o", service),
                "Value": Variant("ay", characteristic.value),
                "Flags": Variant("as", characteristic.flags),
                "MTU": Variant("q", mtu),
            },
        )

    def _obey_characteristic(self, message: Message, member: str, path: str) -> Message:
        peripheral = self._known(path.rsplit("/", 2)[0])
        one = next(each for group in peripheral.services.values() for each in group if each.path == path)
        if not peripheral.connected:
            raise RefusedError(FAILED, "Not connected")
        if member == "ReadValue":
            return Message.new_method_return(message, "ay", [one.value])
        if member == "StartNotify":
            one.notifying = True
            if peripheral.on_subscribe is not None:
                asyncio.get_running_loop().call_soon(peripheral.on_subscribe)
        elif member == "StopNotify":
            one.notifying = False
        elif member == "WriteValue":
            now_ns = time.monotonic_ns()
            peripheral.obey(bytes(message.body[0]), now_ns)
            asyncio.get_running_loop().call_soon(self._pass_on, peripheral, now_ns)
        return Message.new_method_return(message)
