"""The languages of the window: which there are, which one is wanted, and what translates. Qt's own means do it."""

from __future__ import annotations

import os
from functools import lru_cache
from pathlib import Path

from PySide6.QtCore import QCoreApplication, QLibraryInfo, QLocale, QTranslator

from weightshare.tongue import ENGLISH, Tongue, choose

FOLDER = Path(__file__).parent / "words"
"""A language is a file here: `de.qm`, made from `de.ts` by docs/words.py."""
CONTEXT = "weightshare"
VARIABLE = "WEIGHTSHARE_LANGUAGE"
"""Goes before what is remembered."""
SYSTEM, SOURCE = "system", "en"
_installed: list[QTranslator] = []
"""Qt keeps no translator alive."""


def languages() -> dict[str, str]:
    """Return the languages by their codes, each called by its own name; English first: the program is in it."""
    codes = (SOURCE, *sorted(path.stem for path in FOLDER.glob("*.qm")))
    return {code: "English" if code == SOURCE else QLocale(code).nativeLanguageName() for code in codes}


def find_wanted(remembered: str) -> str:
    """Return the code of the language that is wanted: by the environment, else as remembered, else by the system."""
    told = os.environ.get(VARIABLE, "")
    for name in (told, remembered):
        if name[:2].lower() in languages():
            return name[:2].lower()
    system = QLocale.system().name()[:2]
    return system if system in languages() else SOURCE


def speak(code: str) -> None:
    """Have the window, and Qt's own dialogs, say their texts in the language `code` from now on."""
    for translator in _installed:
        QCoreApplication.removeTranslator(translator)
    _installed.clear()
    QLocale.setDefault(QLocale(code) if code != SOURCE else QLocale.c())
    if code == SOURCE:
        choose(ENGLISH)
        return
    ours, qt = QTranslator(), QTranslator()
    ours.load(str(FOLDER / f"{code}.qm"))
    # where Qt's own translation is not installed, its few buttons stay English
    qt.load(f"qtbase_{code}", QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath))
    for translator in (qt, ours):
        QCoreApplication.installTranslator(translator)
        _installed.append(translator)
    choose(tongue_of(ours, QLocale(code).decimalPoint()))


def tongue_of(translator: QTranslator, decimal: str) -> Tongue:
    """Return what `translator` knows as a language; a text that it does not know stays English."""

    @lru_cache(maxsize=4096)
    def translate(text: str, sense: str, count: int) -> str:
        return translator.translate(CONTEXT, text, sense or "", count) or text

    return Tongue(translate, decimal)
