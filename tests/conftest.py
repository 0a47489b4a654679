"""What holds for every test: no screen, no one's own data touched, nothing left running."""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from uuid import uuid4

import hypothesis
import pytest

hypothesis.settings.register_profile("quick", deadline=None)
hypothesis.settings.load_profile("quick")  # machines that are shared are slow now and then

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell has its background jobs ignore interrupts

THREADS_END_WITHIN_S = 5.0
SOAK_TIMES = int(os.environ.get("SOAK_TIMES", "1"))
"""How many times as many random examples `make soak` asks for."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Ask each property test for SOAK_TIMES as many examples, also those that name their own number."""
    for item in items if SOAK_TIMES > 1 else ():
        test = getattr(item, "obj", None)
        usual = getattr(test, "_hypothesis_internal_use_settings", None)
        if isinstance(usual, hypothesis.settings):
            more = hypothesis.settings(usual, max_examples=usual.max_examples * SOAK_TIMES)
            test._hypothesis_internal_use_settings = more  # type: ignore[union-attr]


@pytest.fixture(autouse=True, scope="session")
def own_folders(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Point the user's folders at an empty place, so that no test reads or writes a person's own sessions."""
    place = tmp_path_factory.mktemp("person")
    with pytest.MonkeyPatch.context() as patch:
        for variable in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"):
            patch.setenv(variable, str(place / variable.lower()))
        # laboratory streams are looked for on this machine only, and those of another run are not seen
        settings = place / "lsl_api.cfg"
        settings.write_text(
            f"[multicast]\nResolveScope = machine\n[lab]\nSessionID = {uuid4().hex}\n[log]\nlevel = -2\n"
        )
        patch.setenv("LSLAPICFG", str(settings))
        yield


@pytest.fixture(autouse=True)
def nothing_left_running() -> Iterator[None]:
    """Fail a test that leaves a thread running."""
    before = set(threading.enumerate())
    yield
    left = [thread for thread in threading.enumerate() if thread not in before]
    until = time.monotonic() + THREADS_END_WITHIN_S
    for thread in left:
        thread.join(max(0.0, until - time.monotonic()))
    names = [thread.name for thread in left if thread.is_alive()]
    assert not names, f"threads left running: {names}"


@pytest.fixture(scope="session")
def weeks(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with the patient of the eight weeks, of whom there are three sessions. To be read, or copied."""
    from tests.lab.weeks import QUICKEST, TINY, make_weeks

    place = tmp_path_factory.mktemp("weeks") / "store"
    make_weeks(place, datetime.now().astimezone(), meetings=TINY, pace=QUICKEST)
    return place


@pytest.fixture(scope="session")
def checkout() -> Path:
    """The top folder of this checkout."""
    return Path(__file__).resolve().parents[1]
