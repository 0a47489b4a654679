"""weightshare: how the load is shared between the two feet, live and later.

`weightshare.analyse(frame, injured="left", target_percent=75.0)` analyses a trace in a pandas frame.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from weightshare.pipeline.result import Analysis
    from weightshare.public import analyse

__version__ = "0.1.0"
__all__ = ["Analysis", "analyse"]

_HOMES = {"analyse": "weightshare.public", "Analysis": "weightshare.pipeline.result"}


def __getattr__(name: str) -> Any:
    """Import what is asked for when it is asked for, so that the command line starts at once."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    import importlib

    return getattr(importlib.import_module(_HOMES[name]), name)
