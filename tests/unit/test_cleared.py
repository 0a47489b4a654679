"""On one leg without a programme somebody has to say that it is allowed: a caution alone holds nobody back."""

from __future__ import annotations

import io

import pytest

from weightshare.cli import build_parser
from weightshare.cli.cleared import ALONE, check_cleared
from weightshare.cli.practise import make_options
from weightshare.errors import OptionError

REAL = ("--source", "tcp://scale:7000", "--headless", "--injured", "left")
ONE_LEG = ("--stage", "single-raise")


def check(*words: str) -> None:
    args = build_parser().parse_args(["practise", *words])
    check_cleared(args, make_options(args))


class Terminal(io.StringIO):
    """Somebody's terminal; the real one of a test is none."""

    def isatty(self) -> bool:
        return True


def test_on_real_scales_it_is_refused_until_it_was_said(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(OptionError, match="single-raise: nobody said that it is allowed; add --cleared where"):
        check(*REAL, *ONE_LEG)
    check(*REAL, *ONE_LEG, "--cleared")
    assert capsys.readouterr().err == f"{ALONE}\n" * 2


@pytest.mark.parametrize(
    "words",
    [
        (*REAL, "--stage", "lowering"),
        (*REAL, *ONE_LEG, "--working", "right"),
        ("--source", "rig:raiser", "--headless", *ONE_LEG),
        ("--source", "tcp://scale:7000", "--injured", "left", *ONE_LEG),
    ],
    ids=["two legs", "the sound leg", "nobody stands there", "the window asks by itself"],
)
def test_elsewhere_nothing_is_asked(words: tuple[str, ...]) -> None:
    check(*words)


@pytest.mark.parametrize(("typed", "goes_on"), [("yes\n", True), ("Yes \n", True), ("y\n", False), ("", False)])
def test_at_a_terminal_a_typed_yes_will_do(typed: str, goes_on: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", Terminal(typed))
    monkeypatch.setattr("sys.stderr", Terminal())
    if goes_on:
        check(*REAL, *ONE_LEG)
    else:
        with pytest.raises(OptionError):
            check(*REAL, *ONE_LEG)
