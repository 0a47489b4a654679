"""What a session was set to, and which sets were done in it, as its settings.json."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path

from weightshare.errors import OptionError, RecordError
from weightshare.exercise import SetSpan
from weightshare.model import Side
from weightshare.programme.prescription import Prescription
from weightshare.records.pair import Footwear
from weightshare.records.value import from_plain, to_plain
from weightshare.records.whole import write_whole
from weightshare.task import Goal, Settings

SETTINGS_NAME = "settings.json"
SCHEMA = "weightshare.settings/1"


@dataclass(frozen=True, slots=True)
class SessionHead:
    """What is known of a session beside its bytes. `started_at` is local time with its offset, ISO 8601."""

    settings: Settings
    goal: Goal = field(default_factory=Goal)
    sources: tuple[str, ...] = ()
    started_at: str = ""
    program: str = ""
    sets: tuple[SetSpan, ...] = ()
    """The sets that were begun, in order."""
    faults_s: tuple[float, ...] = ()
    """Sample times at which somebody marked a fault, s."""
    uneven: bool = False
    """The two plates were found not to read alike, before it or in it."""
    sides: tuple[Side, Side] | None = None
    """Which foot the first and the second of two separate scales are under; None: one scale reads both."""
    footwear: Footwear | None = None
    """What was worn, as it was told when the scales were set up; None: it was not."""

    prescription: Prescription | None = None
    """The stage of a programme that it was a session of, as it stood there."""

    def __post_init__(self) -> None:
        if self.sides is not None and sorted(self.sides) != list(Side):
            raise ValueError(f"sides are the left and the right one, not {self.sides}")


def write_head(folder: Path, head: SessionHead) -> None:
    """Write `head` as the settings.json of the session `folder`, whole or not at all. Raises OSError."""
    value = {"schema": SCHEMA, **to_plain(head)}
    write_whole(folder / SETTINGS_NAME, json.dumps(value, indent=1).encode() + b"\n")


def read_head(folder: Path) -> SessionHead:
    """Return the head of the session `folder`. Raises RecordError, which names the file."""
    path = folder / SETTINGS_NAME
    try:
        value = json.loads(path.read_bytes())
        schema = value.pop("schema")
        if schema != SCHEMA:
            raise RecordError(f"{path}: is of another version ({schema}); this program reads {SCHEMA}")
        return from_plain(SessionHead, value)
    except FileNotFoundError as error:
        raise RecordError(f"{path}: is missing; give a session's folder as it was saved") from error
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError, OptionError) as error:
        raise RecordError(f"{path}: was altered or cut short; it holds no settings of a session") from error
