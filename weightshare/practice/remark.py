"""What scales, links, records and analyses say of themselves, as templates for `message`."""

from __future__ import annotations

from weightshare.tongue import mark

PARTS = (
    mark("{place}: {said}"),
    mark("{said}; {remedy}"),
    mark("last time: {said}"),
    mark("the link"),
    mark("the link to the left scale"),
    mark("the link to the right scale"),
    mark("the link to the first scale"),
    mark("the link to the second scale"),
    mark("{link} was lost: {why}"),
    mark("{link} was lost at {time} s: {why}"),
    mark("{link} is back"),
    mark("{link} is back at {time} s"),
    mark("the left scale"),
    mark("the right scale"),
    mark("the first scale"),
    mark("the second scale"),
    mark("the link was lost"),
    mark("no reason was given"),
    mark("the pipeline"),
    mark("the recording"),
    mark("{late} did not end in time"),
    mark("by hand: {changed}"),
)
LINK = (
    mark("connecting to {name}"),
    mark("{why}; trying again"),
    mark("{why}; trying to connect again"),
    mark("no samples for {seconds} s; check the cable, and that the scale is on"),
    mark("no data comes"),
    mark("no data comes; asking the scale"),
    mark("the link is back"),
    mark("asking who it is"),
    mark("waiting for the other scale"),
    mark("asking for samples"),
    mark("the scale {refuses}; bring its firmware up to date"),
    mark("does not know how to start"),
    mark("finds the start command too short or too long"),
    mark("has no sampling rate of its own"),
    mark("the scale {speaks}; bring both to the same version"),
    mark("speaks protocol version {theirs}, this program version {ours}"),
    mark("the scale is busy with someone else; close the other program that uses it"),
    mark("a scale is heard, but does not say which it is; switch it off and on again"),
    mark("only noise comes; check the speed (@BAUD), the cable, and that it is a scale at all"),
    mark("silent: nothing answers; check that the scale is on and that this is its port"),
    mark("no scale answers"),
    mark("only asked who it is"),
    mark("the port was unplugged or failed; check the cable"),
    mark("the port is not open"),
    mark("there is no such port; plug the scale in, and see `weightshare scales` for the ports there are"),
    mark("the port is in use; close the other program that has it open"),
    mark("no permission to open the port; {remedy}"),
    mark("the port does not take this speed; leave @BAUD out for 115200"),
    mark("this is no serial port that can be used ({why})"),
    mark("add yourself to its group (`sudo usermod -aG dialout $USER`) and log in again"),
    mark("ask who looks after this computer for the right to use it"),
    mark("nothing listens there; switch the scale on and check the port"),
    mark("this host is not known; check its name and the network"),
    mark("no answer; check the address and the network"),
    mark("cannot be reached ({why})"),
    mark("the link was lost ({why})"),
    mark("the scale closed the link; check that it is on"),
    mark("the link is not open"),
    mark("in the record the link was lost"),
    mark("in the record: {why}"),
    mark("the record is at its end"),
    mark("holds nothing from a scale that could be played back"),
    mark("holds nothing from one or two scales that could be played back"),
)
AIR = (
    mark(
        "not found nearby; switch the scale on, bring it within a few metres, and see that no other "
        "program, telephone or tablet is connected to it"
    ),
    mark("the link was lost: the scale is out of reach or was switched off; bring it nearer, or switch it on"),
    mark("the package bleak is missing, which speaks Bluetooth; run: python -m pip install bleak"),
    mark("this computer's Bluetooth service does not run"),
    mark("this computer's Bluetooth service stopped; it is tried again"),
    mark("this computer has no Bluetooth adapter; plug one in, or use a cable"),
    mark("Bluetooth is switched off on this computer; switch it on in its settings"),
    mark("this program may not use Bluetooth"),
    mark("the scale was found, but does not let itself be connected; bring it nearer, or switch it off and on again"),
    mark("this computer's Bluetooth adapter cannot speak to scales (no Low Energy); plug in another"),
    mark("connecting failed ({why}); bring the scale nearer and try again"),
    mark("install what Debian calls bluez, and start it (sudo systemctl start bluetooth); or use a cable"),
    mark("restart the computer; or use a cable"),
    mark("allow it for this program under System Settings, Privacy & Security, Bluetooth"),
    mark("allow it in the settings under Privacy & security; or ask who looks after this computer"),
    mark("add yourself to the group bluetooth (sudo usermod -aG bluetooth $USER) and log in again"),
    mark(
        "this is a store-bought scale, which tells one settled reading now and then and no live share; it "
        "can be read by itself, as settled readings, but not practised on"
    ),
    mark(
        "this is no scale of this program (its Bluetooth service is missing); see `weightshare scales` for those near"
    ),
    mark("the scale offers its Bluetooth service only in part; bring its firmware up to date"),
    mark(
        "the link carries too little: {bytes} bytes, {least} are needed; bring the scale's firmware and "
        "this computer's Bluetooth up to date, or use a cable"
    ),
    mark("the scale has not answered for {seconds} s; bring it nearer, or switch it off and on"),
    mark("connecting was given up"),
    mark("asleep, or out of reach: step on it"),
    mark("found; connecting"),
    mark(
        "this scale can do more than settled readings: practise with it without --settled, not beside a "
        "store-bought one"
    ),
    mark("this is no scale that tells readings by itself; choose another device"),
    mark("--source {source}: settled readings come by Bluetooth; write it like ble:AA:BB:CC:DD:EE:FF"),
)
SCALE = (
    mark("it has no calibration"),
    mark("the calibration given is that of {others}"),
    mark("scale {name} cannot be used: {has}; make one with `weightshare calibrate run`"),
    mark("the calibration of scale {name} leaves out force channel {index}"),
    mark("scale {name} has no force channel for the {side} foot"),
    mark(
        "both scales say that they are under the {side} foot; say which is which: Get started in the "
        "window, or --sides left,right (or right,left) with the sources"
    ),
    mark("both sources lead to the same scale, {name}: give another one for one side"),
    mark("both scales are said to be under the {side} foot: one has to be under the other"),
    mark("scale {name} has no force channel, so it cannot be under the {side} foot"),
    mark("scale {name} reads both feet by itself: use it alone, as the one source"),
    mark(
        "scale {name} says that it is another than before in this session ({other}), or has other "
        "channels: begin a new session"
    ),
    mark("this is scale {name}, and the session is on {ours}; plug that one in"),
    mark("the calibration of scale {name} was valid until {day}; make a new one"),
    mark(
        "the calibration of scale {name} is dated {made}, and today is {today}; correct this computer's "
        "date, or calibrate anew"
    ),
    mark("{files}: this calibration is of scale {theirs}, but scale {name} answers; give its own"),
    mark("scale {name} has no calibration and cannot be practised on; {how}"),
    mark("make one with `{command}` (your masses, in kg), or give --calibration FILE"),
    mark("the scale says that a cell does not answer: do not trust these numbers; check its cable"),
    mark("the scale says that it was overloaded: check it with a known weight before you trust it again"),
    mark("the scale says that its battery is low: charge it"),
    mark("the scale says that it lost samples: it could not send them in time"),
    mark("the {side} scale answered no PING: its times rest on when its readings arrive, and may be late"),
    mark("the two scales agree in time to {doubt} ms only{cost}: bring them nearer to the computer, or use cables"),
    mark("the scale's clock began anew {often}; its times go on by this computer's clock"),
    mark("the scale restarted {often}; its times go on by this computer's clock"),
    mark("frames of the scale that would turn time back were left out ({dropped})"),
    mark("frames that would turn time back were left out ({dropped})"),
    mark(
        "the scale says that it takes {told} samples a second, and takes {rate}: its times are right, but "
        "look at its settings"
    ),
    mark("not filtered: {need}, there are {rate}"),
    mark("a low-pass at {cutoff} Hz needs over {rate} samples a second"),
)
PLATES = (
    mark("the two plates were never compared on this scale"),
    mark("the two plates were last compared on {day}"),
    mark("the {side} plate's zero moved by {moved} N since the two plates were compared"),
    mark("the {side} plate's zero moved by {moved} N since last time"),
    mark("the two plates could not be compared: {why}"),
    mark("the two plates read alike: the {side} one reads {by}"),
    mark("the {side} plate reads {by}: have the scale calibrated before you rely on the share"),
    mark("the {side} plate may read {by}: compare them again, or with known masses"),
    mark("{by} \u00b1 {doubt} % more than the other"),
    mark("the drift log of scale {name} cannot be read ({why})"),
    mark("the drift log cannot be written ({why})"),
    mark("the check of the plates failed ({why}); the session goes on without it"),
    mark("the plates touch: one was pushed while the other bore the load; move them apart"),
    mark("the {side} plate rocks: put it on a level, hard floor, all of its feet on it"),
    mark("the two plates push each other: leave a finger's breadth between them"),
    mark("the plates touch: {load} N stayed between them when nobody was on; move them apart"),
    mark("the {side} plate did not come back to zero, {load} N stayed: does it touch something?"),
    mark("there were too few readings of somebody who stands there"),
    mark("the load was shifted too fast, or not smoothly: go slowly"),
    mark("the load went from {low} to {high} % on the left only: shift further, if you may"),
    mark("a part of the weight was elsewhere: on a rail, a crutch or the floor"),
    mark("the total was not steady: a hand on a rail, or bouncing"),
    mark("the total changed with the way the load went: somebody leaned on something at the ends"),
    mark("it is known to {doubt} % only: the total was not steady, or the way too short"),
    mark("single moments decide it: stand freely, and shift evenly"),
    mark("the total went with the share: somebody leaned on something on one side"),
    mark("the zero was not taken: {load} N lay on the {side} plate; the calibration's own zero stands"),
    mark("the zero was not taken: the plates were not still for a second; the calibration's own zero stands"),
)
RECORD = (
    mark("this computer did not keep up: samples are missing from the display, not from the record"),
    mark("the program failed inside; recording goes on"),
    mark("nothing is recorded any more; the program failed inside"),
    mark("nothing is recorded any more ({why}); {remedy}"),
    mark("this is a file, not a folder"),
    mark("too many sessions began in one second"),
    mark("free some space on that disk"),
    mark("choose a folder that can be written to with --save DIR"),
    mark("the session could not be finished ({why})"),
    mark("{said}; its raw record is kept"),
    mark("cannot be read ({why})"),
    mark("cannot be written ({why})"),
    mark("is missing; give a session's folder as it was saved"),
    mark("was altered or cut short; it holds no settings of a session"),
    mark("was altered or cut short; it holds no diary of a session"),
    mark("was altered or cut short; the clinician sets anew what is to be done"),
    mark("was not brought to its end; finish it with: weightshare analyse --recover {folder}"),
    mark("is still being recorded; end that session first"),
    mark("cannot be recovered ({why})"),
    mark("the scales remembered there cannot be read; set them up again (Get started)"),
    mark("Give at least 8 characters; several words are easily remembered."),
    mark("Give at most 200 characters."),
    mark("the passphrase kept there cannot be read. {what}"),
    mark(
        "Forgotten? Whoever looks after this computer deletes the file {path}; then a new one can be set. "
        "What is kept of patients stays as it is."
    ),
    mark("nothing is set to be done"),
)
ANALYSIS = (
    mark("share, symmetry and body weight are not told: a part of the weight is elsewhere in supported work"),
    mark("holds are not listed: the exercise is made of repetitions"),
    mark("whether the heels were up is not known: load only, heel not seen"),
    mark("whether every repetition was supported is not known: body weight was not known then"),
    mark("whether every hold was supported is not known: body weight was not known then"),
    mark("how steady the top of a repetition was is not known: too few readings came there"),
    mark("the share in a third of a lowering is not known: too little of it was read"),
    mark("band and holds are not known: no target was given"),
    mark("the warm-up stand is not known: it was not over, on both feet, once body weight was known"),
    mark("least and greatest share are not known: nobody stood for longer than a second"),
    mark("the limb symmetry index is not known: there was no load on the other side"),
    mark("body weight and the part on the plates are not known: there were no three still seconds"),
    mark("the part on the plates is not known: nobody stood after body weight was known"),
    mark("figures of a set are not known: no repetition counted in it"),
    mark("fatigue in a set is not known: it takes {least} repetitions or more"),
    mark("a share of a repetition is not known: too little of its phase was read"),
    mark("the other heel's height is not known: it was not measured, or not read"),
    mark("repetitions on one leg are not known: the height of its heel was not measured, or not read"),
    mark("repetitions are not known: {why}"),
    mark("neither heel heights nor front and rear supports were measured"),
    mark("the heel's height was not measured"),
    mark("front and rear supports were not measured"),
    mark("there was no tempo"),
    mark("on a step the load is on the forefoot all the time, so that heel heights or a metronome have to tell"),
    mark("phases of repetitions are the metronome's: whether and when anybody moved was not measured"),
    mark("heights and load x heel travel are not known: repetitions were counted by the metronome"),
    mark("repetitions of a set are not known: it had no metronome"),
    mark("repetitions are not known: no set with a metronome was begun"),
    mark("shares at the top are not known: the tempo spends no time there"),
    mark("when the body was up is not known of some rises: the force was too unsteady, or the rise too slow"),
    mark("heights and load x heel travel are not known: rises from the chair rest on the forces"),
    mark("some squats are not known: the force was too unsteady, as of one who holds on to something"),
    mark("heights, load x heel travel and figures of the stay at the bottom are not known: squats rest on the forces"),
    mark("heights and load x heel travel are not known: repetitions rest on the forces"),
    mark("instants of a repetition are not known: the force was too unsteady, as of one who holds on to something"),
    mark("where the top of a repetition began is not known: its rise was too slow for the forces to tell"),
    mark("where the lowering of a repetition began is not known: it was too slow for the forces to tell"),
    mark("where a repetition ended is not known: its lowering was too slow for the forces to tell"),
    mark("a share of a repetition is not known: too little of its phase was read, or the load shifted at its ends"),
    mark("the heel no longer comes up high enough"),
    mark("the tempo was missed"),
    mark("a fault was marked"),
    mark("a foot left the plates"),
    mark("a half-way pause and return"),
    mark("readings were missing"),
    mark("cut off at the end"),
    mark("a forward lean"),
    mark("struck by the clinician"),
)
BENCH = (
    mark("the {side} plate's zero is {moved} N from its calibration's: have the scale calibrated"),
    mark("the {side} plate's zero wanders by {by} \u00b1 {doubt} N a month, seen over {days} days"),
    mark("the {side} plate reads {by} % more than the other: have the scale calibrated"),
    mark("a straight line, for want of loads: with three masses or more a curve can be told"),
    mark("a straight line would do as well: the curve does not stand out from the scatter"),
    mark("the {side} plate has too few points: put more masses on, or a second run"),
    mark(
        "channel {index}, under the {side} plate, reads less the more lies on it: are its wires swapped, or was the"
        " load on the other plate?"
    ),
    mark("the readings of the {side} plate do not tell its channels apart: one does not change"),
    mark(
        "the {spot} quarter of the {side} plate reads {part} % more than its middle: look for a loose foot or something"
        " under the plate"
    ),
    mark(
        "the {spot} quarter of the {side} plate reads {part} % less than its middle: look for a loose foot or something"
        " under the plate"
    ),
    mark("the {side} plate creeps: a load that stays on reads {part} % more in the end"),
    mark("the {side} plate creeps: a load that stays on reads {part} % less in the end"),
    mark("step {number}, run {run}, on the {side} plate ({spot}) does not fit the others: measure that step again"),
    mark("the {side} plate was calibrated up to {force} N ({load} kg): beyond that the same curve is taken on trust"),
)
