"""Words of the log, of back work, bar and grip, and of meets: headings from what the numbers say, grounds beside them.

The heading of two styles is one clause for the style that moved most and a short one for the other.
"""

from __future__ import annotations

FIRST = {
    "up": "{style} up {change} since {month}",
    "down": "{style} down {change} since {month}",
    "level": "{style} level since {month}",
    "new": "{style} too new to compare, {days}",
    "idle": "{style}: nothing heavy for eight weeks",
}
SECOND = {
    "up": "{other} rising too",
    "down": "{other} falling",
    "level": "{other} level",
    "new": "{other} just begun",
    "idle": "nothing heavy in {other}",
}
TEXTS: dict[str, str] = {
    "log.nothing": "Nothing logged",
    "log.nothing.ground": "Type tonight's sets or bring in an old log.",
    "log.no-best": "Pulls logged: {pulls}, none yet heavy enough for a best",
    "log.no-best.ground": "Sets of 1–8 reps at RPE 7 or more count, with style, bar and grip.",
    "log.stopped": "No pull for {weeks}",
    "log.stopped.ground": "{style} stood at {now} then.",
    "log.ground": "Now {now}.",
    "log.ground.two": "Now {now}. {other} stands at {then}.",
    **{f"log.{key}": words for key, words in FIRST.items()},
    **{f"log.{one}.{two}": f"{FIRST[one]}, {SECOND[two]}" for one in FIRST for two in SECOND},
    "log.down.down": "{style} down {change} since {month}, {other} too",
    "log.level.level": "{style} and {other} level since {month}",
    "log.idle.idle": "Nothing heavy in {style} or {other} for eight weeks",
    "log.new.new": "{style} and {other}: too new to compare",
    "back.unknown": "Back work not worked out",
    "back.unknown.ground": "A measurement does not fit the others; correct it under Measured.",
    "back.none": "No back work in four weeks",
    "back.none.ground": "Pulls, squats, rows and good mornings add up here, with load, reps and style.",
    "back.up": "Back work is rising",
    "back.steady": "Back work is steady",
    "back.down": "Back work is falling",
    "back.ground": "{now} hard reps in four weeks, {before} in the four before.",
    "bar.no-pull": "No pull logged",
    "bar.no-pull.ground": "Heavy pulls with bar, grip and straps noted show what another bar or straps add.",
    "bar.unknown": "What another bar adds is not known yet",
    "bar.unknown.ground": "A measured or pulled start is missing; the closed line says which.",
    "bar.nothing": "A deadlift bar would add less than {limit}",
    "bar.adds": "A deadlift bar may add {gain} in {style}",
    "bar.grip": "Grip limits: straps add {gain} in {style}",
    "bar.ground": "On paper, at {load}; only where the rules allow such a bar.",
    "meet.none": "No meet ahead",
    "meet.none.ground": "Enter the lifter at a meet; a plan of attempts with chances then stands here.",
    "meet.none.own.ground": "Your coach enters you; a plan of attempts with chances then stands here.",
    "meet.open": "{meet} in {days}: no attempts yet",
    "meet.open.ground": "The best on the day is probably {best}, by the log.",
    "meet.set": "{meet} in {days}, attempts set",
    "meet.set.ground": "Opens at {opener}. The best on the day is probably {best}.",
    "meet.thin": "{meet} in {days}: log too thin",
    "meet.thin.ground": "Log a pull from the floor as it will be lifted, with its effort.",
    "meet.today": "{meet} is today",
    "meet.today.ground": "Opens at {opener}.",
    "meet.today.open.ground": "No attempts are set yet.",
    "meet.club.none.ground": "A meet kept here plans every lifter's attempts, and has a board for the day.",
    "meet.club": "{meet} in {days}",
    "meet.club.ground": "{lifters} of ours entered, {day}.",
    "bar.grip.ground": "By the log, same style and bar, with straps and without.",
}
