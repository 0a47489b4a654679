"""Leads through a calibration with known masses: sees by itself when a load lies there and is still, and measures."""

from __future__ import annotations

from collections.abc import Sequence

from weightshare.errors import CalibrationError
from weightshare.metrology.estimate import Estimate
from weightshare.metrology.reading import BenchRecord, PlateLayout, Window
from weightshare.model import Calibration, Floats, Identity, Side
from weightshare.tongue import mark, say
from weightshare.workbench import wording
from weightshare.workbench.arrival import Arrival
from weightshare.workbench.block import BLOCK_S, Block, Blocks, pool, to_window
from weightshare.workbench.look import Doubt, Looker
from weightshare.workbench.plan import HANDS_S, Ask, Wanted, check_masses, make_plan, moved_kg, placed_before
from weightshare.workbench.scale import STILL_BLOCKS, PlateReading, layouts
from weightshare.workbench.view import BenchView, Stage

WINDOW_BLOCKS = 5
"""A long step gives a window a second."""
PATIENCE_S, UNSTILL_S = 30.0, 8.0
"""After so long without a change, or without standing still, that is said."""
PILING_S = 10.0
BROKEN_KG, BROKEN_PART = 0.15, 0.005
WAITING = mark("Waiting for the scale")


class Guide:
    """Walks the plan of `wanted`. `meet` and `push` take what the scale sends; nothing here knows another time.

    `earlier` is the scale's calibration so far, by which loads are judged until the steps themselves tell. Raises
    CalibrationError where the masses cannot make a calibration.
    """

    def __init__(self, wanted: Wanted, earlier: Calibration | None = None) -> None:
        check_masses(wanted.masses)
        self.wanted, self.asks = wanted, make_plan(wanted)
        self._earlier = earlier
        self._identity: Identity | None = None
        self._layouts: tuple[PlateLayout, ...] = ()
        self._looker = Looker(wanted.masses, {})
        self._blocks, self._arrival = Blocks(), Arrival()
        self._step = 0
        self._stage = Stage.CONNECT
        self._changed = self._confirmed = self._again = False
        self._asked_s: float | None = None
        self._moved_kg = 0.0
        self._doubt: Doubt | None = None
        self._words = ""
        self._gathered: list[Block] = []
        self._changed_s: dict[int, float] = {}
        self._windows: dict[int, list[Window]] = {}
        self._failure = ""
        self._interval_s = 0.01

    @property
    def ask(self) -> Ask | None:
        """The step that is asked for or measured now; None before the scale was met, and after the last."""
        return self.asks[self._step] if self._stage in (Stage.ASK, Stage.MEASURE) else None

    @property
    def is_done(self) -> bool:
        """Whether every step is measured."""
        return self._stage is Stage.DONE

    def fail(self, words: str) -> None:
        """Note that it cannot go on, and why."""
        self._stage, self._failure = Stage.FAILED, words

    def meet(self, identity: Identity, earlier: Calibration | None = None) -> None:
        """Take the scale that answers; the same one after a restart goes on. Raises CalibrationError for another."""
        if self._identity is not None:
            if identity.device_id != self._identity.device_id:
                ours = self._identity.device_id
                raise CalibrationError(f"this is scale {identity.device_id}, and {ours} is being calibrated")
            return
        found = {layout.side: layout for layout in layouts(identity)}
        lacking = [side for side in self.wanted.sides if side not in found]
        if lacking:
            there = " and ".join(side.value for side in found) or "none"
            raise CalibrationError(
                f"scale {identity.device_id} has no {lacking[0].value} plate (it has: {there}); choose another side"
            )
        self._identity = identity
        self._layouts = tuple(found[side] for side in Side if side in self.wanted.sides)
        known = earlier or self._earlier
        self._looker.plates = {side: PlateReading(layout, known) for side, layout in found.items()}
        self._stage = Stage.ASK

    def push(self, time_s: Floats, readings: Floats, interval_s: float | None = None) -> None:
        """Take samples: sample time (s), shape (n,), and readings (counts), shape (channels, n), NaN for none."""
        if interval_s is not None:
            self._interval_s = interval_s
        for block in self._blocks.push(time_s, readings):
            if self._stage in (Stage.ASK, Stage.MEASURE):
                self._take(block)

    def lose(self) -> None:
        """Note that the link was lost: what is being measured begins again when it is back."""
        if self._stage is Stage.MEASURE:
            self._begin_again(say("The link was lost: this step begins again when it is back"))

    def confirm(self) -> None:
        """Take the load as it lies, as soon as it is still; not where what lies there is of no use."""
        if self._stage is Stage.ASK:
            self._confirmed = self._changed = True

    def back(self) -> None:
        """Ask for the step before this one anew; what was measured of it is replaced."""
        if self._stage in (Stage.ASK, Stage.MEASURE) and self._step:
            self._forget(self._step)
            self._step -= 1
            self._forget(self._step)
            self._ask()
            self._again = True

    def _forget(self, step: int) -> None:
        self._windows.pop(step, None)
        self._changed_s.pop(step, None)
        self._gathered = []

    def _ask(self) -> None:
        self._stage = Stage.ASK
        self._confirmed, self._changed, self._again = False, False, False
        self._asked_s, self._doubt, self._words = None, None, ""
        self._gathered = []

    def _take(self, block: Block) -> None:
        for plate in self._looker.plates.values():
            plate.take(block)
        if self._stage is Stage.MEASURE:
            self._measure(block)
        else:
            self._wait(block)

    def _wait(self, block: Block) -> None:
        """Look whether what is asked for lies there and is still."""
        ask = self.asks[self._step]
        looker, side = self._looker, ask.placement.side
        self._doubt = looker.faulty(block)
        if self._doubt is not None:
            return
        if self._asked_s is None:
            self._asked_s = block.end_s
            looker.ask_for(ask)
            self._arrival.reset()
            self._moved_kg = moved_kg(self.asks, self._step, self.wanted.masses)
            # where the same load is to lie there as before, nothing needs to happen
            self._changed = self._changed or self._moved_kg == 0.0
        self._arrival.push(block.time_s, looker.plates[side].value(block))
        self._changed = self._changed or looker.has_changed(ask, side, block, self._moved_kg)
        still = all(plate.is_still(looker.other(s)) for s, plate in looker.plates.items())
        if not still:
            if self._changed and block.end_s - self._asked_s > UNSTILL_S:
                self._doubt = looker.restless(ask)
            return
        self._judge(ask, block)

    def _judge(self, ask: Ask, block: Block) -> None:
        """Judge a still load, and begin to measure it."""
        looker = self._looker
        self._doubt = looker.misplaced(ask, block, self._changed)
        if self._doubt is None and self._changed:
            self._doubt = looker.blind_sign(ask) or looker.doubt(ask)
        if self._doubt is not None and (self._doubt.firm or not self._confirmed):
            return
        if not self._changed:
            waited_s = block.end_s - (self._asked_s or 0.0)
            patient = say(wording.AGAIN) if self._again else ""
            self._words = wording.nothing_came(ask) if waited_s > PATIENCE_S else patient
            return
        self._doubt, self._words = None, ""
        self._stage, self._gathered = Stage.MEASURE, []
        self._windows[self._step] = []
        self._changed_s[self._step] = self._arrival.came_s(block.end_s - STILL_BLOCKS * BLOCK_S)

    def _measure(self, block: Block) -> None:
        """Take a block into what is measured; begin again where it moved."""
        ask = self.asks[self._step]
        looker = self._looker
        self._doubt = looker.faulty(block)
        if self._doubt is not None and not block.clipped.any() and not self._is_late(block):
            # single readings that are lacking are passed over
            return
        if self._doubt is not None or self._is_broken(block):
            after_s = len(self._gathered) * BLOCK_S
            # masses that are laid on one after the other are no disturbance
            said = "" if ask.is_long and after_s < PILING_S else wording.broken(ask, after_s)
            self._begin_again(self._doubt.words if self._doubt else said)
            return
        self._gathered.append(block)
        rows = looker.plates[ask.placement.side].rows
        if ask.is_long and len(self._gathered) % WINDOW_BLOCKS == 0:
            self._windows[self._step].append(to_window(self._step, pool(self._gathered[-WINDOW_BLOCKS:]), rows))
        if len(self._gathered) * BLOCK_S >= ask.measure_s - 1e-9:
            self._finish_step(ask, rows)

    def _is_late(self, block: Block) -> bool:
        """Return whether more than a second lies between a block and the one before it."""
        return bool(self._gathered) and block.number - self._gathered[-1].number > WINDOW_BLOCKS

    def _is_broken(self, block: Block) -> bool:
        """Return whether samples are lacking, or a plate reads otherwise than as the measuring began."""
        if self._is_late(block):
            return True
        looker, first = self._looker, self._gathered[:WINDOW_BLOCKS]
        for side, plate in looker.plates.items() if first else ():
            other = looker.other(side)
            value = plate.value(pool(first))
            creeping = BROKEN_PART * abs(value - plate.zero) if plate.zero is not None else 0.0
            slack = max(plate.units(BROKEN_KG, other), creeping, 14.0 * plate.scatter())
            if abs(plate.value(block) - value) > slack:
                return True
        return False

    def _begin_again(self, words: str) -> None:
        self._forget(self._step)
        self._stage, self._words = Stage.ASK, words
        self._confirmed, self._changed = False, True

    def _finish_step(self, ask: Ask, rows: Sequence[int]) -> None:
        every = pool(self._gathered)
        if not self._windows[self._step]:
            self._windows[self._step].append(to_window(self._step, every, rows))
        self._looker.learn(ask, every)
        self._step += 1
        if self._step == len(self.asks):
            self._step -= 1
            self._stage = Stage.DONE
        else:
            self._ask()

    def view(self) -> BenchView:
        """Return what is to be shown now; without a result, which is not reckoned here."""
        if self._stage is Stage.FAILED:
            return BenchView(Stage.FAILED, steps=len(self.asks), trouble=self._failure)
        if self._stage is Stage.CONNECT:
            return BenchView(steps=len(self.asks), headline=say(WAITING))
        ask, measuring = self.asks[self._step], self._stage is Stage.MEASURE
        done_s = len(self._gathered) * BLOCK_S
        looker = self._looker
        return BenchView(
            self._stage,
            ask,
            self._step + 1,
            len(self.asks),
            self._headline(ask, done_s),
            self._said(ask),
            min(done_s / ask.measure_s, 1.0) if measuring else 0.0,
            self._left_s() - done_s,
            (looker.reads(Side.LEFT), looker.reads(Side.RIGHT)),
            all(plate.is_still(looker.other(side)) for side, plate in looker.plates.items()),
            self._doubt.words if self._doubt else "",
            may_confirm=self._stage is Stage.ASK and not self._confirmed and not (self._doubt and self._doubt.firm),
            may_go_back=self._stage is not Stage.DONE and self._step > 0,
        )

    def _headline(self, ask: Ask, done_s: float) -> str:
        if self._stage is Stage.MEASURE and ask.is_long:
            return wording.leave(ask, ask.measure_s - done_s)
        if self._stage is Stage.DONE:
            return say("All is measured")
        return wording.headline(ask, placed_before(self.asks, self._step), self.wanted.masses)

    def _said(self, ask: Ask) -> str:
        if self._stage is Stage.DONE:
            return ""
        if self._stage is Stage.MEASURE:
            return say("Measuring: leave it as it is")
        if self._words:
            return self._words
        return say("Waiting until it is still") if self._changed else say("Waiting until it lies there")

    def _left_s(self) -> float:
        if self._stage is Stage.DONE:
            return 0.0
        return sum(ask.measure_s + HANDS_S for ask in self.asks[self._step :])

    def record(self, gravity: Estimate, temperature_degC: float | None = None) -> BenchRecord:
        """Return what was gathered, once it is done. Raises CalibrationError before."""
        if self._identity is None or not self.is_done:
            raise CalibrationError("the calibration is not complete: steps are missing")
        numbers = range(len(self.asks))
        return BenchRecord(
            self._identity.device_id,
            self._layouts,
            self.wanted.masses,
            tuple(ask.placement for ask in self.asks),
            tuple(self._changed_s[number] for number in numbers),
            tuple(window for number in numbers for window in self._windows[number]),
            1.0 / self._interval_s,
            gravity.value,
            gravity.u,
            temperature_degC,
        )
