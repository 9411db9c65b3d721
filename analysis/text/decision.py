"""English templates of the decision's messages: code -> words with places, and the kinds of privacy of the code.

A place in braces is a value of the message; pages write loads, lengths and dates in the reader's units. Headings have
at most 12 words, grounds 22.
"""

from __future__ import annotations

from analysis.core.records.decision import State
from analysis.core.records.messages import HEALTH, Private
from athletes.schema.vocabulary import _

HEADINGS: dict[State, tuple[str, str, str]] = {  # heading, ground, action
    State.TRIAL_PAIN: (_("Stop the trial, pain"), _("Pain was noted on a trial day."), _("Talk to {name}")),
    State.PAIN: (
        _("No testing for now"),
        _("Pain is noted. Heavy comparisons wait for a licensed professional."),
        _("Talk to {name}"),
    ),
    State.UNDER_18: (
        _("Technique first, no style named"),
        _("Under 18: both styles are practised light; nothing is compared heavy."),
        _("Plan both, light"),
    ),
    State.BEGINNER: (
        _("Learn the lift first"),
        _("Both styles, light, until technique is steady; about 30 pulling sessions, common practice."),
        _("Plan both, light"),
    ),
    State.RETURNING: (
        _("New baseline first"),
        _("Old bests do not decide a style after a break."),
        _("Plan easy singles"),
    ),
    State.NOT_MEASURED: (_("Four lengths first"), _("Four lengths and ten heavy sets make this page."), _("Measure")),
    State.TRIAL_HIPS_NOT_CLOSER: (
        _("Hips no closer yet, this {new} tells nothing"),
        _("On the stills the hips stay as far from the bar as in {old}."),
        _("Film two more"),
    ),
    State.TRIAL_FILM_AGAINST: (
        _("Film says not {new} yet"),
        _("The start on film is still that of {old}."),
        _("Cue the start"),
    ),
    State.TRIAL_DAYS_SHORT: (
        _("{new} days first: {days} of {planned}"),
        _("Too few days in the new style, or too few heavy ones, to say anything."),
        _("Plan the next {new} day"),
    ),
    State.TRIAL_ON_COURSE: (
        _("Keep pulling {new} until {decision}"),
        _("{new} has to come out level or better (estimate, now {estimate}). Nobody has to lift it."),
        _("Plan the {test} test"),
    ),
    State.DUE_ADOPT: (
        _("{new} looks level or better. Main style?"),
        _("Expected gain is more than twice the expected loss."),
        _("Record the decision"),
    ),
    State.DUE_LEVEL: (
        _("Level, choose by comfort"),
        _("Neither style is ahead in this log."),
        _("Record the decision"),
    ),
    State.DUE_FOUR_MORE: (
        _("Four more weeks"),
        _("Either choice could still cost more than half a per cent of the best."),
        _("Plan four more weeks"),
    ),
    State.DUE_BACK: (_("Back to {old}"), _("{new} did not come out level in this trial."), _("Record the decision")),
    State.DECIDED_NEW: (_("{new} is the main style, {old} twice a month"), _("The two of you decided."), _("Change")),
    State.DECIDED_OLD: (_("{old} stays the main style"), _("The two of you decided."), _("Change")),
    State.DECIDED_BOTH: (_("Both styles stay in use"), _("The two of you decided."), _("Change")),
    State.MEET_AHEAD: (
        _("Not now: meet in {weeks}"),
        _("{main} stays. A trial can start on {start}, the second easy week after the meet."),
        _("Set attempts"),
    ),
    State.STANCE_OUT: (
        _("This stance is out. Try one narrower"),
        _("Stop at the first pinch, start 5 cm narrower, ask about toes."),
        _("Plan a narrower stance"),
    ),
    State.OFFERED_TRIAL: (
        _("Worth trying: {other}, {weeks}"),
        _("A trial decides, not this page."),
        _("Start on {start}"),
    ),
    State.VIEWS_DIFFER: (
        _("Undecided: coaches lean {coaches}, the log is level"),
        _("Own results of both styles are level, {level}."),
        _("Plan the test that would tell most"),
    ),
    State.START_FLATTER: (
        _("Keep {main}, start flatter"),
        _("Most heavy sets were seen round. A flatter start comes before a switch of style."),
        _("Film a heavy triple"),
    ),
    State.TRAIN_LINK: (
        _("Keep {main}, train the {link} {weeks}"),
        _("The likely limit in {main}: the {link}."),
        _("Start on {start}"),
    ),
    State.KEEP: (_("Keep {main}"), _("Nothing speaks clearly for a change."), _("Look again in {weeks}")),
}

STATE_TEXTS = {
    f"decision.{state}.{part}": words
    for state, texts in HEADINGS.items()
    for part, words in zip(("heading", "ground", "action"), texts, strict=True)
}

OTHER_TEXTS: dict[str, str] = {
    "decision.no-estimate": _("{new} has to come out level or better. No lift in {old} to compare with yet."),
    "decision.trial-all-the-same": _("Plan a trial all the same"),
    "decision.worth-little": _("Worth a trial: little."),
    "decision.worth-some": _("Worth a trial: some."),
    "decision.worth-much": _("Worth a trial: much."),
    "decision.old-kept": _("{main} twice a month: top triple at RPE 7-8 on a day of the new style, order swapped."),
    "decision.old-not-kept": _("Only test days compare, so the answer comes later."),
    "decision.old-not-in-trial": _(
        "The old style is not in this trial: only test days compare, the answer comes later."
    ),
    "decision.sore-back": _(
        "Sumo may ask less of the back (about a tenth, on paper). "
        "Space heavy conventional 10-14 days; soreness that stays: licensed professional."
    ),
    "context.trial": _("Trial week {week} of {weeks}: level or better in {new}, {better}"),
    "context.years": _("{main} {years}"),
    "context.no-trial": _("No trial yet"),
    "years.line": _("{style} {years}, for staying"),
    "years.unknown": _("not known: ask at the first meeting"),
    "change.trial": _("A trial: both styles pulled outweighs everything here"),
    "change.misses": _("{more:more heavy set} that stopped or slowed, with the place noted"),
    "change.measure": _("Four lengths; build says little on its own"),
    "change.meet": _("Pain, an important meet or a stance that pinches"),
    "picture.demands": _("How hard {load} is, % of {whose} limit"),
    "picture.limit": _("{whose} limit"),
    "picture.course": _("Trial course"),
    "picture.expect": _("What to expect"),
    "picture.work-back": _("Paused below the knee, × 3"),
    "picture.work-hips": _("Paused below the knee, × 3"),
    "picture.work-grip": _("Holds at lockout, 10 s"),
    "caption.pull-and-hips": _(
        "Pull {pull} {pull_way} ({pull_span}) in {other}, hips {hips} {hips_way} ({hips_span})."
    ),
    "caption.pull": _("Pull {pull} {pull_way} in {other} ({pull_span})."),
    "caption.hips": _("Hips {hips} {hips_way} in {other} ({hips_span})."),
    "caption.open": _("How {name} stands decides: measure stance and toes."),
    "caption.near-below": _("{near} nearest the limit, {below} well below."),
    "caption.other-near": _("{near} nearest the limit; in {other} also the {link}."),
    "caption.near": _("{near} nearest the limit."),
    "caption.work": _("Then film a heavy triple and look again."),
    "caption.expect": _("Expect less at first. Decide in {month}."),
    "caption.no-level": _("No lift in {old} to compare with yet. {days} of {planned:{new} day}."),
    "caption.below": _("{gap} below {old}, {usual} for week {week}. {days} of {planned:{new} day}."),
    "caption.above": _("{gap} above {old}. {days} of {planned:{new} day}."),
    "caption.level": _("Level with {old} now. {days} of {planned:{new} day}."),
    "note.test": _("One single at RPE 8 in each style"),
    "note.trial-days": _("{days:{other} day}"),
    "note.heavy-days": _("{least:day} at 85 % or more"),
    "note.train-back": _("Paused pulls, back raises: common practice"),
    "note.train-hips": _("Paused pulls, hip thrusts: common practice"),
    "note.train-legs": _("Front squats, leg press: common practice"),
    "note.train-grip": _("Holds at lockout: common practice"),
    "lean.towards": _("leans {style}, {chance}"),
    "lean.open": _("open, {chance} for {style}"),
    "lean.own-results-very-likely": _("own results: {style} very likely not lighter, {chance}"),
    "lean.own-results-likely": _("own results: {style} likely not lighter, {chance}"),
    "lean.own-results-leaning": _("own results lean {style}, {chance}"),
    "caution.stop-rule": _("Hip, groin, glute or back pain: stop."),
    "caution.trial-decides": _("A trial decides, not this page."),
    "caution.you-two-decide": _("{chance}; you two decide"),
    "caution.competent-person": _("Heavy pulls with a competent person present; local rules first."),
    "caution.licensed": _("Pain ends the set; see a licensed professional."),
    "caution.few-cases": _("Few cases: the {link} were seldom the limit in simulated lifters."),
    "caution.floor-miss": _("Coaches read a floor miss as legs. The model says hips or back. Nobody has measured it."),
    "reason.legs-over-back": _("Legs strong for this back"),
    "reason.back-over-legs": _("Back strong for these legs"),
    "reason.build-sumo": _("This build shortens the pull and brings the hips closer in sumo (weak hint)"),
    "reason.build-conventional": _("This build is upright and close to the bar in conventional (weak hint)"),
    "reason.own-results": _("Own results ({source}) are better in {style}"),
    "reason.sore-back": _("Back soreness {soreness} a week; sumo may ask less of the back (about a tenth, on paper)"),
    "reason.two-heavy-days": _("Wants two heavy days a week; sumo is pulled heavy every 5-7 days, common practice"),
    "reason.flexible-bar": _("Flexible bar at meets, common practice"),
    "reason.grip": _("Grip limits conventional; less time under load in sumo, common practice"),
    "reason.house-rule": _(
        "House rule: sumo first, adults with under 2 years of steady conventional. One school's view, no study."
    ),
    "reason.left": _("{style} was tried for {sessions:session} and left"),
    "reason.years": _("{years} in {style}, for staying"),
    "differ.average": _("Coaches go by build. Studies: no average difference (Cholewa 2019, Gundersen 2024)."),
    "differ.pull-length": _("Coaches: the shorter pull lifts more. Study: bests do not differ (Cholewa 2019)."),
    "differ.back-work": _(
        "Coaches: sumo spares the back. Studies: moment 10 % less (Cholewicki 1991), erectors alike (Escamilla 2002)."
    ),
    "differ.long-arms": _("Coaches: long arms, conventional. Study: arm span hardly matters (Cholewa 2019)."),
    "differ.round-lockout": _("Coaches: lockout misses need rack pulls; others: a round start is the cause. No study."),
    "differ.floor-miss": _("Coaches read a floor miss as legs. The model says hips or back. Nobody has measured it."),
    "differ.recovery": _("Coaches: sumo every 5-7 days, conventional 7-14. Study found none (Belcher 2019)."),
    "differ.grip-time": _("Coaches: sumo saves grip by a shorter pull. Nobody has measured it."),
    "differ.hip-bend": _("Coaches: wide stance for mobile hips. Nobody has measured who gains."),
    "wide.pinch": _("This stance pinches"),
    "wide.pinch-ground": _("A pinch rules a stance out"),
    "wide.narrower": _("Try {width}; ask about toes"),
    "wide.unknown": _("not known"),
    "wide.unknown-ground": _("No stance is taped"),
    "wide.measure": _("Measure stance and toes"),
    "wide.now": _("{width} now"),
    "wide.untried": _("other widths untried"),
    "wide.walk-three": _("Walk three widths, light"),
    "wide.least": _("{width} asks least: {demand} of own strength"),
    "wide.keep": _("Keep"),
    "wide.try": _("Try {width}"),
    "flat.back-note": _("A back note stands"),
    "flat.back-note-ground": _("Nothing about rounding is advised with a back note"),
    "flat.licensed": _("See a licensed professional"),
    "flat.unknown": _("not known: {seen:heavy set} seen"),
    "flat.per-load": _("Flat or round belongs to a load, not to a lifter"),
    "flat.film": _("Film a heavy triple"),
    "flat.flat": _("flat in {seen:heavy set}"),
    "flat.keep": _("Keep"),
    "flat.bends-from": _("flat, then bends from {load}"),
    "flat.round": _("round in {round} of {seen:heavy set}"),
    "flat.ceiling": _("flat to {flat}, round to {round}"),
    "flat.start-flatter": _("Start flatter before any switch"),
    "grip.unknown": _("not known whether the grip holds"),
    "grip.unknown-ground": _("No heavy set says how the grip ended"),
    "grip.hold-top-set": _("Hold the top set 3 s at lockout"),
    "grip.holds": _("{grip} grip holds"),
    "grip.opens": _("{grip} grip opens"),
    "grip.train": _("Train holds; a change of grip is a trial of its own"),
    "bar.unknown": _("gain of a flexible bar not known"),
    "bar.gain": _("a flexible bar adds {gain}"),
    "bar.ask-rules": _("If this meet's rules allow one: ask"),
    "bar.try": _("Try it for three sessions before a meet"),
    "bar.stay": _("Stay with the stiff bar"),
    "link.unknown": _("not known"),
    "link.unknown-ground": _("No miss and no slow lift noted"),
    "link.note-slow": _("Note where heavy sets are slowest"),
    "link.likely": _("{link} likely, {chance}"),
    "link.count": _("{misses:miss} counted"),
    "link.train": _("Train the {link} 8 weeks"),
    "link.first-suspect": _("the {link} is the first suspect"),
    "link.open": _("still open"),
    "link.test": _("Plan the test that would tell most"),
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
