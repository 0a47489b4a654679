"""How the window looks on this machine: its colours, the size of small letters, how many pixels a millimetre has."""

from __future__ import annotations

from typing import TYPE_CHECKING

from weightshare.practice.flow import PRACTISING
from weightshare.practice.screen import Screen
from weightshare.tongue import say
from weightshare.window.bar import SettingsBar
from weightshare.window.board import Board
from weightshare.window.evidence import EvidenceStrip
from weightshare.window.ruler import ask_ruler
from weightshare.window.sound import SoundOutput
from weightshare.window.store import Store
from weightshare.window.style import style_sheet
from weightshare.window.theme import THEMES
from weightshare.window.voice import AT_HOME, NEVER, WISHES, Voice

if TYPE_CHECKING:
    from weightshare.window.main import PracticeWindow

SMALL_PX = 14


class Look:
    """Switches what is remembered of the window's looks and its sound. The keyboard goes back to the board."""

    def __init__(
        self,
        window: PracticeWindow,
        board: Board,
        bar: SettingsBar,
        store: Store,
        sound: SoundOutput,
        *,
        evidence: EvidenceStrip,
    ) -> None:
        self._window, self._board, self._bar, self._store, self._sound = window, board, bar, store, sound
        self._evidence = evidence
        self.voice = Voice(window)
        self._styled: tuple[str, int] | None = None
        bar.sound.setChecked(store.sound)
        bar.dark.setChecked(board.theme.name == "dark")
        bar.clinical.setChecked(store.clinical)
        evidence.setVisible(store.clinical)
        sound.wanted = store.sound
        bar.sound_switched.connect(self._switch_sound)
        bar.theme_switched.connect(self._switch_theme)
        bar.clinical_switched.connect(self._switch_view)
        bar.ruler_asked.connect(self.ask_ruler)
        window.cautions.offer_voice(WISHES, store.voice)
        window.cautions.voice_chosen.connect(self._choose_voice)

    def _choose_voice(self, when: str) -> None:
        self._store.voice, self.voice.words = when, ""

    def speak(self, screen: Screen, now_s: float) -> None:
        """Have cues spoken where that is wished for; the voice is loaded before practice, and never in it."""
        window = self._window
        at_home = window.ward.order.at_home
        if self._store.voice == NEVER or (self._store.voice == AT_HOME and not at_home) or not self._sound.wanted:
            return
        if not (self.voice.is_open or self.voice.words or screen.step in PRACTISING):
            self.voice.open()
            self.say_of_machine()
        self.voice.follow(screen, window.flow.settings, now_s)

    def follow(self, *, patient: bool) -> bool:
        """Return whether the clinician's view is shown: never to a `patient`, to whom it is not offered either."""
        clinical = self._bar.clinical.isChecked() and not patient
        for widget, shown in ((self._bar.clinical, not patient), (self._evidence, clinical)):
            if widget.isHidden() is shown:
                widget.setVisible(shown)
        return clinical

    def _switch_sound(self, wanted: bool) -> None:
        self._sound.wanted = self._store.sound = wanted
        # the big key must not switch it back
        self._board.setFocus()

    def _switch_view(self, clinical: bool) -> None:
        self._store.clinical = clinical
        self._evidence.setVisible(clinical)
        self._board.setFocus()

    def _switch_theme(self, dark: bool) -> None:
        self._store.theme = "dark" if dark else "light"
        self._board.set_theme(THEMES[self._store.theme])
        self.fit()
        self._board.setFocus()

    def fit(self) -> None:
        """Colours, and letters that grow with the window."""
        wanted = self._board.theme.name, max(SMALL_PX, self._window.height() // 56)
        if wanted != self._styled:
            self._styled = wanted
            self._window.setStyleSheet(style_sheet(self._board.theme, wanted[1]))

    def ask_ruler(self) -> None:
        """Let somebody hold a ruler against the screen."""
        ask_ruler(self._window, self._board.theme, self._store, self._take_ruler)

    def _take_ruler(self, px_per_mm: float) -> None:
        self._board.set_density(px_per_mm)
        self.say_of_machine()
        self._board.setFocus()

    def say_of_machine(self) -> None:
        """Say under the settings what this machine lacks."""
        said = [words for words in (self._sound.words, self.voice.words) if words]
        if not self._store.is_measured(self._window.screen()):
            said.append(say("How high the figures are is not checked on this screen yet: Ruler."))
        self._bar.say("  \u00b7  ".join(said))
