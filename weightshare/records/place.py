"""Where the user's own sessions, calibrations and pair of scales are kept, by the customs of the system."""

from __future__ import annotations

from pathlib import Path


def session_place() -> Path:
    """Return where sessions are kept unless another place is asked for."""
    return _own_place() / "sessions"


def store_place() -> Path:
    """Return where the store of patients is kept unless another place is asked for."""
    return _own_place() / "patients"


def calibration_folder() -> Path:
    """Return where the user's own calibrations are kept, one `DEVICE_ID.json` each."""
    return _own_place() / "calibrations"


def pair_file() -> Path:
    """Return where the pair of scales in use is remembered."""
    return _own_place() / "pair.json"


def passphrase_file() -> Path:
    """Return where it is kept by what the clinician's passphrase is known again."""
    return _own_place() / "clinician.json"


def assignment_file() -> Path:
    """Return where it is kept what the patient is to do on this computer."""
    return _own_place() / "assigned.json"


def programme_folder() -> Path:
    """Return where programmes are kept that were made or copied in the window."""
    return _own_place() / "programmes"


def _own_place() -> Path:
    from platformdirs import user_data_path

    return user_data_path("weightshare", appauthor=False)
