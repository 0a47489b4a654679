"""Sounds out of the loudspeaker, where there is one. That there is none is no error, and is said once."""

from __future__ import annotations

from typing import Any

import numpy as np

from weightshare.practice.tone import Cue, Samples, synthesise

RATE_HZ = 48_000


class SoundOutput:
    """Plays cues in the audio library's own callback. Nothing is loaded before `open`."""

    def __init__(self) -> None:
        self.words = ""
        """Why there is no sound; empty while there may be some."""
        self.wanted = True
        self._stream: Any = None
        self._tones: dict[Cue, Samples] = {}
        # one reference, replaced whole: the callback reads it without a lock
        self._playing: tuple[Samples, int] = (np.empty(0, dtype=np.float32), 0)

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
            self.words = "No sound: the audio library (libportaudio2) is not installed."
            return False
        except Exception as error:
            # PortAudioError; its class cannot be named before the library is there
            if type(error).__name__ != "PortAudioError":
                raise
            self.words = "No sound: this machine has no audio device."
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

    def close(self) -> None:
        """Close the device; closing twice is nothing."""
        stream, self._stream = self._stream, None
        if stream is not None:
            stream.close()

    def _fill(self, out: Any, frames: int, _time: Any, _status: Any) -> None:
        tone, begin = playing = self._playing
        piece = tone[begin : begin + frames]
        out[: len(piece), 0] = piece
        out[len(piece) :, 0] = 0.0
        if self._playing is playing:
            self._playing = (tone, begin + len(piece))
