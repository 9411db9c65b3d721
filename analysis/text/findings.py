"""English templates of what the log, trials, meets and the squad row say: code -> words with places, and privacy.

A place in braces is a value of the message; loads, lengths and shares are written in the reader's units.
"""

from __future__ import annotations

from analysis.core.records.messages import HEALTH, Private
from athletes.schema.vocabulary import _

TEXTS: dict[str, str] = {
    "plain": "{text}",
    "finding.rows-linked": _("{finding}. (The latest {most} of {count} rows are linked.)"),
    "log.rpe-creep": _("{load} x {reps} went from RPE {before} to {now}."),
    "log.slower": _("{load} took {now}, before {before}."),
    "log.big-jump": _("{day}: {from} to {to}, a jump of {jump}, missed."),
    "log.sudden-fall": _("From about {then} to {now} within {days} ({change}): no weak link is read from these days."),
    "log.fall-after-pain": _(
        "{fall}. A pain event on {day} came first. Keep the effort low and let a licensed professional have a look."
    ),
    "log.start-height-order": _(
        "Unexpected order: {lower} from {lower_start} but {higher} from {higher_start} ({lower_sets} and "
        "{higher_sets} sets)."
    ),
    "back.load-up": _("The back held {more} more in these four weeks than in the four before."),
    "back.load-up-reps": _("The back held {reps} full-capacity reps more in these four weeks than in the four before."),
    "back.with-signs": _("{rise}. At the same time: {signs}."),
    "back.sore-days": _("Sore ({limit} or more) on {days} of the last 14 days."),
    "misses.position-not-strength": _(
        "{begin}, rounded from {load}: probably the start position, not strength at the top. More block pulls are "
        "unlikely to help (common practice, no source)."
    ),
    "misses.pain": _("stopped for pain, or pain on that day: not a question of strength"),
    "grip.limits": _(
        "{style}, {bar}: straps add {more} ({gain}; {range}, 8 in 10) over {grip}, from {first} and {second} sets. "
        "Grip probably limits here (over {limit})."
    ),
    "grip.does-not-limit": _(
        "{style}, {bar}: straps add {more} ({gain}; {range}, 8 in 10) over {grip}, from {first} and {second} sets. "
        "Grip probably does not limit here."
    ),
    "grip.open": _(
        "{style}, {bar}: straps add {more} ({gain}; {range}, 8 in 10) over {grip}, from {first} and {second} sets. "
        "Not clear yet whether grip limits."
    ),
    "grip.below-strength": _(
        "The hands opened {times} times from {lowest} on, straps held {held} x {reps}: grip lies at least {below} "
        "below strength."
    ),
    "bar.flexible": _(
        "{style}: {more} on the flexible bar (80 % range {range}), {second} sets against {first} on the stiff one."
    ),
    "bar.flexible-few-sets": _(
        "{style}: {more} on the flexible bar (80 % range {range}), {second} sets against {first} on the stiff one. "
        "Too few sets to judge."
    ),
    "style.trial-heading": _("The trial: heading for {ends} against {old} in {style}."),
    "style.running-best": _("Running best {best} from {days}: {kind}."),
    "trial.level": _("Heading for {range} against {old} in the old style."),
    "trial.level-but-sore": _("{level}. But soreness rose."),
    "trial.easier": _("{level}. Clearly better tolerated."),
    "trial.easier-but-weight": _(
        "{level}. Clearly better tolerated, but the goal was weight: extend, or decide by goal."
    ),
    "trial.tolerance": _("Soreness {before} before, {lately} of 10 lately: {word}."),
    "trial.tolerance-unknown": _("Soreness is not compared: {before} day notes before, {lately} lately."),
    "trial.pain-stop-rule": _(
        "Pain or heavy soreness in {sessions} sessions running: the agreed stop rule ends the trial. A licensed "
        "professional should look at it before this style is pulled again."
    ),
    "trial.pain-once": _(
        "Stopped or sore on {day}: counted as stopped for pain, not as a miss. Ease off, look at stance width and at "
        "any cue changed that day; if it comes back, ask a licensed professional."
    ),
    "meet.results-surprise": _("{load} {result} does not fit the log: the estimate follows the day."),
    "meet.no-safe-opener": _("No load in reach is safe: the opener of {load} has a chance of {chance}."),
    "meet.heavy-in-window": _("Last pull of {share} or more: {load}, {days} before the meet."),
    "meet.heavy-too-long-ago": _(
        "Last pull of {share} or more: {load}, {days} before the meet. More than {most}: sharpness may be lost."
    ),
    "meet.heavy-too-near": _(
        "Last pull of {share} or more: {load}, {days} before the meet. Little rest before the meet."
    ),
    "meet.flexible-light": _(
        "At loads under {light} a flexible bar gives about nothing: 0 to 1 % (common practice, no source)."
    ),
    "meet.flexible": _(
        "A flexible bar may give 1 to 3 % at {band} and 2 to 5 % above (common practice, no source), after 3 to 6 "
        "sessions on one. Nothing is added for it here: the estimate rests on what was pulled."
    ),
    "weak.made-slowest": _("{day}: {load} made, slowest {place}"),
    "weak.missed-at": _("{day}: {load} missed, {place}"),
    "weak.still-open": _("Still open: {reason}"),
    "weak.test-would-say": _("{test}: {high}; {low}"),
    "weak.pointing-to": _("pointing to {best}: {link} {chance}"),
    "weak.rounding-from": _("The back was seen rounded from {load} ({share} of the best)."),
    "weak.rarely-there": _(
        "{odd} of {misses} noted stops: the model rarely stops a bar there; its chances rest on the other sets."
    ),
    "weak.differs-because": _("{differ} because of {because}.{conflict}"),
    "weak.not-enough-for": _("Not enough yet to name a link: {why}."),
    "weak.pain-no-test": _("Pain is noted: no test is proposed; a licensed professional comes first."),
    "squad.pain": _("Pain noted on {day}: no test, and to a licensed professional."),
    "squad.sore": _("Soreness {soreness} on {day}."),
    "squad.sore-at": _("Soreness {soreness} ({site}) on {day}."),
    "squad.soreness-rising": _("Soreness rising over three notes ({first}, {second}, {third} of 10)."),
}

_HEALTH_CODES = (
    "log.fall-after-pain",
    "back.sore-days",
    "misses.pain",
    "trial.level-but-sore",
    "trial.easier",
    "trial.easier-but-weight",
    "trial.tolerance",
    "trial.tolerance-unknown",
    "trial.pain-stop-rule",
    "trial.pain-once",
    "weak.pain-no-test",
    "squad.pain",
    "squad.sore",
    "squad.sore-at",
    "squad.soreness-rising",
)
PRIVATE: dict[str, frozenset[Private]] = dict.fromkeys(_HEALTH_CODES, HEALTH)
