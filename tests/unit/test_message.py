"""What is said further down, told in another language: it is known word for word, and found again in the sources."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from weightshare.practice.message import TEMPLATES, retell
from weightshare.tongue import IN_A_SENTENCE, Tongue, speaking

DATA = ("remark.py", "rule.py")
QUIET = {"cli", "rig", "lab", "firmware", "plot"}
"""Parts whose messages are none of these: what is read here takes its time."""
GERMAN = {
    ("left", IN_A_SENTENCE): "link",
    ("the {side} plate's zero moved by {moved} N since last time", ""): "die Null der {side}en Platte: {moved} N",
    ("last time: {said}", ""): "letztes Mal: {said}",
    ("{place}: {said}", ""): "{place}: {said}",
    ("{said}; {remedy}", ""): "{said}; {remedy}",
    ("the link was lost ({why})", ""): "die Verbindung ging verloren ({why})",
    ("{measure} {low} to {high} {unit}", ""): "{measure} {low} bis {high} {unit}",
    ("mean share in the lowering", ""): "mittlerer Anteil beim Absenken",
}
TONGUE = Tongue(lambda text, sense, _count: GERMAN.get((text, sense), text), ",")


def literals(source: str) -> list[str]:
    """Return the texts of `source`, what is put into them left out."""
    tree = ast.parse(source)
    joined = [node for node in ast.walk(tree) if isinstance(node, ast.JoinedStr)]
    inner = {id(part) for node in joined for part in ast.walk(node) if part is not node}
    texts = ["".join(_literal(part) for part in node.values) for node in joined]
    plain = [node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and id(node) not in inner]
    return [*texts, *(re.sub(r"\{[^}]*\}", "\0", text) for text in plain if isinstance(text, str))]


def _literal(part: ast.expr) -> str:
    return str(part.value) if isinstance(part, ast.Constant) else "\0"


def is_said(piece: str, said: str, most: int = 4) -> bool:
    """Tell whether `piece` stands in the sources: as a whole, or put together of at most so many pieces."""
    words = piece.strip(" .").split(" ")
    while words and most:
        most -= 1
        longest = next((n for n in range(len(words), 0, -1) if " ".join(words[:n]) in said), 0)
        if not longest:
            return False
        words = words[longest:]
    return not words


def test_every_template_is_said_somewhere(checkout: Path) -> None:
    """Where a message is worded anew, its translation would be lost without a sound."""
    paths = [
        path
        for path in (checkout / "weightshare").rglob("*.py")
        if path.name not in DATA and not QUIET & set(path.relative_to(checkout).parts)
    ]
    said = "\n".join(text for path in paths for text in literals(path.read_text("utf-8")))
    pieces = {one: re.split(r"\{[a-z_0-9]+\}", one) for one in TEMPLATES}
    lost = [one for one, parts in pieces.items() if not all(is_said(part, said) for part in parts)]
    assert len(TEMPLATES) > 200 and lost == []


def test_no_template_stands_twice() -> None:
    assert len(set(TEMPLATES)) == len(TEMPLATES)


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("the left plate's zero moved by -3.5 N since last time", "die Null der linken Platte: -3,5 N"),
        (
            "last time: the left plate's zero moved by +4 N since last time",
            "letztes Mal: die Null der linken Platte: +4 N",
        ),
        ("tcp://10.0.0.5:7000: the link was lost (reset)", "tcp://10.0.0.5:7000: die Verbindung ging verloren (reset)"),
        ("mean share in the lowering 67.5 to 82.5 %", "mittlerer Anteil beim Absenken 67,5 bis 82,5 %"),
        ("a line that nobody here has written", "a line that nobody here has written"),
        ("", ""),
    ],
)
def test_a_message_is_told_with_what_stands_in_it(said: str, told: str) -> None:
    assert retell(said) == said, "in English it is as the record has it"
    with speaking(TONGUE):
        assert retell(said) == told
