"""What goes wrong with Bluetooth, in words with what to do about it."""

from __future__ import annotations

import sys

from weightshare.errors import DeviceError

NOT_NEARBY = (
    "not found nearby; switch the scale on, bring it within a few metres, and see that no other program, telephone or "
    "tablet is connected to it"
)
GONE = "the link was lost: the scale is out of reach or was switched off; bring it nearer, or switch it on"
NO_BLEAK = "the package bleak is missing, which speaks Bluetooth; run: python -m pip install bleak"
NO_SERVICE = "this computer's Bluetooth service does not run"
SERVICE_GONE = "this computer's Bluetooth service stopped; it is tried again"
NO_ADAPTER = "this computer has no Bluetooth adapter; plug one in, or use a cable"
SWITCHED_OFF = "Bluetooth is switched off on this computer; switch it on in its settings"
NOT_ALLOWED = "this program may not use Bluetooth"
NO_ANSWER = "the scale was found, but does not let itself be connected; bring it nearer, or switch it off and on again"

_REASONS = {
    "NO_BLUETOOTH": NO_ADAPTER,
    "NO_BLE_CENTRAL_ROLE": "this computer's Bluetooth adapter cannot speak to scales (no Low Energy); plug in another",
    "POWERED_OFF": SWITCHED_OFF,
}
_NO_BUS = "org.freedesktop.DBus.Error."
_SERVICE_MISSING = {
    f"{_NO_BUS}{name}"
    for name in ("ServiceUnknown", "NameHasNoOwner", "NoReply", "Disconnected", "Spawn.ServiceNotFound")
}
_DENIED = {f"{_NO_BUS}AccessDenied", f"{_NO_BUS}AuthFailed", "org.bluez.Error.NotAuthorized"}
_OFF = {"org.bluez.Error.NotReady", "org.bluez.Error.NotAvailable"}


def words_for(error: BaseException) -> str:
    """Return what an error of bleak, or of what it stands on, means, and what a person can do about it."""
    if isinstance(error, DeviceError):
        return str(error)
    if isinstance(error, ModuleNotFoundError):
        return NO_BLEAK
    if isinstance(error, TimeoutError):
        return NO_ANSWER
    if isinstance(error, OSError | EOFError):
        return _bus_words(error)
    return _bleak_words(error)


def _bus_words(error: BaseException) -> str:
    """Return what it means that the system's message bus cannot be reached, or broke off."""
    if isinstance(error, FileNotFoundError | ConnectionRefusedError):
        return f"{NO_SERVICE}; {service_remedy()}"
    if isinstance(error, PermissionError):
        return f"{NOT_ALLOWED}; {permission_remedy()}"
    return SERVICE_GONE


def _bleak_words(error: BaseException) -> str:
    from bleak.exc import BleakBluetoothNotAvailableError, BleakDBusError, BleakDeviceNotFoundError

    if isinstance(error, BleakBluetoothNotAvailableError):
        return _REASONS.get(error.reason.name) or f"{NOT_ALLOWED}; {permission_remedy()}"
    if isinstance(error, BleakDeviceNotFoundError):
        return NOT_NEARBY
    if isinstance(error, BleakDBusError):
        return _dbus_words(error.dbus_error, error.dbus_error_details or "")
    return _failed(str(error))


def _dbus_words(name: str, details: str) -> str:
    if name in _SERVICE_MISSING:
        return f"{NO_SERVICE}; {service_remedy()}"
    if name in _DENIED:
        return f"{NOT_ALLOWED}; {permission_remedy()}"
    if name in _OFF:
        return SWITCHED_OFF
    return _failed(details or name)


def _failed(reason: str) -> str:
    return f"connecting failed ({reason.strip() or 'no reason was given'}); bring the scale nearer and try again"


def service_remedy() -> str:
    """Return how a person starts the Bluetooth service of this system."""
    if sys.platform.startswith("linux"):
        return "install what Debian calls bluez, and start it (sudo systemctl start bluetooth); or use a cable"
    return "restart the computer; or use a cable"


def permission_remedy() -> str:
    """Return how a person gets leave to use Bluetooth on this system."""
    if sys.platform == "darwin":
        return "allow it for this program under System Settings, Privacy & Security, Bluetooth"
    if sys.platform == "win32":
        return "allow it in the settings under Privacy & security; or ask who looks after this computer"
    return "add yourself to the group bluetooth (sudo usermod -aG bluetooth $USER) and log in again"
