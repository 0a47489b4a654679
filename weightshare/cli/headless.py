"""A practice session in the terminal, from its first line to its exit status."""

from __future__ import annotations

import signal
import sys
import threading
import time
from collections.abc import Sequence
from pathlib import Path

from weightshare.cli.assessed import print_appraisal
from weightshare.errors import INTERRUPTED, DeviceError, OptionError, RecordError, WeightshareError
from weightshare.practice.engine import Engine, Finished
from weightshare.practice.option import PractiseOptions
from weightshare.practice.terminal import LiveLine, count_columns
from weightshare.records.appraisal import Appraisal
from weightshare.records.assessment import Assessment, assess, assess_session
from weightshare.records.diary import Diary, Entry, add_entries
from weightshare.records.place import session_place
from weightshare.records.session import unfinished
from weightshare.scales.link import Phase

NOT_SAVED = 3
LOOK_S = 0.05
PATIENCE_S = 3.0
"""How long a port that cannot be opened is tried: the scale may just be starting."""
SILENCE_S = 10.0
"""How long a port that was opened, but says nothing of use, is listened to."""


def practise_headless(options: PractiseOptions, *, as_json: bool = False, said: Sequence[Entry] = ()) -> int:
    """Run one session, with a live line on stderr and the analysis on stdout; return the exit status.

    `said`: what the person said of it, for its diary.

    Being told to terminate ends the session as Ctrl-C does: saved. Has to be called from the main thread. Raises
    WeightshareError where the scale cannot be used or nothing came from it, and OptionError where the body weight that
    was measured puts the target over the ceiling: practice has not begun then.
    """
    notice = find_notice(options.save or session_place())
    engine = Engine(options)
    line = LiveLine(sys.stderr, options.goal, count_columns(sys.stderr), options.settings)
    status, fault = 0, None
    before = signal.signal(signal.SIGTERM, signal.default_int_handler)
    try:
        engine.start()
        fault = _follow(engine, line, notice)
    except KeyboardInterrupt:
        status = INTERRUPTED
    finally:
        finished = engine.stop()
        signal.signal(signal.SIGTERM, before)
        line.tell(finished.trouble)
        line.close()
    if isinstance(fault, OptionError):
        _say_place(finished, options)
        raise fault
    if finished.analysis is None:
        if status == 0:
            raise fault or _no_samples(options.sources[0])
        return status
    saved = _report(finished, options, as_json, said)
    return status or saved


def _no_samples(source: str) -> WeightshareError:
    if source.startswith("file:"):
        path = source.removeprefix("file:")
        how = f"see what it holds: weightshare decode --report {path}"
        return RecordError(f"{path}: no samples of a scale that says which it is; {how}")
    return DeviceError(f"{source}: no samples came; check that the scale is on")


def _follow(engine: Engine, line: LiveLine, notice: str) -> WeightshareError | None:
    """Show the session until it is over; return why it cannot go on, where it cannot.

    `notice` is told with the first samples: a scale that cannot be used gets one line of its own.
    """
    pause = threading.Event()
    began_s = time.monotonic()
    fault = None
    while not engine.is_over:
        if engine.clash is not None:
            return engine.clash
        fault = engine.fault
        if fault is not None and _is_hopeless(engine, time.monotonic() - began_s):
            return fault
        if notice and engine.has_sampled:
            line.say(notice)
            notice = ""
        line.show(engine.view(), time.monotonic())
        pause.wait(LOOK_S)
    return fault


def _is_hopeless(engine: Engine, waited_s: float) -> bool:
    """Return whether a scale that has never sampled is not worth waiting for any longer."""
    if engine.has_sampled:
        return False
    if engine.phase is Phase.REFUSED:
        return True
    return waited_s >= (SILENCE_S if engine.is_connected else PATIENCE_S)


def _report(finished: Finished, options: PractiseOptions, as_json: bool, said: Sequence[Entry]) -> int:
    """Print the analysis, what it says of its stage, and where the session lies; return the exit status."""
    assert finished.appraisal is not None
    if finished.folder is not None:
        add_entries(finished.folder, *said)
    found = _assess(finished.appraisal, finished.folder, options, said)
    print_appraisal(finished.appraisal, found, as_json=as_json)
    _say_place(finished, options)
    return NOT_SAVED if finished.trouble and options.save is not None else 0


def _assess(
    appraisal: Appraisal, folder: Path | None, options: PractiseOptions, said: Sequence[Entry]
) -> Assessment | None:
    if options.prescription is None:
        return None
    if folder is not None:
        return assess_session(folder, appraisal, options.elsewhere)
    return assess(options.prescription, appraisal, Diary(tuple(said)))


def _say_place(finished: Finished, options: PractiseOptions) -> None:
    if finished.folder is not None:
        print(f"{'saved in part' if finished.trouble else 'saved'}: {finished.folder}", file=sys.stderr)
    elif options.record:
        print("not saved", file=sys.stderr)


def find_notice(place: Path) -> str:
    """Return in one line how many sessions in `place` were cut short and how the newest is finished; empty for none."""
    found = unfinished(place)
    if not found:
        return ""
    one, many = "a session was cut short; finish it", f"{len(found)} sessions were cut short; finish the newest first"
    return f"{one if len(found) == 1 else many}: weightshare analyse --recover {found[-1]}"
