"""Sounds out of the loudspeaker, where there is one. That there is none is no error, and is said once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from weightshare.practice.metronome import render
from weightshare.practice.screen import Pulse
from weightshare.practice.tone import Cue, Samples, synthesise
from weightshare.tongue import say

RATE_HZ = 48_000

Render = Callable[[Pulse, int, int, float], Samples]
"""Gives so many samples of a pulse's sound, shape (count,), from the one with a number on; 0 is its cycle's begin."""


@dataclass(slots=True)
class _Beat:
    """A pulse that sounds. Only the callback changes it, once it is handed over."""

    pulse: Pulse
    asked_s: float | None
    """The stream's own time when the pulse was as old as it says; None where the stream tells none."""
    next: int | None = None
    """The sample to go on with; None before the first block."""


class SoundOutput:
    """Plays cues in the audio library's own callback. Nothing is loaded before `open`."""

    def __init__(self, render: Render = render) -> None:
        self.words = ""
        """Why there is no sound; empty while there may be some."""
        self.wanted = True
        self._stream: Any = None
        self._tones: dict[Cue, Samples] = {}
        # one reference, replaced whole: the callback reads it without a lock
        self._playing: tuple[Samples, int] = (np.empty(0, dtype=np.float32), 0)
        self._beat: _Beat | None = None
        self._render = render

    @property
    def is_open(self) -> bool:
        """Whether a device plays."""
        return self._stream is not None

    def open(self) -> bool:
        """Open the default device; return whether there is one. Where not, `words` says why."""
        try:
            import sounddevice

            stream = sounddevice.OutputStream(samplerate=RATE_HZ, channels=1, dtype="float32", callback=self._fill)
            stream.start()
        except (OSError, ImportError):
            self.words = say("No sound: the audio library (libportaudio2) is not installed.")
            return False
        except Exception as error:
            # PortAudioError; its class cannot be named before the library is there
            if type(error).__name__ != "PortAudioError":
                raise
            self.words = say("No sound: this machine has no audio device.")
            return False
        self._stream = stream
        self._tones = {cue: synthesise(cue, RATE_HZ) for cue in Cue}
        return True

    def play(self, cue: Cue) -> bool:
        """Play `cue` from its beginning, in place of what sounds now; return whether it will be heard."""
        if self._stream is None or not self.wanted:
            return False
        self._playing = (self._tones[cue], 0)
        return True

    def beat(self, pulse: Pulse | None) -> None:
        """Let `pulse` sound from where it is; None, or no sound wanted: silence. The same cycle goes on by itself."""
        if pulse is None or not self.wanted:
            self._beat = None
        elif self._beat is None or self._beat.pulse.cycle != pulse.cycle:
            # made here, so that the callback finds it ready
            self._render(pulse, 0, 1, RATE_HZ)
            self._beat = _Beat(pulse, None if self._stream is None else float(self._stream.time))

    def close(self) -> None:
        """Close the device; closing twice is nothing."""
        stream, self._stream = self._stream, None
        if stream is not None:
            stream.close()

    def _fill(self, out: Any, frames: int, time: Any, _status: Any) -> None:
        tone, begin = playing = self._playing
        piece = tone[begin : begin + frames]
        out[: len(piece), 0] = piece
        out[len(piece) :, 0] = 0.0
        if self._playing is playing:
            self._playing = (tone, begin + len(piece))
        beat = self._beat
        if beat is not None:
            first = _first(beat, time) if beat.next is None else beat.next
            out[:, 0] += self._render(beat.pulse, first, frames, RATE_HZ)
            np.clip(out, -1.0, 1.0, out=out)
            beat.next = first + frames


def _first(beat: _Beat, time: Any) -> int:
    """Return the number of a block's first sample: how old the pulse is when that leaves the loudspeaker."""
    later_s = 0.0 if time is None or beat.asked_s is None else max(0.0, time.outputBufferDacTime - beat.asked_s)
    return round((beat.pulse.since_s + later_s) * RATE_HZ)
