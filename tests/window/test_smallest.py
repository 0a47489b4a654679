"""Every page, in every language, has room on the smallest screen that is reckoned with: 1366 x 768."""

from __future__ import annotations

import pytest

from tests.window.conftest import Bench
from weightshare.exercise import Exercise
from weightshare.model import Side
from weightshare.practice.stages import Stages
from weightshare.records.place import programme_folder
from weightshare.tongue import say
from weightshare.window import language
from weightshare.window.caution import CautionPage
from weightshare.window.cover import Cover
from weightshare.window.language import languages
from weightshare.window.sheet import SettingsSheet


@pytest.mark.parametrize("code", languages())
def test_nothing_needs_more_than_the_smallest_screen(
    bench: Bench, english_after: None, own_place: None, code: str
) -> None:
    """The bar was 28 pixels wider in German, and 38 where it said that there is no sound and no voice."""
    language.speak(code)
    window = bench.open()
    lacking = (
        "No sound: the audio library (libportaudio2) is not installed.",
        "No spoken cues: no voice on this computer speaks the language of the window.",
        "How high the figures are is not checked on this screen yet: Ruler.",
    )
    window.bar.say("  \u00b7  ".join(map(say, lacking)))
    for exercise in Exercise:
        window.bar.exercise.choose(exercise)
        for folded in (True, False):
            window.bar.lock(folded)
            bench.app.processEvents()
            least = window.minimumSizeHint()
            assert least.width() <= 1366 and least.height() <= 768 and window.width() == 1366, exercise
    assert window.bar.look.isVisible()
    annex, ward = window._annex, window.ward
    stages = Stages(programme_folder(), "achilles", "lowering-90")
    ward.stage_page.open_page(stages, Side.LEFT, may_free=True)
    ward.edit_page.open_page(stages, may_free=True)
    built = ward.lock_page, annex.start, annex.past, annex.page, annex.patients.list
    pages: list[Cover | CautionPage | SettingsSheet] = [*window.findChildren(Cover), window.cautions, window.desk.sheet]
    assert len(pages) >= 12 and set(built) <= set(pages)
    for page in pages:
        page.fit()
        least = page.minimumSizeHint()
        assert least.width() <= 1366 and least.height() <= 768, type(page).__name__
    ward.uncover()
