"""Whether this system names a display. Nothing of Qt is loaded to tell, so that a command can ask first."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping


def names_display(environment: Mapping[str, str] = os.environ) -> bool:
    """Tell whether the system names a display in `environment`; where it always has one (Windows, macOS), yes."""
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(environment.get("DISPLAY") or environment.get("WAYLAND_DISPLAY"))
