"""What a session was set to, as its settings.json."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

from weightshare.errors import OptionError, RecordError
from weightshare.model import Side
from weightshare.records.whole import write_whole
from weightshare.task import Goal, Settings

SETTINGS_NAME = "settings.json"
SCHEMA = "weightshare.settings/1"
_SETTINGS_KEYS = tuple(Settings.__slots__)


@dataclass(frozen=True, slots=True)
class SessionHead:
    """What is known of a session beside its bytes. `started_at` is local time with its offset, ISO 8601."""

    settings: Settings
    goal: Goal = field(default_factory=Goal)
    sources: tuple[str, ...] = ()
    started_at: str = ""
    program: str = ""


def write_head(folder: Path, head: SessionHead) -> None:
    """Write `head` as the settings.json of the session `folder`, whole or not at all. Raises OSError."""
    value = {
        "schema": SCHEMA,
        "started_at": head.started_at,
        "program": head.program,
        "sources": list(head.sources),
        "settings": {key: getattr(head.settings, key) for key in _SETTINGS_KEYS},
        "goal": asdict(head.goal),
    }
    write_whole(folder / SETTINGS_NAME, json.dumps(value, indent=1).encode() + b"\n")


def read_head(folder: Path) -> SessionHead:
    """Return the head of the session `folder`. Raises RecordError, which names the file."""
    path = folder / SETTINGS_NAME
    try:
        value = json.loads(path.read_bytes())
        if value["schema"] != SCHEMA:
            raise RecordError(f"{path}: is of another version ({value['schema']}); this program reads {SCHEMA}")
        return SessionHead(
            settings=_to_settings(value["settings"]),
            goal=Goal(float(value["goal"]["hold_s"]), int(value["goal"]["holds"])),
            sources=tuple(str(source) for source in value["sources"]),
            started_at=str(value["started_at"]),
            program=str(value["program"]),
        )
    except FileNotFoundError as error:
        raise RecordError(f"{path}: is missing; give a session's folder as it was saved") from error
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error
    except (ValueError, TypeError, KeyError, RecursionError, OptionError) as error:
        raise RecordError(f"{path}: was altered or cut short; it holds no settings of a session") from error


def _to_settings(value: dict[str, Any]) -> Settings:
    """Settings from JSON; a key that this version does not know would change results, and is a TypeError."""
    injured = Side(value["injured"])
    numbers: dict[str, Any] = {
        key: None if number is None else float(number) for key, number in value.items() if key != "injured"
    }
    return Settings(injured=injured, **numbers)
