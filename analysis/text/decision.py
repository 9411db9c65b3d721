"""English templates of the decision's messages: code -> words with places, and the kinds of privacy of the code.

A place in braces is a value of the message; pages write loads, lengths and dates in the reader's units. Headings have
at most 12 words, grounds 22.
"""

from __future__ import annotations

from analysis.core.records.decision import State
from analysis.core.records.messages import HEALTH, Private

HEADINGS: dict[State, tuple[str, str, str]] = {  # heading, ground, action
    State.TRIAL_PAIN: ("Stop the trial, pain", "Pain was noted on a trial day.", "Talk to {name}"),
    State.PAIN: (
        "No testing for now",
        "Pain is noted. Heavy comparisons wait for a licensed professional.",
        "Talk to {name}",
    ),
    State.UNDER_18: (
        "Technique first, no style named",
        "Under 18: both styles are practised light; nothing is compared heavy.",
        "Plan both, light",
    ),
    State.BEGINNER: (
        "Learn the lift first",
        "Both styles, light, until technique is steady; about 30 pulling sessions, common practice.",
        "Plan both, light",
    ),
    State.RETURNING: ("New baseline first", "Old bests do not decide a style after a break.", "Plan easy singles"),
    State.NOT_MEASURED: ("Four lengths first", "Four lengths and ten heavy sets make this page.", "Measure"),
    State.TRIAL_HIPS_NOT_CLOSER: (
        "Hips no closer yet, this {new} tells nothing",
        "On the stills the hips stay as far from the bar as in {old}.",
        "Film two more",
    ),
    State.TRIAL_FILM_AGAINST: ("Film says not {new} yet", "The start on film is still that of {old}.", "Cue the start"),
    State.TRIAL_DAYS_SHORT: (
        "{new} days first: {days} of {planned}",
        "Too few days in the new style, or too few heavy ones, to say anything.",
        "Plan the next {new} day",
    ),
    State.TRIAL_ON_COURSE: (
        "Keep pulling {new} until {decision}",
        "{new} has to come out level or better (estimate, now {estimate}). Nobody has to lift it.",
        "Plan the {decision} test",
    ),
    State.DUE_ADOPT: (
        "{new} looks level or better. Main style?",
        "Expected gain is more than twice the expected loss.",
        "Record the decision",
    ),
    State.DUE_LEVEL: ("Level, choose by comfort", "Neither style is ahead in this log.", "Record the decision"),
    State.DUE_FOUR_MORE: (
        "Four more weeks",
        "Either choice could still cost more than half a per cent of the best.",
        "Plan four more weeks",
    ),
    State.DUE_BACK: ("Back to {old}", "{new} did not come out level in this trial.", "Record the decision"),
    State.DECIDED_NEW: ("{new} is the main style, {old} twice a month", "The two of you decided.", "Change"),
    State.DECIDED_OLD: ("{old} stays the main style", "The two of you decided.", "Change"),
    State.DECIDED_BOTH: ("Both styles stay in use", "The two of you decided.", "Change"),
    State.MEET_AHEAD: (
        "Not now: meet in {weeks}",
        "{main} stays. A trial can start on {start}, the second easy week after the meet.",
        "Set attempts",
    ),
    State.STANCE_OUT: (
        "This stance is out. Try one narrower",
        "Stop at the first pinch, start 5 cm narrower, ask about toes.",
        "Plan a narrower stance",
    ),
    State.OFFERED_TRIAL: ("Worth trying: {other}, {weeks}", "A trial decides, not this page.", "Start on {start}"),
    State.VIEWS_DIFFER: (
        "Undecided: coaches lean {coaches}, the log is level",
        "Own results of both styles are level, {level}.",
        "Plan the test that would tell most",
    ),
    State.START_FLATTER: (
        "Keep {main}, start flatter",
        "Most heavy sets were seen round. A flatter start comes before a switch of style.",
        "Film a heavy triple",
    ),
    State.TRAIN_LINK: (
        "Keep {main}, train the {link} {weeks}",
        "The likely limit in {main}: the {link}.",
        "Start on {start}",
    ),
    State.KEEP: ("Keep {main}", "Nothing speaks clearly for a change.", "Look again in {weeks}"),
}

STATE_TEXTS = {
    f"decision.{state}.{part}": words
    for state, texts in HEADINGS.items()
    for part, words in zip(("heading", "ground", "action"), texts, strict=True)
}

OTHER_TEXTS: dict[str, str] = {
    "decision.no-estimate": "{new} has to come out level or better. No lift in {old} to compare with yet.",
    "decision.trial-all-the-same": "Plan a trial all the same",
    "decision.worth-little": "Worth a trial: little.",
    "decision.worth-some": "Worth a trial: some.",
    "decision.worth-much": "Worth a trial: much.",
    "decision.old-kept": "{main} twice a month: top triple at RPE 7-8 on a day of the new style, order swapped.",
    "decision.old-not-kept": "Only test days compare, so the answer comes later.",
    "decision.old-not-in-trial": "The old style is not in this trial: only test days compare, the answer comes later.",
    "decision.sore-back": "Sumo may ask less of the back (about a tenth, on paper). "
    "Space heavy conventional 10-14 days; soreness that stays: licensed professional.",
    "lean.towards": "leans {style}, {chance}",
    "lean.open": "open, {chance} for {style}",
    "lean.own-results-very-likely": "own results: {style} very likely not lighter, {chance}",
    "lean.own-results-likely": "own results: {style} likely not lighter, {chance}",
    "lean.own-results-leaning": "own results lean {style}, {chance}",
    "caution.stop-rule": "Hip, groin, glute or back pain: stop.",
    "caution.trial-decides": "A trial decides, not this page.",
    "caution.you-two-decide": "{chance}; you two decide",
    "caution.competent-person": "Heavy pulls with a competent person present; local rules first.",
    "caution.licensed": "Pain ends the set; see a licensed professional.",
    "caution.few-cases": "Few cases: the {link} were seldom the limit in simulated lifters.",
    "caution.floor-miss": "Coaches read a floor miss as legs. The model says hips or back. Nobody has measured it.",
    "reason.legs-over-back": "Legs strong for this back",
    "reason.back-over-legs": "Back strong for these legs",
    "reason.build-sumo": "This build shortens the pull and brings the hips closer in sumo (weak hint)",
    "reason.build-conventional": "This build is upright and close to the bar in conventional (weak hint)",
    "reason.own-results": "Own results ({source}) are better in {style}",
    "reason.sore-back": "Back soreness {soreness} a week; sumo may ask less of the back (about a tenth, on paper)",
    "reason.two-heavy-days": "Wants two heavy days a week; sumo is pulled heavy every 5-7 days, common practice",
    "reason.flexible-bar": "Flexible bar at meets, common practice",
    "reason.grip": "Grip limits conventional; less time under load in sumo, common practice",
    "reason.house-rule": "House rule: sumo first, adults with under 2 years of steady conventional. One school's view, "
    "no study.",
    "reason.left": "{style} was tried for {sessions} sessions and left",
    "reason.years": "{years} in {style}, for staying",
    "differ.average": "Coaches go by build. Studies: no average difference (Cholewa 2019, Gundersen 2024).",
    "differ.pull-length": "Coaches: the shorter pull lifts more. Study: bests do not differ (Cholewa 2019).",
    "differ.back-work": "Coaches: sumo spares the back. Studies: moment 10 % less (Cholewicki 1991), erectors alike "
    "(Escamilla 2002).",
    "differ.long-arms": "Coaches: long arms, conventional. Study: arm span hardly matters (Cholewa 2019).",
    "differ.round-lockout": "Coaches: lockout misses need rack pulls; others: a round start is the cause. No study.",
    "differ.floor-miss": "Coaches read a floor miss as legs. The model says hips or back. Nobody has measured it.",
    "differ.recovery": "Coaches: sumo every 5-7 days, conventional 7-14. Study found none (Belcher 2019).",
    "differ.grip-time": "Coaches: sumo saves grip by a shorter pull. Nobody has measured it.",
    "differ.hip-bend": "Coaches: wide stance for mobile hips. Nobody has measured who gains.",
    "wide.pinch": "This stance pinches",
    "wide.pinch-ground": "A pinch rules a stance out",
    "wide.narrower": "Try {width}; ask about toes",
    "wide.unknown": "not known",
    "wide.unknown-ground": "No stance is taped",
    "wide.measure": "Measure stance and toes",
    "wide.now": "{width} now",
    "wide.untried": "other widths untried",
    "wide.walk-three": "Walk three widths, light",
    "wide.least": "{width} asks least: {demand} of own strength",
    "wide.keep": "Keep",
    "wide.try": "Try {width}",
    "flat.back-note": "A back note stands",
    "flat.back-note-ground": "Nothing about rounding is advised with a back note",
    "flat.licensed": "See a licensed professional",
    "flat.unknown": "not known: {seen} heavy sets seen",
    "flat.per-load": "Flat or round belongs to a load, not to a lifter",
    "flat.film": "Film a heavy triple",
    "flat.flat": "flat in {seen} heavy sets",
    "flat.keep": "Keep",
    "flat.bends-from": "flat, then bends from {load}",
    "flat.round": "round in {round} of {seen} heavy sets",
    "flat.ceiling": "flat to {flat}, round to {round}",
    "flat.start-flatter": "Start flatter before any switch",
    "grip.unknown": "not known whether the grip holds",
    "grip.unknown-ground": "No heavy set says how the grip ended",
    "grip.hold-top-set": "Hold the top set 3 s at lockout",
    "grip.holds": "{grip} grip holds",
    "grip.opens": "{grip} grip opens",
    "grip.train": "Train holds; a change of grip is a trial of its own",
    "bar.unknown": "gain of a flexible bar not known",
    "bar.gain": "a flexible bar adds {gain}",
    "bar.ask-rules": "If this meet's rules allow one: ask",
    "bar.try": "Try it for three sessions before a meet",
    "bar.stay": "Stay with the stiff bar",
    "link.unknown": "not known",
    "link.unknown-ground": "No miss and no slow lift noted",
    "link.note-slow": "Note where heavy sets are slowest",
    "link.likely": "{link} likely, {chance}",
    "link.count": "{misses} misses counted",
    "link.train": "Train the {link} 8 weeks",
    "link.first-suspect": "the {link} is the first suspect",
    "link.open": "still open",
    "link.test": "Plan the test that would tell most",
}

TEXTS: dict[str, str] = STATE_TEXTS | OTHER_TEXTS
PRIVATE_STARTS = (
    "decision.trial-pain.",
    "decision.pain.",
    "decision.stance-out.",
    "wide.pinch",
    "wide.narrower",
    "flat.back-note",
    "flat.licensed",
    "reason.sore-back",
    "decision.sore-back",
    "decision.old-not-kept",
    "caution.licensed",
)
PRIVATE: dict[str, frozenset[Private]] = {code: HEALTH for code in TEXTS if code.startswith(PRIVATE_STARTS)}
