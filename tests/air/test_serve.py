"""The contributors' tool that serves virtual scales by Bluetooth: what it prints is all that commands need."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.air.host import BOTH_ADDRESS, LEFT_ADDRESS, RIGHT_ADDRESS, VARIABLE
from weightshare.scales.air.trouble import NO_SERVICE, SWITCHED_OFF


@contextmanager
def serving(checkout: Path, *options: str) -> Iterator[subprocess.Popen[str]]:
    command = [sys.executable, str(checkout / "tests" / "air" / "serve.py"), *options]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        try:
            yield process
        finally:
            process.kill()


def listing(environment: str) -> tuple[list[str], str | None]:
    """Return the sources by air that `weightshare scales` lists, and what it says of Bluetooth."""
    name, _, value = environment.removeprefix("export ").partition("=")
    command = [sys.executable, "-W", "error", "-m", "weightshare", "scales", "--json"]
    env = os.environ | {name: value}
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True, env=env)
    told = json.loads(done.stdout)
    return [each["source"] for each in told["scales"] if each["source"].startswith("ble:")], told["bluetooth"]


def say(process: subprocess.Popen[str], line: str) -> str:
    assert process.stdin is not None and process.stdout is not None
    process.stdin.write(f"{line}\n")
    process.stdin.flush()
    return process.stdout.readline().rstrip("\n")


def test_two_scales_are_served_and_what_is_typed_changes_the_air(checkout: Path) -> None:
    with serving(checkout, "raiser,seed=5,cells=hidden", "--near", "neighbour", "--near", "shop") as process:
        assert process.stdout is not None
        environment, *sources = (process.stdout.readline().rstrip("\n") for _ in range(3))
        assert environment.startswith(f"export {VARIABLE}=unix:path=")
        assert sources == [f"ble:{LEFT_ADDRESS}  left", f"ble:{RIGHT_ADDRESS}  right"]
        found, trouble = listing(environment)
        assert (len(found), trouble) == (4, None)
        assert say(process, "off left") == "done"
        assert say(process, "adapter off") == "done"
        assert listing(environment) == ([], SWITCHED_OFF)
        assert say(process, "adapter on") == "done"
        assert f"ble:{LEFT_ADDRESS}" not in listing(environment)[0]
        assert say(process, "service off") == "done"
        assert NO_SERVICE in str(listing(environment)[1])
        assert say(process, "drop right").startswith("done")
        assert say(process, "service on") == "done"
        assert say(process, "service on").startswith("not now")
        assert say(process, "battery right 9").startswith("done")
        assert say(process, "fly").startswith("there are: ")
        assert process.stdin is not None
        process.stdin.write("quit\n")
        process.stdin.close()
        assert process.wait(20) == 0


def test_one_scale_with_both_sides_is_served_and_a_wish_that_is_not_known_is_refused(checkout: Path) -> None:
    with serving(checkout, "steady", "--one") as process:
        assert process.stdout is not None
        assert process.stdout.readline().startswith("export ")
        assert process.stdout.readline().split() == [f"ble:{BOTH_ADDRESS}", "both"]
    with serving(checkout, "nobody-of-this-name") as process:
        assert process.wait(20) == 2
