"""A language that nobody speaks: every letter of a translated text is another one, and texts are a third longer.

What is left of plain letters on a page was never marked; what is cut had no room for a longer language.
"""

from __future__ import annotations

import re
from collections.abc import Collection

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QComboBox,
    QLabel,
    QLineEdit,
    QListWidget,
    QTableView,
    QWidget,
)

from weightshare.tongue import Tongue

LETTERS = str.maketrans(
    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ",
    "\u00e0\u0180\u00e7\u010f\u00e8\u0192\u011f\u0125\u00ec\u0135\u0137\u013a\u0271\u00f1\u00f2\u00fe\u0242\u0155\u015f\u0163\u00f9\u028b\u0175\u0445\u00fd\u017c"
    "\u00c0\u0181\u00c7\u010e\u00c8\u0191\u011e\u0124\u00cc\u0134\u0136\u0139\u041c\u00d1\u00d2\u00de\u0141\u0154\u015e\u0162\u00d9\u01b2\u0174\u0425\u00dd\u017b",
)
UNITS = {"kg", "mm", "ms", "min", "mV", "mN"}
"""What is the same in every language that writes with Latin letters."""
_NAME = re.compile(r"(\{[^}]*\})")
_VOWELS = re.compile("([\u00e0\u00e8\u00ec\u00f2\u00f9])")


def disguise(text: str) -> str:
    """Return `text` in that language; names in braces stay as they are."""
    parts = _NAME.split(text)
    return "".join(part if _NAME.fullmatch(part) else _VOWELS.sub(r"\1\1", part.translate(LETTERS)) for part in parts)


def tongue_of(known: Collection[str]) -> Tongue:
    """Return that language as one who knows the texts `known` speaks it: what is said without a mark stays plain."""
    return Tongue(lambda text, _sense, _count: disguise(text) if text in known else text, ",")


def plain_words(text: str) -> list[str]:
    """Return the words of `text` that nothing has translated."""
    return [word for word in re.findall(r"[A-Za-z]{2,}", text) if word not in UNITS]


def texts_of(page: QWidget) -> list[str]:
    """Return what the widgets on `page` say that are to be seen, and what is painted there."""
    found: list[str] = []
    for widget in (page, *page.findChildren(QWidget)):
        if not widget.isVisible():
            continue
        found += [widget.toolTip(), widget.windowTitle() if widget.isWindow() else ""]
        if isinstance(widget, QLabel | QAbstractButton):
            found.append(widget.text())
        if isinstance(widget, QLineEdit):
            found.append(widget.placeholderText())
        if isinstance(widget, QComboBox) and not widget.isEditable():
            found += [widget.itemText(row) for row in range(widget.count())]
        if isinstance(widget, QListWidget):
            found += [widget.item(row).text() for row in range(widget.count())]
        if isinstance(widget, QTableView):
            found += cells_of(widget)
        lines = getattr(widget, "lines", None)
        if lines is not None:
            found += [line.text for line in lines() if hasattr(line, "text")]
    return [text for text in found if text]


def cells_of(table: QTableView) -> list[str]:
    """Return the heads and cells of `table`."""
    model = table.model()
    columns = range(model.columnCount())
    heads = [model.headerData(column, Qt.Orientation.Horizontal) for column in columns]
    cells = [model.index(row, column).data() for row in range(model.rowCount()) for column in columns]
    return [str(text) for text in (*heads, *cells) if text]
