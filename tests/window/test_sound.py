"""The metronome and cues out of the audio callback: clicks to the sample, whatever blocks the library asks for."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

from weightshare.exercise import Tempo
from weightshare.practice.metronome import clicks, render
from weightshare.practice.screen import Pulse
from weightshare.practice.tone import Cue, Samples, synthesise
from weightshare.window.sound import RATE_HZ, SoundOutput

TEMPO = Tempo(1.0, 0.7, 2.0, 0.3)
BLOCKS = (512, 1, 333, 1024, 7, 480, 2048, 91)
"""Block sizes that a library may ask for, in turn."""


def played(sound: SoundOutput, seconds: float, dac_s: float | None = None) -> Samples:
    """Return what the callback gives over `seconds` or a block more; the first leaves the loudspeaker at `dac_s`."""
    blocks: list[Samples] = []
    count = 0
    while count < seconds * RATE_HZ:
        size = BLOCKS[len(blocks) % len(BLOCKS)]
        out = np.full((size, 1), 9.0, dtype=np.float32)
        told = None if dac_s is None else SimpleNamespace(outputBufferDacTime=dac_s + count / RATE_HZ)
        sound._fill(out, size, told, None)
        blocks.append(out[:, 0])
        count += size
    return np.concatenate(blocks)


def impulses(pulse: Pulse, first: int, count: int, rate_Hz: float) -> Samples:
    """Return a metronome whose clicks are one sample long."""
    sound = np.zeros(count, dtype=np.float32)
    length = round(pulse.tempo.cycle_s * rate_Hz)
    for click in clicks(pulse.tempo):
        at = round(click.at_s * rate_Hz)
        for number in np.arange(first, first + count):
            if number >= 0 and number % length == at:
                sound[number - first] = 0.5
    return sound


@pytest.mark.parametrize("since_s", [0.0, -0.31, 0.62])
def test_clicks_come_on_their_samples_whatever_the_blocks(since_s: float) -> None:
    sound = SoundOutput(impulses)
    sound.beat(Pulse(1, TEMPO, since_s, repeats=True))
    found = np.flatnonzero(played(sound, 4.5)[: round(4.5 * RATE_HZ)]).tolist()
    wanted = [round(click.at_s * RATE_HZ) + n * round(4.0 * RATE_HZ) for n in (0, 1) for click in clicks(TEMPO)]
    assert found == [at - round(since_s * RATE_HZ) for at in wanted if 0 <= at - since_s * RATE_HZ < 4.5 * RATE_HZ]


def test_it_sounds_as_the_metronome_renders_it_in_one_piece() -> None:
    pulse = Pulse(3, TEMPO, -1.5, count_in=2, repeats=True)
    sound = SoundOutput()
    sound.beat(pulse)
    got = played(sound, 6.0)
    np.testing.assert_array_equal(got, render(pulse, round(-1.5 * RATE_HZ), got.size, RATE_HZ))
    assert np.abs(got).max() > 0.1


def test_what_the_device_holds_back_is_made_up_for() -> None:
    """A sample that leaves the loudspeaker 180 ms later sounds as the pulse is then, not as it was when handed over."""
    sound = SoundOutput(impulses)
    sound._stream = SimpleNamespace(time=100.0, close=lambda: None)
    sound.beat(Pulse(1, TEMPO, 0.25))
    found = np.flatnonzero(played(sound, 1.0, dac_s=100.18))
    assert found[0] == round((1.0 - 0.25 - 0.18) * RATE_HZ)


def test_screens_of_the_same_cycle_do_not_start_it_again() -> None:
    sound = SoundOutput()
    sound.beat(Pulse(1, TEMPO, 0.0))
    one = played(sound, 0.5)
    sound.beat(Pulse(1, TEMPO, 0.55))
    sound.beat(Pulse(1, TEMPO, 0.49))
    both = np.concatenate((one, played(sound, 1.0)))
    np.testing.assert_array_equal(both, render(Pulse(1, TEMPO, 0.0), 0, both.size, RATE_HZ))


def test_a_new_cycle_is_laid_out_anew() -> None:
    sound = SoundOutput(impulses)
    sound.beat(Pulse(1, TEMPO, 0.0))
    played(sound, 0.3)
    sound.beat(Pulse(2, TEMPO, -0.1))
    assert np.flatnonzero(played(sound, 0.5))[0] == round(0.1 * RATE_HZ)


def test_it_falls_silent_without_a_pulse_and_where_no_sound_is_wanted() -> None:
    sound = SoundOutput()
    pulse = Pulse(1, TEMPO, 0.0, repeats=True)
    sound.beat(pulse)
    sound.beat(None)
    assert not played(sound, 4.0).any()
    sound.wanted = False
    sound.beat(pulse)
    assert not played(sound, 4.0).any()
    sound.wanted = True
    sound.beat(pulse)
    assert played(sound, 1.0).any()


def test_cues_are_mixed_with_the_clicks_and_nothing_is_over_full_scale() -> None:
    sound = SoundOutput()
    tone, pulse = synthesise(Cue.GOAL, RATE_HZ), Pulse(1, TEMPO, 0.0)
    sound._playing = (tone, 0)
    sound.beat(pulse)
    got = played(sound, 1.0)
    both = render(pulse, 0, got.size, RATE_HZ)
    both[: tone.size] += tone
    np.testing.assert_allclose(got, np.clip(both, -1.0, 1.0), atol=1e-6)
    loud = SoundOutput(lambda _pulse, _first, count, _rate_Hz: np.full(count, 3.0, dtype=np.float32))
    loud.beat(pulse)
    assert played(loud, 0.1).max() == 1.0
