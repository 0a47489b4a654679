"""Where the user's own sessions and calibrations are kept, by the customs of the system."""

from __future__ import annotations

from pathlib import Path


def session_place() -> Path:
    """Return where sessions are kept unless another place is asked for."""
    return _own_place() / "sessions"


def calibration_folder() -> Path:
    """Return where the user's own calibrations are kept, one `DEVICE_ID.json` each."""
    return _own_place() / "calibrations"


def _own_place() -> Path:
    from platformdirs import user_data_path

    return user_data_path("weightshare", appauthor=False)
