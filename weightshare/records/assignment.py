"""What the patient is to do on this computer, as the clinician left it: kept between starts."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path

from weightshare.errors import OptionError, RecordError
from weightshare.programme.prescription import Prescription
from weightshare.records.place import assignment_file
from weightshare.records.seal import KEY, is_altered, sealed
from weightshare.records.value import from_plain, to_plain
from weightshare.records.whole import FOLDER_MODE, write_whole
from weightshare.task import Goal, Settings

SCHEMA = "weightshare.assignment/1"


@dataclass(frozen=True, slots=True)
class Assignment:
    """What is measured against, how much is asked for, and the stage that it comes from; None: it was set by hand.

    `place` is the programme's name or file, where there is one. `alone_allowed`: of what was set by hand the clinician
    said that the injured leg may stand alone in it.
    """

    settings: Settings
    goal: Goal
    prescription: Prescription | None = None
    place: str = ""
    alone_allowed: bool = False
    at_home: bool = False
    """Sessions begin and end without a key, by stepping on and off."""
    code: str = ""
    """Whose sessions they are, of the store of patients; empty: nobody's."""
    inbox: str = ""
    """The folder that these are recorded in."""


def write_assignment(assignment: Assignment, path: Path | None = None) -> None:
    """Keep `assignment` in place of another. Raises RecordError where it cannot be written."""
    path = path or assignment_file()
    value = sealed({"schema": SCHEMA, **to_plain(assignment)})
    try:
        path.parent.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
        write_whole(path, json.dumps(value, indent=1).encode() + b"\n")
    except OSError as error:
        raise RecordError(f"{path}: cannot be written ({error.strerror or error})") from error


def read_assignment(path: Path | None = None) -> Assignment | None:
    """Return what is assigned; None where nothing was. Raises RecordError, which names the file, where it was altered:
    nobody is asked for a load that nobody prescribed."""
    path = path or assignment_file()
    try:
        value = json.loads(path.read_bytes())
        if is_altered(value) or value.pop("schema") != SCHEMA or not value.pop(KEY):
            raise ValueError("altered")
        return from_plain(Assignment, value)
    except FileNotFoundError:
        return None
    except OSError as error:
        raise RecordError(f"{path}: cannot be read ({error.strerror or error})") from error
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError, OptionError) as error:
        raise RecordError(f"{path}: was altered or cut short; the clinician sets anew what is to be done") from error
