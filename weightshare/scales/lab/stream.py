"""Finding a stream, and what it says of itself."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from weightshare.errors import DeviceError
from weightshare.model import Channel, Identity, Quantity, Side
from weightshare.scales.lab.calibration import LAB_ID_PREFIX
from weightshare.scales.lab.channel import StreamChannel
from weightshare.scales.lab.library import load_library
from weightshare.scales.lab.tick import TICK_RATE_HZ

FIND_S = 2.0
TWIN_S = 0.3
"""How long another stream of the same name is looked for, once there is one."""
ANSWER_S = 3.0
SLOWEST_HZ, FASTEST_HZ = 20.0, 5000.0
"""The live filter needs the one; the protocol's frames the other."""
_NAME_BYTES = 32


@dataclass(frozen=True, slots=True)
class Described:
    """What a stream says of itself."""

    name: str
    source: str
    """What stays when the stream is started again: its source id, else its name and host."""
    instance: str
    """What is new each time that it is started."""
    rate_Hz: float
    channels: tuple[StreamChannel, ...]
    is_number: bool


def find_stream(name: str, timeout_s: float = FIND_S) -> Any:
    """Return the info of the one stream whose name or source id is `name`.

    Raises DeviceError, without the name, where there is none within `timeout_s`, or more than one.
    """
    lsl = load_library()
    mark = "'" if '"' in name else '"'
    if mark in name:
        raise DeviceError("a name with both kinds of quotation marks cannot be looked for; use its source id")
    query = f"name={mark}{name}{mark} or source_id={mark}{name}{mark}"
    found = lsl.resolve_bypred(query, 2, TWIN_S) or lsl.resolve_bypred(query, 1, max(timeout_s - TWIN_S, 0.1))
    if not found:
        raise DeviceError("there is no such stream; start it, and see `weightshare scales` for those there are")
    ids = ", ".join(sorted(info.source_id() or "none" for info in found))
    if len(found) > 1:
        raise DeviceError(f"{len(found)} streams are called so; name the one by its source id ({ids})")
    return found[0]


def describe(info: Any) -> Described:
    """Return what the full info of a stream says."""
    lsl = load_library()
    return Described(
        info.name(),
        info.source_id() or f"{info.name()}@{info.hostname()}",
        info.uid(),
        float(info.nominal_srate()),
        _channels(info),
        info.channel_format() != lsl.cf_string,
    )


def _channels(info: Any) -> tuple[StreamChannel, ...]:
    """Read the description's channels, one for each channel of the stream, whatever the description leaves out."""
    channels = []
    node = info.desc().child("channels").child("channel")
    for _ in range(info.channel_count()):
        channels.append(StreamChannel(node.child_value("label").strip(), node.child_value("unit").strip()))
        node = node.next_sibling("channel")
    return tuple(channels)


def require_steady(stream: Described) -> None:
    """Raise DeviceError, without the name, where a stream cannot serve as scales at all."""
    if not stream.is_number:
        raise DeviceError("this stream carries text, not forces; name another one")
    if len(stream.channels) < 2:
        raise DeviceError("this stream has one channel; two are needed, one under each foot")
    if not SLOWEST_HZ <= stream.rate_Hz <= FASTEST_HZ:
        said = f"says {stream.rate_Hz:g} a second" if stream.rate_Hz else "has no steady rate"
        raise DeviceError(f"this stream {said}; {SLOWEST_HZ:g} to {FASTEST_HZ:g} samples a second are needed")


def make_identity(stream: Described) -> Identity:
    """Return the stream as a scale with one force channel under each foot; each start of it is a boot."""
    own = sha256(stream.source.encode()).hexdigest()
    boot = int(sha256(stream.instance.encode()).hexdigest()[:4], 16)
    name = f"{stream.name} (laboratory)".encode()[:_NAME_BYTES].decode(errors="ignore")
    channels = tuple(Channel(Quantity.FORCE, side) for side in Side)
    device_id = LAB_ID_PREFIX + own[: 16 - len(LAB_ID_PREFIX)]
    return Identity(device_id, (0, 0, 0), boot, TICK_RATE_HZ, round(stream.rate_Hz, 1), channels, name)
