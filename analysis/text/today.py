"""Words of Today for the athlete: why this style, what the coach asks, what the picture shows.

A text of "asks" goes on from the coach's name: "Tobin asks for ...". `{day}` is the decision's day.
"""

from __future__ import annotations

TEXTS: dict[str, str] = {
    "today.why-link": "in {main} your {link} is likely the limit",
    "today.asks.trial-on-course": "for one single at RPE 8 in each style by {decision}. Then you two decide.",
    "today.asks.trial-days-short": "for the next {new} day: {days} of {planned} are done.",
    "today.asks.trial-hips-not-closer": "for two more stills from the side, slightly behind.",
    "today.asks.trial-film-against": "for one more still of your {new} start, from the side.",
    "today.asks.due": "to decide about the styles with you.",
    "today.asks.measure": "for four lengths with a tape, five minutes.",
    "today.asks.offered-trial": "what you think of trying {other} for {weeks}.",
    "today.asks.start-flatter": "for a film of a heavy triple, from the side.",
    "today.asks.train-link": "for {weeks} of work for the {link}; then you look again.",
    "today.asks.under-18": "for both styles, light, with clean technique.",
    "today.asks.returning": "for easy singles, for a new baseline.",
    "today.asks.test": "for a test when you are fresh: {test}.",
    "today.asks.pain": "you to talk before you pull again.",
    "today.asks.stance-out": "you to try a narrower stance, light.",
    "today.course-below": "{gap} below {old}, week {week} of {weeks}.",
    "today.course-level": "Level with {old}, week {week} of {weeks}.",
    "today.course-above": "{gap} over {old}, week {week} of {weeks}.",
    "today.course-alone": "{new} in week {week} of {weeks}; nothing in {old} to compare with yet.",
    "today.best-up": "{main} is up {gap} in half a year.",
    "today.best-steady": "{main} is steady over half a year.",
    "today.best-down": "{main} is {gap} under half a year ago.",
}
PRIVATE_STARTS = ("today.asks.pain", "today.asks.stance-out")
