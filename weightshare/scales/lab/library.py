"""The library of the Lab Streaming Layer, loaded when a stream is asked for; a part of what may be installed only."""

from __future__ import annotations

import os
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from weightshare.errors import OptionError

MEND = 'python -m pip install "pylsl>=1.18"'
QUIET = "[log]\nlevel = -2\n"
"""The library writes a line on standard error for each stream that comes and goes; errors are told in our own words."""
_OWN_SETTINGS = (Path("lsl_api.cfg"), Path("~/lsl_api/lsl_api.cfg"), Path("/etc/lsl_api/lsl_api.cfg"))
"""Where the library looks for a laboratory's settings; those are left alone."""


def is_installed() -> bool:
    """Return whether the library's package is there, without loading it."""
    return find_spec("pylsl") is not None


@cache
def load_library() -> Any:
    """Return the package `pylsl`. Raises OptionError where it is not installed, or its library cannot be loaded."""
    try:
        import pylsl
    except ImportError as error:
        raise OptionError(f"laboratory streams need a package that is not installed: {MEND}") from error
    except (RuntimeError, OSError) as error:
        reason = str(error).splitlines()[0] if str(error) else "no reason given"
        raise OptionError(f"the library of laboratory streams cannot be loaded ({reason}): {MEND}") from error
    if "LSLAPICFG" not in os.environ and not any(path.expanduser().exists() for path in _OWN_SETTINGS):
        pylsl.set_config_content(QUIET)
    return pylsl
