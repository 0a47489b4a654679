"""The guided calibration's page beside a practice window: loaded and built when it is first asked for, not before."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from weightshare.window.board import Board

if TYPE_CHECKING:
    from weightshare.window.bench import BenchPage
    from weightshare.window.benchfeed import OpenBench


class Annex:
    """Builds the page over `window` once; until then there is nothing to load, to fit or to leave.

    `others` answer no key while the page is open, and `closed` is called when it goes. Without `open_bench` each
    calibration is refused.
    """

    def __init__(
        self,
        window: QWidget,
        board: Board,
        others: tuple[QWidget, ...],
        open_bench: OpenBench | None,
        closed: Callable[[], None],
    ) -> None:
        self._window, self._board, self._others = window, board, others
        self._open_bench, self._closed = open_bench, closed
        self._page: BenchPage | None = None

    @property
    def page(self) -> BenchPage:
        """The page."""
        if self._page is None:
            # what it brings along would keep the window's first picture waiting
            from weightshare.window.bench import BenchPage
            from weightshare.window.benchfeed import refuse_bench

            opens = self._open_bench or refuse_bench
            self._page = BenchPage(self._window, self._board, self._others, self._board.theme, opens)
            self._page.closed.connect(self._closed)
        return self._page

    @property
    def is_open(self) -> bool:
        """Whether the window is covered."""
        return self._page is not None and self._page.is_open

    def fit(self) -> None:
        """Take the window's size."""
        if self._page is not None:
            self._page.fit()

    def leave(self) -> None:
        """Give the scale back, where one is held, and wait for that."""
        if self._page is not None:
            self._page.leave()
