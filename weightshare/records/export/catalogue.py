"""Every table and column that is exported: the one list that files, data dictionary and documentation are made from."""

from __future__ import annotations

from functools import partial

from weightshare.exercise import Basis, Exercise, Surface
from weightshare.model import HEIGHT_COLUMNS, PART_COLUMNS, Side
from weightshare.records.diary import About
from weightshare.records.export.column import NO_WORTH, Column, Kind, Table, spread_of, worth_of
from weightshare.records.figure import Source
from weightshare.records.manifest import Ending

_SIDES = tuple(map(str, Side))
BOTH = "both"
_NO_TARGET = "no target was given"
_NO_REPETITION = "the moment lies in none"
_NO_INDEX = "more was done than stand or hold, or steered, or not had"
_NO_STAND = "there was none"
_NO_CEILING = "no such limit was set"
_AND_WORTH = " and, where it is known, what the instrument leaves in doubt"
PHASES_NAMED = ("rise", "top", "lowering")
THIRDS = ("upper", "middle", "lower")
KINDS = ("hold", "set", "rejected", "gap", "over the ceiling")

_text = partial(Column, kind=Kind.STRING)
_flag = partial(Column, kind=Kind.BOOLEAN)
_count = partial(Column, kind=Kind.INTEGER)

SESSION = _text("session", "the session's id: 32 digits of the SHA-256 of its raw record", required=True)
NUMBER = _count("number", "counted from 1 within the session", required=True)
FOUND = _count("number", "counted from 1 as they were found first: those of struck ones are left out", required=True)


SAMPLES = Table(
    "samples",
    "one row a sample of one session, in order of time; forces and heights are unfiltered, and again as shown live",
    (
        Column("time_s", "time of the sample, in the session's own clock", required=True),
        *(
            Column(f"{side}_N", f"vertical force under the {side} foot, unfiltered, zeroed", missing="no reading")
            for side in _SIDES
        ),
        *(
            Column(name, f"its part on the {name.split('_')[1]} supports of the {name.split('_')[0]} plate")
            for name in PART_COLUMNS
        ),
        *(
            Column(name, f"height of the {name.split('_')[0]} heel above the plate, unfiltered", missing="no reading")
            for name in HEIGHT_COLUMNS
        ),
        *(
            Column(
                f"{side}_filtered_N",
                f"vertical force under the {side} foot after the live low-pass, whose delay is not taken off",
                missing="no reading, or near a gap",
            )
            for side in _SIDES
        ),
        Column(
            "share_percent",
            "the injured side's part of the load on both plates, filtered, as it was shown",
            missing="nobody stood there, or no reading",
        ),
        Column("on_plates_percent", "the load on both plates in body weight, mean of a second"),
        Column("aim_percent", "the middle of the band at that moment", missing=_NO_TARGET),
        _flag("in_band", "whether the moment counted as in the band", required=True),
        _count("set", "number of the set", missing="the moment lies in no set"),
        _count("hold", "number of the hold", missing="the moment lies in no hold"),
        _count("repetition", "number of the repetition", missing=_NO_REPETITION),
        _text("phase", "phase of the repetition", among=PHASES_NAMED, missing=_NO_REPETITION),
    ),
)
SESSIONS = Table(
    "sessions",
    "one row a session",
    (
        SESSION,
        _text("patient", "the patient's code", missing="not told: the session was exported by its folder"),
        _text("name", "the patient's name; only there where names were asked for", missing="none is known"),
        Column("started_at", "local time with its offset", Kind.DATETIME, required=True),
        _flag("virtual", "scales and person were a program's, to try it: of nobody is anything told", required=True),
        _text("ending", "how it ended", among=tuple(map(str, Ending))),
        _text("exercise", "what was done", among=tuple(map(str, Exercise)), missing="not told"),
        _text("surface", "what was stood on", among=tuple(map(str, Surface))),
        _text("basis", "what repetitions rest on", among=tuple(map(str, Basis)), missing="none were looked for"),
        _text("tempo", "seconds up, at the top, down, at the bottom", missing="the person's own"),
        _text("injured_side", "the side whose share is told", required=True, among=_SIDES),
        Column("target_percent", "the injured side's share that was asked for", missing=_NO_TARGET),
        Column("tolerance_percent", "how far on either side of it the band reaches, percentage points"),
        Column(
            "target_load_N", "supported work: the load that was asked for on the injured side", missing="no such work"
        ),
        Column(
            "held_load_N",
            "supported work: mean load on the injured side in all holds",
            missing="no such work, or no hold",
        ),
        worth_of("held_load", "that mean", "N"),
        Column("ceiling_kg", "limit of load on the injured side, in kilograms", missing=_NO_CEILING),
        Column("ceiling_percent", "the same limit, in body weight", missing=_NO_CEILING),
        _count("over_ceiling", "how often the load was over it, or could not be read", missing=_NO_CEILING),
        _flag("steered", "the share was steered to a target other than 50, or by work on one leg: it is no symmetry"),
        Column("added_weight_N", "what was carried beside the body"),
        Column("filter_Hz", "cut-off of the live low-pass, second-order Butterworth", missing="no filter"),
        Column("duration_s", "from the first sample to the last"),
        _count("samples", "how many there are"),
        Column("rate_Hz", "samples a second"),
        Column("body_weight_N", "median of the first three still seconds, or as given"),
        worth_of("body_weight", "the body weight", "N", f"it was given, or {NO_WORTH}"),
        Column("on_plates_percent", "mean load on both plates in body weight"),
        Column("share_mean_percent", "mean share over all standing"),
        Column("share_sd_percent", "its standard deviation from moment to moment, percentage points"),
        Column("share_min_percent", "its least value; half a second at each end of standing left out"),
        Column("share_max_percent", "its greatest value, likewise"),
        worth_of("share_mean", "the mean share"),
        _text(
            "uncertainty_assumed",
            "what of it was not measured on this scale, but is the standard build's",
            missing="nothing is, or no uncertainty is known",
        ),
        _text("uncertainty_missing", "why no uncertainty of a share is told, in words", missing="it is told"),
        Column("stand_from_s", "where the warm-up stand began", missing=_NO_STAND),
        Column("stand_to_s", "where it ended", missing=_NO_STAND),
        Column("stand_share_percent", "the injured side's share of the impulse in it, unsteered", missing=_NO_STAND),
        Column("limb_symmetry_index_percent", "100 x injured / other, of mean force", missing=_NO_INDEX),
        Column("symmetry_index_percent", "100 x (other - injured) / their mean", missing=_NO_INDEX),
        Column("symmetry_angle_percent", "the angle's part of 90 degrees", missing=_NO_INDEX),
        *(
            worth_of(name, words, "percent", f"{_NO_INDEX}, or {NO_WORTH}")
            for name, words in (
                ("limb_symmetry_index", "the limb symmetry index"),
                ("symmetry_index", "the symmetry index"),
                ("symmetry_angle", "the symmetry angle"),
            )
        ),
        Column("time_in_band_s", "all time in the band", missing=_NO_TARGET),
        Column("longest_hold_s", "held seconds of the longest hold", missing=_NO_TARGET),
        Column("total_held_s", "held seconds of all listed holds", missing=_NO_TARGET),
        _count("repetitions", "how many counted"),
        _count("rejected", "how many lifts did not count"),
        _count("sets", "how many sets were begun"),
        _flag("corrected", "the clinician struck or changed repetitions since: it is in these figures"),
        _text("devices", "ids of the scales, with the days of their calibrations"),
        _text("warnings", "what is missing or in doubt, in words", missing="nothing is"),
        _text("program", "the program that recorded it", missing="not told"),
        _text("samples_file", "where its samples are, beside this table", missing="they are not there"),
    ),
    "session",
)
_SHARES = {"rise": "the way up", "top": "the top", "lowering": "the way down"}
REPETITIONS = Table(
    "repetitions",
    "one row a repetition that counts",
    (
        SESSION,
        FOUND,
        _count("set", "number of the set that it belongs to", missing="it belongs to none"),
        _text("basis", "what it rests on", among=tuple(map(str, Basis))),
        Column("start_s", "where the rise begins (in a squat the lowering)"),
        Column("top_s", "where the top begins (in a squat where the rise ends)"),
        Column("lowering_s", "where the lowering begins"),
        Column("end_s", "where it ends"),
        *(Column(f"{phase}_duration_s", f"how long {words} took") for phase, words in _SHARES.items()),
        *(
            Column(f"share_{phase}_percent", f"the injured side's share of the impulse on {words}")
            for phase, words in _SHARES.items()
        ),
        *(worth_of(f"share_{phase}", f"the share on {words}") for phase, words in _SHARES.items()),
        *(
            Column(f"share_lowering_{third}_third_percent", f"the same in the {third} third of the way down")
            for third in THIRDS
        ),
        Column("lowering_in_band_percent", "part of the lowering's time in the band", missing=_NO_TARGET),
        Column("lowering_least_N", "least load on the injured side in the lowering"),
        Column("height_injured_mm", "how high the injured side's heel went", missing="not measured"),
        Column("height_uninjured_mm", "how high the other heel went", missing="not measured"),
        worth_of("height_injured", "that of the injured side", "mm"),
        worth_of("height_uninjured", "that of the other", "mm"),
        Column("load_travel_injured_J", "mean force in the rise x heel height, injured side: no joint work"),
        Column("load_travel_uninjured_J", "the same of the other side"),
        worth_of("load_travel_injured", "that of the injured side", "J"),
        worth_of("load_travel_uninjured", "that of the other", "J"),
        Column("top_height_sd_mm", "unsteadiness at the top: standard deviation of the heel's height"),
        Column("top_share_sd_points", "unsteadiness at the top: standard deviation of the share"),
        _flag("supported", "part of the weight was on a rail or a crutch", missing="body weight was not known"),
        _flag("incomplete_return", "the heel went up again before it was down"),
    ),
)
PHASES = Table(
    "phases",
    "one row a phase of a repetition that counts",
    (
        SESSION,
        _count("repetition", "its number in the table of repetitions", required=True),
        _text("phase", "which phase", required=True, among=PHASES_NAMED),
        Column("start_s", "where it begins"),
        Column("end_s", "where it ends"),
        Column("duration_s", "how long it took"),
        Column("share_percent", "the injured side's share of the impulse in it"),
        worth_of("share", "that share"),
    ),
)
HOLDS = Table(
    "holds",
    "one row a hold",
    (
        SESSION,
        NUMBER,
        Column("start_s", "where the share entered the band"),
        Column("end_s", "where it left it for good"),
        Column("held_s", "time in the band within it"),
        _flag("supported", "part of the weight was on a rail or a crutch", missing="body weight was not known"),
        worth_of("share", "the share within it"),
    ),
)
SETS = Table(
    "sets",
    "one row a set",
    (
        SESSION,
        NUMBER,
        Column("start_s", "what begins from here on belongs to it"),
        Column("end_s", "what begins from here on does not", missing="it was under way at the end"),
        _text("working", "the leg that works; of both, the injured side's heel is followed", among=(*_SIDES, BOTH)),
        _flag("blind", "it was done without corridor, figures and sound"),
        _count("repetitions", "how many counted"),
        Column("share_lowering_percent", "mean of the injured side's share of the impulse on the way down"),
        worth_of("share_lowering", "that mean"),
        Column("lowering_in_band_percent", "mean part of the lowering's time in the band", missing=_NO_TARGET),
        Column("lowering_duration_s", "mean time of the way down"),
        spread_of("lowering_duration", "s", "that mean"),
        Column(
            "height_mm",
            "mean height of the working heel, of both legs' work the injured side's",
            missing="not measured",
        ),
        spread_of("height", "mm", "that mean", _AND_WORTH),
        Column("load_travel_injured_J", "sum of load x heel travel, injured side: no joint work"),
        spread_of("load_travel_injured", "J", "that sum", _AND_WORTH),
        Column("load_travel_uninjured_J", "the same of the other side"),
        spread_of("load_travel_uninjured", "J", "that sum", _AND_WORTH),
        Column("height_fall_percent", "how far that height fell from its first repetitions to its last"),
        spread_of("height_fall", "percent", "that fall"),
        Column("share_fall_points", "how far the share on the way down fell"),
        spread_of("share_fall", "points", "that fall"),
        Column("tempo_fall_percent", "how far the pace fell"),
    ),
)
EVENTS = Table(
    "events",
    "holds, sets, lifts that were not counted, gaps, and crossings of the ceiling",
    (
        SESSION,
        _text("kind", "what happened", required=True, among=KINDS),
        NUMBER,
        Column("start_s", "when it began"),
        Column("end_s", "when it ended", missing="it was under way at the end"),
        Column("held_s", "of a hold: time in the band", missing="it is no hold"),
        Column("peak_N", "of a crossing of the ceiling: the greatest load", missing="it is none, or was not read"),
        worth_of("peak", "a load at the ceiling", "N", f"it is no crossing, or {NO_WORTH}"),
        _text("reason", "why a lift was not counted", missing="it is no such lift"),
    ),
)
FIGURES = Table(
    "figures",
    "what each session came to, by name",
    (
        SESSION,
        _text("figure", "which figure", required=True),
        _text("unit", "its unit", missing="a bare number"),
        _text("side", "whose it is", among=_SIDES, missing="of both legs' work"),
        Column("value", "its value", required=True),
        Column("standard_uncertainty", "its standard uncertainty, in that unit", missing="it is not known"),
        _text(
            "uncertainty_from",
            "what that was found from: the instrument, the spread over the repetitions, or both",
            among=tuple(map(str, Source)),
            missing="there is none",
        ),
        Column(
            "degrees_of_freedom",
            "where a spread is in it: of it alone, one less than the repetitions",
            missing="no spread is in it",
        ),
    ),
)
DIARY = Table(
    "diary",
    "one row a thing that the patient said, in order",
    (
        SESSION,
        _text("about", "of what", required=True, among=tuple(map(str, About))),
        Column("at", "local time with its offset", Kind.DATETIME, required=True),
        _count("value", "pain or effort, 0 to 10", missing="it is a note"),
        _text("words", "a note; only there where notes were asked for", missing="it is no note"),
    ),
)
TABLES = (SESSIONS, REPETITIONS, PHASES, HOLDS, SETS, EVENTS, FIGURES, DIARY)
"""Those with rows of all sessions. Samples are a table a session."""
