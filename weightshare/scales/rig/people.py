"""The people of the rig, each with one line of words."""

from __future__ import annotations

from weightshare.exercise import Tempo
from weightshare.scales.rig.profile import Extra, Manner, Profile, Stroke

STANDING = (
    Profile("quiet", "stands quietly, near half and half", 688.0, follows=False),
    Profile(
        "favouring", "favours the good leg: 40 % on the injured side, whatever is asked", 745.0, 40.0, follows=False
    ),
    Profile("steady", "follows the target and holds it well", 712.0),
    Profile(
        "shaky",
        "follows the target with effort: shakes, tires, strays out of the band",
        634.0,
        sway_points=1.7,
        steered_sway_points=1.1,
        reaction_s=(0.32, 0.4),
        move_s=(0.9, 1.6),
        aim_points=1.3,
        tremor_points=(0.2, 0.8),
        stray_every_s=(2.5, 6.0),
        manner=Manner(70.0, stroke=Stroke.JERKY, spread_mm=3.0, wobble_mm=1.1, shaking_mm=0.12, tired_height=0.12),
        stature_m=1.64,
    ),
    Profile("rail", "follows the target with a hand on the rail, which carries a part", 803.0, rail_fraction=0.17),
    Profile("leaver", "follows the target, steps off in the middle of a hold, and comes back", 671.0, leaves=True),
    Profile(
        "steered",
        "goes where the arrow keys send the load",
        700.0,
        sway_points=0.9,
        steered_sway_points=0.5,
        follows=False,
        steered=True,
    ),
)

RAISING = (
    Profile("raiser", "raises the heels as asked, evenly and on the beat", 712.0),
    Profile(
        "smooth",
        "raises them in one least-jerk movement up and one down",
        676.0,
        manner=Manner(88.0, stroke=Stroke.LEAST_JERK),
    ),
    Profile(
        "swinging",
        "goes up and down like a pendulum, without a stop between",
        700.0,
        manner=Manner(80.0, stroke=Stroke.SWINGING, spread_mm=0.0, tempo_spread=0.0, tired_height=0.0, tired_tempo=0.0),
    ),
    Profile(
        "tall",
        "tall and heavy, with a high rise and the load well on the forefoot",
        978.0,
        manner=Manner(112.0, spread_mm=3.0, front_part=0.89),
        stature_m=1.93,
    ),
    Profile(
        "small",
        "small and light, with a low rise and the load far back on the ball",
        466.0,
        manner=Manner(56.0, spread_mm=1.5, front_part=0.81),
        stature_m=1.53,
    ),
    Profile(
        "weak",
        "a weak calf: the injured heel stays low, the load stays short of the target",
        654.0,
        manner=Manner(48.0, 1.6, 0.7, 3.0, short_points=7.0, rise_points=4.0, wobble_mm=0.9, shaking_mm=0.08),
        stature_m=1.62,
    ),
    Profile(
        "tiring",
        "tires within a set: lower, quicker down, and less on the injured side",
        731.0,
        manner=Manner(86.0, tired_height=0.35, tired_points=11.0, tired_tempo=0.4, spread_mm=3.0, endurance=14),
        stature_m=1.77,
    ),
    Profile(
        "trembling",
        "trembles while the heels are up",
        602.0,
        sway_points=1.6,
        steered_sway_points=1.0,
        tremor_points=(0.5, 1.1),
        manner=Manner(74.0, wobble_mm=1.6, shaking_mm=0.25),
        stature_m=1.58,
    ),
    Profile(
        "own-tempo",
        "keeps a tempo of 1.4-0.6-2.6-1.8 s, whatever is asked",
        690.0,
        manner=Manner(tempo=Tempo(1.4, 0.6, 2.6, 1.8), tempo_spread=0.1),
    ),
    Profile(
        "late",
        "shifts the load late, when the heels are already on their way down",
        748.0,
        manner=Manner(82.0, lag_s=(0.35, 0.6), shift_s=(0.6, 0.8)),
        stature_m=1.81,
    ),
    Profile(
        "jerky",
        "gets up and down by several small movements",
        655.0,
        manner=Manner(79.0, stroke=Stroke.JERKY),
        stature_m=1.66,
    ),
    Profile("pausing", "stops half-way up, then goes on to the top", 718.0, manner=Manner(82.0, stroke=Stroke.PAUSING)),
    Profile(
        "sinking", "sinks some millimetres as the load shifts", 744.0, manner=Manner(85.0, sink_mm=6.5), stature_m=1.79
    ),
    Profile("bouncing", "bounces when the heels get to the top", 667.0, manner=Manner(83.0, bounce_mm=6.0)),
    Profile(
        "false-lifts",
        "lifts the heels by 15 to 30 mm now and then, which is no repetition",
        702.0,
        manner=Manner(extra=Extra.FALSE_LIFT),
    ),
    Profile(
        "half-way",
        "gets half-way up now and then, waits, and comes back",
        725.0,
        manner=Manner(extra=Extra.HALF_WAY),
    ),
    Profile(
        "leaning",
        "leans forward between repetitions, with the heels down",
        690.0,
        manner=Manner(extra=Extra.LEAN, extra_every=2),
    ),
    Profile(
        "leaner",
        "leans forward as often as a rise is asked for, and never rises",
        690.0,
        manner=Manner(leans_only=True),
    ),
    Profile(
        "stumbling",
        "stumbles once in a while: a foot comes off its plate for a moment",
        681.0,
        manner=Manner(extra=Extra.STUMBLE, extra_every=4),
    ),
    Profile(
        "stepping-off",
        "steps off between repetitions, and comes back",
        713.0,
        manner=Manner(extra=Extra.STEP_OFF, extra_every=5),
    ),
    Profile("leaning-on", "puts a hand on the rail in the lowering", 770.0, manner=Manner(78.0, rail_part=0.13)),
    Profile(
        "sliding",
        "lets the share slide: 90 % in the upper half of the way down, 60 % in the lower",
        700.0,
        aim_points=0.3,
        manner=Manner(slide_percent=(90.0, 60.0)),
    ),
    Profile(
        "deep",
        "goes far down on a step, from 35 mm below the level of standing",
        694.0,
        manner=Manner(76.0, drop_mm=35.0),
        stature_m=1.75,
    ),
    Profile(
        "misplaced",
        "wears the heel sensors 40 mm too far forward: they read 78 % of the height",
        705.0,
        placement_mm=40.0,
    ),
)

PEOPLE: dict[str, Profile] = {profile.name: profile for profile in (*STANDING, *RAISING)}
