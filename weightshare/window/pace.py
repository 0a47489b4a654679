"""When to paint: at the display's rate, and in step with the data, so that a sample does not wait for a frame."""

from __future__ import annotations

SOON_PART, LATE_PART = 0.8, 1.5
"""With news, so much of a display frame must lie behind the last paint; without, so much: the picture flows on."""


class Pace:
    """Decides by the newest sample's own time and the host's clock, both handed in."""

    def __init__(self, frame_s: float) -> None:
        self._frame_s = frame_s
        self._painted_s = float("-inf")
        self._sample_s: float | None = None

    @property
    def rest_ms(self) -> int:
        """How long after a paint nothing can be due, ms."""
        return int(1000 * SOON_PART * self._frame_s)

    def is_due(self, sample_s: float | None, now_s: float) -> bool:
        """Tell whether to paint now; where it says so, it takes it as done."""
        part = SOON_PART if sample_s != self._sample_s else LATE_PART
        if now_s - self._painted_s < part * self._frame_s:
            return False
        self._painted_s, self._sample_s = now_s, sample_s
        return True
