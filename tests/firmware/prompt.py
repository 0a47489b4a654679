"""A board at its prompt: the host's MicroPython on a pseudo-terminal, which the real mpremote talks to.

When it is reset it starts again, as a board does: with the file `main.py`, where there is one by then.
"""

from __future__ import annotations

import json
import os
import subprocess
import threading
from pathlib import Path

from tests.firmware.boards import SHADOW, World, find_micropython, put_first

RESET = 3
"""How the simulated board's process ends when it is reset."""


class PromptBoard:
    """A blank board with MicroPython on it."""

    def __init__(self, folder: Path, world: World) -> None:
        import tty

        find_micropython()
        self.flash = folder
        (folder / "world.json").write_text(json.dumps(world))
        self._far, self._near = os.openpty()
        tty.setraw(self._near)
        os.set_blocking(self._far, False)
        self.port = os.ttyname(self._near)
        self._over = False
        self._process = self._power_on()
        self._thread = threading.Thread(target=self._watch, name="board at its prompt")
        self._thread.start()

    def _power_on(self) -> subprocess.Popen[bytes]:
        os.set_blocking(self._far, (self.flash / "main.py").exists() is False)
        command = [find_micropython(), *(["main.py"] if (self.flash / "main.py").exists() else [])]
        environment = os.environ | {"MICROPYPATH": f"{SHADOW}:.frozen"}
        process = subprocess.Popen(
            command, cwd=self.flash, stdin=self._far, stdout=self._far, stderr=subprocess.DEVNULL, env=environment
        )
        put_first(process)
        return process

    def _watch(self) -> None:
        while True:
            status = self._process.wait()
            if self._over or status != RESET:
                return
            self._process = self._power_on()

    def close(self) -> None:
        """Power off."""
        self._over = True
        self._process.kill()
        self._thread.join(5)
        os.close(self._near)
        os.close(self._far)
