"""Sound without a device, the ruler, what is remembered, the hook after each paint."""

from __future__ import annotations

import subprocess
import sys
import time

import numpy as np
import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest

from tests.shown import snapshot
from tests.window.conftest import Bench, fresh, settle
from weightshare.practice.screen import Step
from weightshare.practice.tone import Cue, synthesise
from weightshare.state import State
from weightshare.window.app import application
from weightshare.window.ruler import RulerDialog
from weightshare.window.sound import RATE_HZ, SoundOutput
from weightshare.window.store import Store, claimed_px_per_mm
from weightshare.window.theme import LIGHT


def test_no_audio_is_no_error_and_is_said_once(bench: Bench) -> None:
    window = bench.open()
    bench.until(lambda: window.sound.is_open or bool(window.sound.words))
    window.look.say_of_machine()
    if not window.sound.is_open:
        assert window.bar.said.text().count("No sound") == 1
        assert not window.sound.play(Cue.REACH)


def test_the_callback_plays_a_tone_to_its_end_and_then_silence() -> None:
    sound = SoundOutput()
    tone = synthesise(Cue.REACH, RATE_HZ)
    sound._playing = (tone, 0)
    blocks = []
    for _ in range(len(tone) // 512 + 3):
        block = np.full((512, 1), 9.0, dtype=np.float32)
        sound._fill(block, 512, None, None)
        blocks.append(block[:, 0])
    played = np.concatenate(blocks)
    np.testing.assert_array_equal(played[: len(tone)], tone)
    assert not played[len(tone) :].any()


def test_a_library_that_does_not_load_is_said_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """`import sounddevice` raises OSError where PortAudio is missing; a module that is None raises ImportError."""
    sound = SoundOutput()
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    assert not sound.open() and "No sound" in sound.words


def test_the_ruler_changes_the_bar_and_enter_keeps_it(bench: Bench) -> None:
    window = bench.open()
    screen = window.screen()
    assert not bench.store.is_measured(screen)
    window.look.ask_ruler()
    dialog = window.findChild(RulerDialog)
    assert isinstance(dialog, RulerDialog)
    before = dialog.bar_px
    QTest.keyClick(dialog, Qt.Key.Key_Right)
    QTest.keyClick(dialog, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    QTest.keyClick(dialog, Qt.Key.Key_Left)
    assert dialog.bar_px == before + 10 and dialog.bar().width() == before + 10
    QTest.keyClick(dialog, Qt.Key.Key_Return)
    assert bench.store.px_per_mm(screen) == pytest.approx((before + 10) / 100)
    assert bench.store.is_measured(screen) and "Ruler" not in window.bar.said.text()
    assert window.board.figures.px_per_mm == pytest.approx((before + 10) / 100)
    settle(bench.app)


def test_escape_leaves_the_density_as_it_was(bench: Bench) -> None:
    window = bench.open()
    window.look.ask_ruler()
    dialog = window.findChild(RulerDialog)
    assert isinstance(dialog, RulerDialog)
    QTest.keyClick(dialog, Qt.Key.Key_Right)
    QTest.keyClick(dialog, Qt.Key.Key_Escape)
    assert not bench.store.is_measured(window.screen())
    settle(bench.app)


def test_the_painted_bar_is_as_long_as_it_says(bench: Bench) -> None:
    dialog = RulerDialog(LIGHT, 3.78)
    image = dialog.grab().toImage()
    row = round(dialog.bar().center().y())
    inside = [x for x in range(image.width()) if image.pixelColor(x, row).name() == LIGHT.inside]
    assert len(inside) == 378 and inside[-1] - inside[0] == 377
    dialog.deleteLater()


def test_looks_are_remembered_between_starts(bench: Bench) -> None:
    bench.store.theme, bench.store.sound = "dark", False
    bench.store.flush()
    again = Store(QSettings(bench.store._settings.fileName(), QSettings.Format.IniFormat))
    assert (again.theme, again.sound) == ("dark", False)
    window = bench.open()
    assert window.board.theme.name == "dark" and window.bar.dark.isChecked() and not window.sound.wanted


def test_a_spoilt_settings_file_is_no_error(bench: Bench) -> None:
    screen = application().primaryScreen()
    bench.store.set_px_per_mm(screen, 4.0)
    for key in ("theme", "sound", *bench.store._settings.allKeys()):
        bench.store._settings.setValue(key, "rubbish")
    assert bench.store.theme == "light" and not bench.store.sound
    assert bench.store.px_per_mm(screen) == claimed_px_per_mm(screen)


def test_after_each_paint_the_age_of_the_newest_sample_is_told(bench: Bench) -> None:
    window = bench.open()
    bench.feed.shown = fresh(snapshot(State.TOO_LITTLE))
    window.tick()
    window.flow.skip()
    ages: list[float] = []
    samples: set[float | None] = set()

    def note(sample_s: float | None, age_s: float) -> None:
        samples.add(sample_s)
        ages.append(age_s)

    window.board.path.after_paint = note
    assert window.flow.step is Step.READY
    began_s = time.monotonic()
    bench.until(lambda: len(ages) >= 5)
    assert [pytest.approx(40.0)] == list(samples)
    assert all(0.01 <= age <= 0.01 + time.monotonic() - began_s for age in ages)


def test_the_first_paint_waits_for_no_heavy_library() -> None:
    """They cost a second and more, and the picture needs none of them."""
    heavy = ["scipy.signal", "pandas", "pyarrow", "pyqtgraph", "sounddevice"]
    code = (
        f"import sys, weightshare.window.main, weightshare.window.app; print(sorted(set({heavy}) & sys.modules.keys()))"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
    assert out.stdout.strip() == "[]"
