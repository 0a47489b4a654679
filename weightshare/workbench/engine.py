"""A calibration with known masses from beginning to end: link, raw record, guide, result, and the file of it."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

from weightshare import __version__
from weightshare.errors import CalibrationError, DeviceError, WeightshareError
from weightshare.metrology.evaluate import evaluate
from weightshare.metrology.found import Found
from weightshare.metrology.reading import BenchRecord
from weightshare.model import Calibration, Condition, Identity, Item, LinkDown, Side, Worth
from weightshare.pipeline.clock import Clock
from weightshare.records.bench import keep_calibration
from weightshare.records.calibration import read_calibration
from weightshare.records.place import calibration_folder
from weightshare.records.recorder import Recorder, Recording, Unrecorded
from weightshare.records.setting import SessionHead
from weightshare.scales.link import Link, Phase
from weightshare.scales.rig import RigTransport
from weightshare.scales.rig.bench import BenchScene
from weightshare.scales.rig.cell import known_calibration
from weightshare.scales.source import FileSource, open_source, parse_source
from weightshare.scales.transport import Transport
from weightshare.task import Goal, Settings
from weightshare.tongue import mark, say
from weightshare.workbench.guide import Guide
from weightshare.workbench.order import Order, bench_source, check_total
from weightshare.workbench.plan import Ask
from weightshare.workbench.view import BenchView, Stage

LINK_ENDS_WITHIN_S = 4.0
RECORD_ENDS_WITHIN_S = 10.0
RESULT_WITHIN_S = 30.0
RECORDS = "records"
"""The folder beside the calibrations that keeps the raw record of each."""
PLATE_BEARS_KG = 200.0
"""What a plate of the standard build bears at most, on all its cells."""
RECKONING = mark("All is measured; reckoning")


class BenchEngine:
    """Runs one calibration from `start` to `stop`; every method may be called from any thread.

    `clock_ns` gives host time (None: the virtual scale's own, else this computer's); `transport` stands in for the
    source's own. `today` is the calibration's date. Raises WeightshareError where the order cannot be done. Nothing is
    written unless every step was measured.
    """

    def __init__(
        self,
        order: Order,
        clock_ns: Callable[[], int] | None = None,
        transport: Transport | None = None,
        today: date | None = None,
    ) -> None:
        order.check()
        check_total(order.wanted.masses, PLATE_BEARS_KG)
        source = parse_source(bench_source(order.source))
        if isinstance(source, FileSource):
            raise DeviceError(f"{order.source}: a record answers to no masses; give the scale itself")
        self.order = order
        self.guide = Guide(order.wanted)
        self._today = today or date.today()
        self._folder = order.folder or calibration_folder()
        self._transport = transport or open_source(source)
        if isinstance(self._transport, RigTransport) and not isinstance(self._transport.scene, BenchScene):
            raise DeviceError(f"{order.source}: a virtual person lays no masses on; the bench does: rig:bench")
        # a bench that runs faster than time has to be talked to as often, by its own time
        self._now_ns = clock_ns or _clock_of(self._transport)
        self._clock = Clock()
        self._guarding = threading.Lock()
        self._ending = threading.Lock()
        self._asked: Ask | None = None
        self._gravity = order.gravity()
        self._temperature_degC: float | None = None
        self._fault: WeightshareError | None = None
        self._earlier: Calibration | None = None
        self._result: tuple[Found, Path, Path | None] | None = None
        self._reckoner: threading.Thread | None = None
        self._stopped = False
        self._recording = self._make_recording()
        self._link = Link(self._transport, self._recording, self._deliver, self._judge, clock_ns=self._now_ns)

    def _make_recording(self) -> Recording:
        if not self.order.record:
            return Unrecorded()
        began_at = datetime.now().astimezone()
        words = f"weightshare {__version__}, calibration"
        head = SessionHead(
            Settings(Side.LEFT), Goal(), (self.order.source,), began_at.isoformat(timespec="seconds"), words
        )
        return Recorder(self._folder / RECORDS, head, began_at)

    def start(self) -> None:
        """Open the scale, and ask for the first step."""
        self._recording.start()
        self._link.start()

    def confirm(self) -> None:
        """Take the load as it lies, as soon as it is still."""
        with self._guarding:
            self._remark("confirmed", self.guide.view().number)
            self.guide.confirm()

    def back(self) -> None:
        """Measure the step before this one anew."""
        with self._guarding:
            self.guide.back()
            self._cue()

    def view(self) -> BenchView:
        """Return the newest of everything."""
        with self._guarding:
            view = self.guide.view()
        result = self._result
        if view.stage is Stage.DONE and result is None:
            return replace(view, stage=Stage.MEASURE, headline=say(RECKONING), part=1.0, left_s=0.0)
        if view.stage is Stage.DONE and result is not None:
            found, place, kept = result
            return replace(view, found=found, place=str(place), kept=str(kept or ""), words=self._recording.trouble)
        status = self._link.status
        if view.stage in (Stage.ASK, Stage.MEASURE) and status.phase not in (Phase.SAMPLING, Phase.CONNECTING):
            lost = say("The link is lost ({words}); it goes on at this step", words=status.words)
            return replace(view, stage=Stage.ASK, trouble=lost, may_confirm=False, still=False, part=0.0)
        if view.stage is Stage.CONNECT:
            return replace(view, trouble=status.fault, words=status.words)
        return view

    @property
    def fault(self) -> WeightshareError | None:
        """What keeps it from going on for good, where something does."""
        return self._fault

    @property
    def link_fault(self) -> WeightshareError | None:
        """What keeps the scale from sampling now, where something does."""
        fault = self._link.status.fault
        return DeviceError(f"{self._link.name}: {fault}") if fault else None

    @property
    def is_connected(self) -> bool:
        """Whether the stream to the scale is open."""
        return self._link.is_open

    @property
    def record_folder(self) -> Path | None:
        """Where the raw record is; None where there is none."""
        return self._recording.folder

    def stop(self) -> None:
        """Give the scale back. What is not done by now is given up: no calibration is written."""
        with self._ending:
            if self._stopped:
                return
            self._stopped = True
            self._link.ask_to_stop()
            self._link.join(LINK_ENDS_WITHIN_S)
            if self._reckoner is not None:
                self._reckoner.join(RESULT_WITHIN_S)
            self._recording.close(self._now_ns(), RECORD_ENDS_WITHIN_S)
            self._recording.release()

    def _judge(self, identity: Identity) -> str | None:
        """Return why a scale cannot be calibrated; called from the link's thread before anything is delivered."""
        with self._guarding:
            try:
                if self._earlier is None:
                    self._earlier = self._find_earlier(identity.device_id)
                self.guide.meet(identity, self._earlier)
            except CalibrationError as error:
                if self.guide.view().stage is Stage.CONNECT:
                    self._fail(error)
                return str(error)
        return None

    def _find_earlier(self, device_id: str) -> Calibration | None:
        """Return the scale's calibration so far; one that cannot be read is none, and is kept as it is."""
        path = self._folder / f"{device_id}.json"
        try:
            own = read_calibration(path) if path.exists() else None
        except CalibrationError:
            return None
        return own if own is not None and own.device_id == device_id else known_calibration(device_id)

    def _fail(self, error: WeightshareError) -> None:
        self._fault = error
        self.guide.fail(str(error))

    def _deliver(self, items: Sequence[Item]) -> None:
        """Take what the scale sent; called from the link's thread."""
        with self._guarding:
            try:
                for item in items:
                    self._take(item)
                self._cue()
            except Exception as error:
                self.guide.fail(
                    say("The program failed inside: {name}. Nothing was written.", name=type(error).__name__)
                )
                raise
        if self.guide.is_done and self._reckoner is None:
            self._link.ask_to_stop()
            self._reckoner = threading.Thread(target=self._reckon, name="bench result", daemon=True)
            self._reckoner.start()

    def _take(self, item: Item) -> None:
        if isinstance(item, LinkDown):
            self.guide.lose()
        elif isinstance(item, Condition):
            self._temperature_degC = item.temperature_degC
        for timed in self._clock.push(item):
            self.guide.push(timed.time_s, timed.readings, timed.interval_s)

    def _cue(self) -> None:
        """Write into the record what is asked for now, and tell the virtual hands."""
        ask = self.guide.ask
        if ask is not self._asked:
            self._asked = ask
            if ask is not None:
                self._remark("asked", self.guide.view().number)
            if ask is not None and isinstance(self._transport, RigTransport):
                self._transport.place(ask.placement, self.order.wanted.masses, self._gravity.value)

    def _remark(self, what: str, step: int) -> None:
        self._recording.note(self._now_ns(), json.dumps({what: step}))

    def _reckon(self) -> None:
        """Reckon the calibration and write it; where that fails, nothing was overwritten."""
        try:
            record = self.guide.record(self._gravity, self._temperature_degC)
            found = evaluate(record)
            place, kept = keep_calibration(
                self._calibration(record, found), record, found, self.order.made_by, self.order.folder
            )
            self._result = found, place, kept
        except WeightshareError as error:
            with self._guarding:
                self._fail(error)
        except OSError as error:
            where = error.filename or self._folder
            with self._guarding:
                self._fail(DeviceError(f"{where}: {error.strerror or error}; the calibration was not written"))
        except Exception as error:
            with self._guarding:
                self._fail(CalibrationError(f"the program failed inside: {type(error).__name__}; nothing was written"))
            raise

    def _calibration(self, record: BenchRecord, found: Found) -> Calibration:
        until = self._today + timedelta(days=self.order.valid_days)
        new = Calibration(record.device_id, self._today, found.channels, until, record.gravity_m_s2, found.worth)
        return new if self._earlier is None else with_other_plate(new, self._earlier)


def with_other_plate(new: Calibration, earlier: Calibration) -> Calibration:
    """Return `new` with the channels of the plate that was not calibrated as they were, their day and their expiry.

    A calibration of one plate alone would leave the scale without the other one.
    """
    fresh = {channel.index for channel in new.channels}
    others = [
        replace(channel, made_on=earlier.made_on_of(channel))
        for channel in earlier.channels
        if channel.index not in fresh
    ]
    if not others:
        return new
    channels = tuple(sorted((*new.channels, *others), key=lambda channel: channel.index))
    ends = [end for end in (new.valid_until, earlier.valid_until) if end is not None]
    worth = new.worth
    if worth is not None and earlier.worth is not None:
        told = {side.side for side in worth.sides}
        rest = tuple(side for side in earlier.worth.sides if side.side not in told)
        common = max(worth.common_part, earlier.worth.common_part)
        worth = Worth((*worth.sides, *rest), common, earlier.worth.assumed, worth.heel or earlier.worth.heel)
    return replace(new, channels=channels, valid_until=max(new.made_on, min(ends)), worth=worth)


def _clock_of(transport: Transport) -> Callable[[], int]:
    return transport.now_ns if isinstance(transport, RigTransport) else time.monotonic_ns
