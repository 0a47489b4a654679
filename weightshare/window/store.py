"""What the window remembers between starts: looks, sound, language, the screen's density, that cautions were read."""

from __future__ import annotations

from PySide6.QtCore import QSettings
from PySide6.QtGui import QScreen

MM_PER_INCH = 25.4
BELIEVED_DPI = (60.0, 400.0)
"""A screen that claims a density outside of this is not believed; 96 per inch is taken."""


class Store:
    """Typed access to the window's settings file. Nothing of a patient is in it."""

    def __init__(self, settings: QSettings | None = None) -> None:
        self._settings = settings or QSettings(
            QSettings.Format.IniFormat, QSettings.Scope.UserScope, "weightshare", "window"
        )

    @property
    def theme(self) -> str:
        """`light` or `dark`."""
        return "dark" if self._settings.value("theme", "light") == "dark" else "light"

    @theme.setter
    def theme(self, name: str) -> None:
        self._settings.setValue("theme", name)

    @property
    def sound(self) -> bool:
        """Whether sounds are wanted."""
        return str(self._settings.value("sound", "true")).lower() == "true"

    @sound.setter
    def sound(self, wanted: bool) -> None:
        self._settings.setValue("sound", "true" if wanted else "false")

    @property
    def clinical(self) -> bool:
        """Whether the clinician's view is on."""
        return str(self._settings.value("clinical", "false")).lower() == "true"

    @clinical.setter
    def clinical(self, wanted: bool) -> None:
        self._settings.setValue("clinical", "true" if wanted else "false")

    @property
    def language(self) -> str:
        """The code of the language that was chosen; `system`: none was."""
        return str(self._settings.value("language", "system"))

    @language.setter
    def language(self, code: str) -> None:
        self._settings.setValue("language", code)

    @property
    def voice(self) -> str:
        """When cues are spoken: `home` in practice at home, `always` or `never`."""
        return str(self._settings.value("voice", "home"))

    @voice.setter
    def voice(self, when: str) -> None:
        self._settings.setValue("voice", when)

    @property
    def cautions_read(self) -> bool:
        """Whether somebody has gone past the cautions on this machine."""
        return str(self._settings.value("cautions_read", "false")).lower() == "true"

    @cautions_read.setter
    def cautions_read(self, read: bool) -> None:
        self._settings.setValue("cautions_read", "true" if read else "false")

    def px_per_mm(self, screen: QScreen) -> float:
        """Return the density of `screen` in px/mm: as the ruler said, else as the screen claims."""
        try:
            measured = float(str(self._settings.value(_key(screen), 0.0)))
        except ValueError:
            measured = 0.0
        return measured if measured > 0 else claimed_px_per_mm(screen)

    def is_measured(self, screen: QScreen) -> bool:
        """Tell whether a ruler was held against `screen`."""
        return self._settings.contains(_key(screen))

    def set_px_per_mm(self, screen: QScreen, px_per_mm: float) -> None:
        """Keep what the ruler said of `screen`."""
        self._settings.setValue(_key(screen), px_per_mm)

    def flush(self) -> None:
        """Write everything to disk."""
        self._settings.sync()


def claimed_px_per_mm(screen: QScreen) -> float:
    """Return the density that `screen` claims, in px/mm; 96 per inch where the claim is absurd."""
    dpi = screen.physicalDotsPerInch()
    low, high = BELIEVED_DPI
    return (dpi if low <= dpi <= high else 96.0) / MM_PER_INCH


def _key(screen: QScreen) -> str:
    size = screen.geometry()
    name = "".join(letter if letter.isalnum() else "-" for letter in screen.name())
    return f"density/{name}-{size.width()}x{size.height()}"
