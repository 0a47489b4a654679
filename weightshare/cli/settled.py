"""Settled readings in the terminal: a line for each, and at the end all of them."""

from __future__ import annotations

import json
import signal
import sys
import threading
import time
from typing import Any, TextIO

from weightshare.errors import INTERRUPTED, DeviceError
from weightshare.practice.option import PractiseOptions
from weightshare.practice.settledsession import OpenListener, SettledSession, Taken
from weightshare.practice.settledview import LIMIT, SettledView, say_kg, say_original, say_percent
from weightshare.scales.air.settled import SettledPhase, listen_to

SCHEMA = "weightshare.settled/1"
LOOK_S = 0.1


def practise_settled(
    options: PractiseOptions, *, as_json: bool = False, open_listener: OpenListener = listen_to
) -> int:
    """Show settled readings until the asked seconds are over or Ctrl-C; print all of them; return the exit status.

    Has to be called from the main thread. Raises DeviceError where a scale, or Bluetooth, cannot be used, or no
    reading came.
    """
    session = SettledSession(options, open_listener)
    teller, status = SettledTeller(session, sys.stderr), 0
    before = signal.signal(signal.SIGTERM, signal.default_int_handler)
    try:
        session.start()
        _follow(session, teller)
    except KeyboardInterrupt:
        status = INTERRUPTED
    finally:
        session.stop()
        signal.signal(signal.SIGTERM, before)
    teller.show()
    if not session.readings and not status:
        raise DeviceError(f"{', '.join(options.sources)}: no reading came; step on the scale, and stand still on it")
    print(json.dumps(to_json(session)) if as_json else "\n".join(map(say_taken, session.readings)))
    if session.place is not None:
        print(f"kept: {session.place}", file=sys.stderr)
    return status


def _follow(session: SettledSession, teller: SettledTeller) -> None:
    pause, seconds, began_s = threading.Event(), session.options.seconds, time.monotonic()
    while seconds is None or time.monotonic() - began_s < seconds:
        teller.show()
        for source, status in zip(session.options.sources, session.statuses, strict=True):
            if status.phase is SettledPhase.REFUSED:
                raise DeviceError(f"{source}: {status.words}")
        pause.wait(LOOK_S)


class SettledTeller:
    """Says on `stream` what is new: the limits of such scales first, then links, readings, warnings, what to do."""

    def __init__(self, session: SettledSession, stream: TextIO) -> None:
        self._session, self._stream = session, stream
        self._told, self._said = 0, ""
        self._links: dict[str, str] = {}
        self._notes: set[str] = set()
        self._say(LIMIT)

    def show(self) -> None:
        """Bring it up to date."""
        view = self._session.view()
        for taken in self._session.readings[self._told :]:
            self._say(say_taken(taken, self._session.body_kg))
        self._told = len(self._session.readings)
        self._show_links(view)
        for note in view.notes:
            if note not in self._notes:
                self._notes.add(note)
                self._say(f"note: {note}")
        if view.headline != self._said:
            self._said = view.headline
            self._say(view.headline)

    def _show_links(self, view: SettledView) -> None:
        for side in view.sides:
            if side.link and side.link != self._links.get(side.side):
                self._links[side.side] = side.link
                self._say(f"{side.side} scale: {side.link}")

    def _say(self, text: str) -> None:
        self._stream.write(text + "\n")
        self._stream.flush()


def say_taken(taken: Taken, body_kg: float | None = None) -> str:
    """Return one reading as a line: when, which foot, what, and what two of them make."""
    weighing, pair = taken.heard.weighing, taken.pair
    head = f"{taken.heard.arrived_at:%H:%M:%S}  {taken.side} foot"
    if weighing is None:
        return f"{head}: {taken.heard.fault}"
    if weighing.load_kg is None:
        return f"{head}: the scale could not weigh"
    said = [say_kg(weighing.load_kg), say_original(taken.heard), say_percent(weighing.load_kg, body_kg)]
    if not taken.is_new:
        said.append(f"kept in the scale since {weighing.stamp:%Y-%m-%d %H:%M}, not a new reading")
    if pair is not None and pair.share_percent is not None:
        said.append(f"share {pair.share_percent:.0f} % injured, from two readings {pair.apart_s:.0f} s apart")
    return f"{head}: {', '.join(filter(None, said))}"


def to_json(session: SettledSession) -> dict[str, Any]:
    """Return the whole session as a JSON object."""
    return {
        "schema": SCHEMA,
        "injured_side": session.options.settings.injured.value,
        "body_weight_kg": session.body_kg,
        "readings": [taken.to_json() for taken in session.readings],
        "kept": None if session.place is None else str(session.place),
        "warnings": [LIMIT],
    }
