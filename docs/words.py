"""Bring the languages of the window up to date: weightshare/window/words/*.ts from the sources, *.qm from those.

    python docs/words.py          # look for texts, keep what is translated, make the .qm files
    python docs/words.py --check  # say what is missing, and write nothing

A text is what `say`, `plural` and `mark` are given (weightshare/tongue.py), what members of the enumerations below are
called, and what the ready-made programmes say. A text that is in the sources no more goes; a new one is unfinished
until somebody translates it, with Qt's own Linguist or any editor.
"""

from __future__ import annotations

import argparse
import ast
import subprocess
import sys
import tomllib
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import Enum
from functools import lru_cache
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from weightshare.exercise import REASONS
from weightshare.metrology.decision import Verdict
from weightshare.metrology.found import FIGURES
from weightshare.metrology.reading import Spot
from weightshare.model import Side
from weightshare.practice.startview import StartStep
from weightshare.practice.view import LinkState
from weightshare.programme.criterion import ABOUT
from weightshare.programme.key import PROGRAMME_KEYS, STAGE_KEYS
from weightshare.programme.stage import Knee
from weightshare.records.store.patient import Affected
from weightshare.scales.finder import Way
from weightshare.state import State
from weightshare.tongue import COUNTED, IN_A_SENTENCE

ROOT = Path(__file__).resolve().parents[1]
FOLDER = ROOT / "weightshare" / "window" / "words"
CONTEXT = "weightshare"
RELEASE = Path(sys.executable).with_name("pyside6-lrelease")
"""Qt's own maker of .qm files, which PySide6-Essentials brings along."""
PARTS = "practice", "window", "workbench"
"""Where texts of the screen are made; the other parts speak English, to the record and to the command line."""
NAMED: tuple[type[Enum], ...] = (Side, State, LinkState, Way, StartStep, Spot, Verdict, Knee, Affected)
"""Enumerations whose members are shown by their names."""
IN_SENTENCES: tuple[type[Enum], ...] = (Side,)
"""Those that sentences have another form of."""


@dataclass(frozen=True, order=True)
class Text:
    """One text to be translated; `sense` tells it from the same one in another, `counted`: it has forms by a count."""

    source: str
    sense: str = ""
    counted: bool = False


@dataclass
class Language:
    """What one .ts file says: its language, and the translations, finished or not, by their texts."""

    name: str
    said: dict[Text, tuple[str, ...]] = field(default_factory=dict)
    unfinished: set[Text] = field(default_factory=set)


@lru_cache(maxsize=1)
def find_texts() -> frozenset[Text]:
    """Return all texts that are to be translated."""
    sources = [path for part in PARTS for path in sorted((ROOT / "weightshare" / part).rglob("*.py"))]
    found = {text for path in sources for text in texts_of(path.read_text("utf-8"))}
    return frozenset(found).union(_named(), _of_programmes(), _of_keys())


def texts_of(source: str) -> Iterator[Text]:
    """Yield what `source` has marked."""
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Call):
            continue
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if isinstance(node.func, ast.Attribute) and getattr(node.func.value, "id", "") != "tongue":
            continue
        if name in ("say", "mark") and node.args:
            for said in _constants(node.args[0]):
                yield Text(said, _sense(node))
        elif name == "plural":
            yield Text(ast.literal_eval(node.args[1]), COUNTED, counted=True)


def _constants(node: ast.expr) -> list[str]:
    if isinstance(node, ast.IfExp):
        return _constants(node.body) + _constants(node.orelse)
    return [node.value] if isinstance(node, ast.Constant) and isinstance(node.value, str) else []


def _sense(call: ast.Call) -> str:
    given = [*call.args[1:2], *(word.value for word in call.keywords if word.arg == "sense")]
    return str(given[0].value) if given and isinstance(given[0], ast.Constant) else ""


def _named() -> Iterator[Text]:
    for kind in NAMED:
        yield from (Text(str(member)) for member in kind)
    for kind in IN_SENTENCES:
        yield from (Text(str(member), IN_A_SENTENCE) for member in kind)


def _of_programmes() -> Iterator[Text]:
    for path in sorted((ROOT / "weightshare" / "programme" / "ready").glob("*.toml")):
        for stage in tomllib.loads(path.read_text("utf-8"))["stages"]:
            yield from (Text(stage[key]) for key in ("name", "note") if stage.get(key))


def _of_keys() -> Iterator[Text]:
    """Yield what may stand under the keys of a programme's file, and what criteria and calibrations are about."""
    yield from (Text(key.kind.allowed) for key in (*PROGRAMME_KEYS, *STAGE_KEYS))
    yield from (Text(name) for name in (*FIGURES, *REASONS))
    for about in ABOUT.values():
        yield from (Text(words) for words in (about.words, about.unit) if words.isascii() and len(words) > 2)


def read(path: Path) -> Language:
    """Return what the file at `path` says."""
    root = ET.parse(path).getroot()
    language = Language(root.attrib["language"])
    for message in root.iter("message"):
        counted = message.get("numerus") == "yes"
        text = Text(message.findtext("source") or "", message.findtext("comment") or "", counted)
        said = message.find("translation")
        assert said is not None
        forms = [form.text or "" for form in said.iter("numerusform")] if counted else [said.text or ""]
        language.said[text] = tuple(forms)
        if said.get("type") == "unfinished":
            language.unfinished.add(text)
    return language


def write(language: Language, path: Path) -> None:
    """Write the file at `path`, its texts in the order of the alphabet, so that a change is seen where it is."""
    root = ET.Element("TS", version="2.1", language=language.name, sourcelanguage="en")
    context = ET.SubElement(root, "context")
    ET.SubElement(context, "name").text = CONTEXT
    for text, forms in sorted(language.said.items()):
        message = ET.SubElement(context, "message", {"numerus": "yes"} if text.counted else {})
        ET.SubElement(message, "source").text = text.source
        if text.sense:
            ET.SubElement(message, "comment").text = text.sense
        said = ET.SubElement(message, "translation", {"type": "unfinished"} if text in language.unfinished else {})
        if not text.counted:
            said.text = forms[0]
        for form in forms if text.counted else ():
            ET.SubElement(said, "numerusform").text = form
    ET.indent(root, " ")
    told = ET.tostring(root, encoding="unicode", short_empty_elements=False)
    path.write_text(f'<?xml version="1.0" encoding="utf-8"?>\n<!DOCTYPE TS>\n{told}\n', "utf-8")


def update(language: Language, texts: frozenset[Text]) -> Language:
    """Return `language` with what is gone left out, and what is new unfinished."""
    new = {text: ("", "") if text.counted else ("",) for text in texts - set(language.said)}
    kept = {text: forms for text, forms in language.said.items() if text in texts}
    return Language(language.name, kept | new, (language.unfinished & texts) | set(new))


def main(arguments: list[str] | None = None) -> int:
    """Bring each language up to date, or say what is missing; return 1 where something is."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--check", action="store_true", help="say what is missing, and write nothing")
    checks = parser.parse_args(arguments).check
    texts, missing = find_texts(), 0
    for path in sorted(FOLDER.glob("*.ts")):
        before = read(path)
        language = update(before, texts)
        missing += len(language.unfinished)
        print(f"{path.name}: {len(texts)} texts, {len(language.unfinished)} unfinished")
        for text in sorted(language.unfinished) if checks else ():
            print(f"    {text.source}")
        if not checks:
            write(language, path)
            subprocess.run([str(RELEASE), "-silent", str(path)], check=True)
    return 1 if missing else 0


if __name__ == "__main__":
    sys.exit(main())
