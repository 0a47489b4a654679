"""The firmware that this program carries, and the settings that go with it."""

from __future__ import annotations

import ast
import importlib.util
import json
from dataclasses import dataclass
from importlib.metadata import PackageNotFoundError, files
from pathlib import Path
from typing import Any

from weightshare.errors import InputError, OptionError

_PLACE = "share/weightshare/firmware"
"""Where an installed package has it, under whatever the installation calls its data."""


@dataclass(frozen=True, slots=True)
class Carried:
    """The firmware's folder on this computer."""

    folder: Path

    @property
    def modules(self) -> list[Path]:
        """The files that go into `scale` on the board."""
        return sorted((self.folder / "scale").glob("*.py"))

    @property
    def main(self) -> Path:
        """The file that the board runs first."""
        return self.folder / "main.py"

    @property
    def version(self) -> tuple[int, int, int]:
        """What a board with this firmware tells as its version."""
        tree = ast.parse((self.folder / "scale" / "__init__.py").read_text(encoding="utf-8"))
        (value,) = [node.value for node in tree.body if isinstance(node, ast.Assign)]
        major, minor, patch = ast.literal_eval(value)
        return major, minor, patch

    def settings(self, build: str) -> Path:
        """The ready-made settings of a build."""
        return self.folder / "settings" / f"{build}.json"

    def check(self, settings: object, where: str) -> dict[str, Any]:
        """Return settings with all keys filled in, by the board's own checker. Raises OptionError."""
        path = self.folder / "scale" / "setting.py"
        spec = importlib.util.spec_from_file_location("weightshare_board_setting", path)
        assert spec is not None and spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(module)
        try:
            whole: dict[str, Any] = module.check(settings)
        except ValueError as error:
            raise OptionError(f"{where}: {error}") from error
        return whole


def find_carried() -> Carried:
    """Return the firmware: of this checkout, or of the installed package. Raises InputError where it is in neither."""
    checkout = Path(__file__).resolve().parents[3] / "hardware" / "firmware"
    for folder in [checkout, *_installed()]:
        if (folder / "main.py").is_file() and (folder / "scale" / "__init__.py").is_file():
            return Carried(folder)
    raise InputError("this installation has no firmware in it; install weightshare anew, from its wheel or its sources")


def _installed() -> list[Path]:
    try:
        listed = files("weightshare") or []
    except PackageNotFoundError:
        return []
    return [
        Path(str(file.locate())).resolve().parent for file in listed if file.as_posix().endswith(f"{_PLACE}/main.py")
    ]


def read_settings(carried: Carried, build: str, path: Path | None, **wishes: object) -> dict[str, Any]:
    """Return the settings to be written: of a file, or the ready-made ones of a build; `wishes` that are not None win.

    Raises OptionError, which names file and key.
    """
    source = path or carried.settings(build)
    try:
        given = json.loads(source.read_text(encoding="utf-8"))
    except OSError as error:
        raise OptionError(f"{source}: {error.strerror or error}") from error
    except ValueError as error:
        raise OptionError(f"{source} is no JSON: {error}") from error
    if isinstance(given, dict):
        given |= {key: value for key, value in wishes.items() if value is not None}
    carried.check(given, str(source))
    return dict(given)
