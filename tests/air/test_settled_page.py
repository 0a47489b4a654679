"""The page of settled readings over a real link: a store-bought scale wakes, is read, and sleeps again."""

from __future__ import annotations

import threading
from collections.abc import Callable

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from tests.air.host import Air
from tests.air.peripheral import WEIGHT_MEASUREMENT, bathroom_scale
from weightshare.model import Side
from weightshare.practice.option import PractiseOptions
from weightshare.scales.air.settled import ASLEEP, listen_to
from weightshare.task import Settings
from weightshare.window.app import application
from weightshare.window.settled import SettledPage
from weightshare.window.theme import LIGHT

ADDRESS = "00:00:5E:00:53:21"
WITHIN_S = 20.0


def until(holds: Callable[[], object]) -> None:
    app, pause = application(), threading.Event()
    for _ in range(round(WITHIN_S / 0.01)):
        app.processEvents()
        if holds():
            return
        pause.wait(0.01)
    pytest.fail("waited in vain")


def test_a_store_bought_scale_is_read_in_the_window() -> None:
    application()
    scale, window, board = bathroom_scale(ADDRESS), QWidget(), QWidget()
    window.resize(1366, 768)
    window.show()
    with Air(scale) as air:
        scale.on_subscribe = lambda: air.stack.notify(scale, WEIGHT_MEASUREMENT, bytes.fromhex("015843"))
        page = SettledPage(window, board, (), LIGHT, listen_to)
        options = PractiseOptions(Settings(Side.LEFT), sources=(f"ble:{ADDRESS}",), record=False)
        page.open_page(options, LIGHT, lambda: None)
        until(lambda: page.paint.shown.sides and page.paint.shown.sides[0].load)
        side = page.paint.shown.sides[0]
        # 172.40 lb; source: tests/published/test_weighing.py
        assert (side.load, side.original) == ("78.2 kg", "172.4 lb on the scale")
        until(lambda: "battery 76 %" in page.paint.shown.sides[0].scale)
        air.do(air.stack.switch, scale, False)
        until(lambda: page.paint.shown.sides[0].link == ASLEEP)
        assert page.paint.shown.sides[0].load == "78.2 kg", "what was read stays, with its age"
        QTest.keyClick(page, Qt.Key.Key_Escape)
        until(lambda: not page.is_open)
    window.close()
    for widget in (window, board):
        widget.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
