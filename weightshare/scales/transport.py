"""What a byte stream to a scale has to offer. A transport fills in four methods and knows nothing of the protocol."""

from __future__ import annotations

from abc import ABC, abstractmethod


class Transport(ABC):
    """A byte stream to one scale. One thread alone opens, reads, writes and closes it."""

    name: str
    """The source as the user gave it, for messages: `tcp://127.0.0.1:7000`."""
    remark = ""
    """What a person should know of an opened source, to confirm; empty where there is nothing."""

    @property
    def told(self) -> str:
        """What the scale tells of itself beside the protocol, in words; empty where it tells nothing."""
        return ""

    @abstractmethod
    def open(self) -> None:
        """Open the stream. Raises DeviceError, which says what is wrong and what to do."""

    @abstractmethod
    def read(self, timeout_s: float) -> bytes:
        """Return what has come within `timeout_s`, b"" where nothing came. Raises DeviceError on a lost link."""

    @abstractmethod
    def write(self, data: bytes) -> None:
        """Send all of `data`. Raises DeviceError on a lost link."""

    @abstractmethod
    def close(self) -> None:
        """Close the stream; closing twice is nothing."""

    def interrupt(self) -> None:
        """Give up an `open` that takes long, and begin none any more; from any thread. What is open stays open."""
        return
