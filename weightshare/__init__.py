"""weightshare: how the load is shared between the two feet, live and later.

`weightshare.analyse(frame, injured="left", target_percent=75.0)` analyses a trace in a pandas frame;
`weightshare.load_session(folder)` opens a saved session. docs/recipes.md shows what else there is, and
`weightshare.plot` draws it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from weightshare.pipeline.result import Analysis
    from weightshare.public import (
        analyse,
        export,
        load_session,
        load_sessions,
        read_export,
        reliability,
        repetitions,
        symmetry,
        trend,
    )
    from weightshare.records.export.saved import SavedSession
    from weightshare.records.export.trend import Trend

__version__ = "0.1.0"
__all__ = [
    "Analysis",
    "SavedSession",
    "Trend",
    "analyse",
    "export",
    "load_session",
    "load_sessions",
    "read_export",
    "reliability",
    "repetitions",
    "symmetry",
    "trend",
]

_ELSEWHERE = {
    "Analysis": "weightshare.pipeline.result",
    "SavedSession": "weightshare.records.export.saved",
    "Trend": "weightshare.records.export.trend",
}
"""What is not a function of `public`."""


def __getattr__(name: str) -> Any:
    """Import what is asked for when it is asked for, so that the command line starts at once."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    import importlib

    return getattr(importlib.import_module(_ELSEWHERE.get(name, "weightshare.public")), name)
