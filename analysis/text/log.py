"""Words of the log, of back work, bar and grip, and of meets: headings from what the numbers say, grounds beside them.

The heading of two styles is one clause for the style that moved most and a short one for the other.
"""

from __future__ import annotations

from athletes.schema.vocabulary import _

FIRST = {
    "up": _("{style} up {change} since {month}"),
    "down": _("{style} down {change} since {month}"),
    "level": _("{style} level since {month}"),
    "new": _("{style} too new to compare, {days}"),
    "idle": _("{style}: nothing heavy for eight weeks"),
}
SECOND = {
    "up": _("{other} rising too"),
    "down": _("{other} falling"),
    "level": _("{other} level"),
    "new": _("{other} just begun"),
    "idle": _("nothing heavy in {other}"),
}
TEXTS: dict[str, str] = {
    "log.nothing": _("Nothing logged"),
    "log.nothing.ground": _("Type tonight's sets or bring in an old log."),
    "log.no-best": _("Pulls logged: {pulls}, none yet heavy enough for a best"),
    "log.no-best.ground": _("Sets of 1–8 reps at RPE 7 or more count, with style, bar and grip."),
    "log.stopped": _("No pull for {weeks}"),
    "log.stopped.ground": _("{style} stood at {now} then."),
    "log.ground": _("Now {now}."),
    "log.ground.two": _("Now {now}. {other} stands at {then}."),
    **{f"log.{key}": words for key, words in FIRST.items()},
    **{f"log.{one}.{two}": f"{FIRST[one]}, {SECOND[two]}" for one in FIRST for two in SECOND},
    "log.down.down": _("{style} down {change} since {month}, {other} too"),
    "log.level.level": _("{style} and {other} level since {month}"),
    "log.idle.idle": _("Nothing heavy in {style} or {other} for eight weeks"),
    "log.new.new": _("{style} and {other}: too new to compare"),
    "back.unknown": _("Back work not worked out"),
    "back.unknown.ground": _("A measurement does not fit the others; correct it under Measured."),
    "back.none": _("No back work in four weeks"),
    "back.none.ground": _("Pulls, squats, rows and good mornings add up here, with load, reps and style."),
    "back.up": _("Back work is rising"),
    "back.steady": _("Back work is steady"),
    "back.down": _("Back work is falling"),
    "back.ground": _("{now} hard reps in four weeks, {before} in the four before."),
    "bar.no-pull": _("No pull logged"),
    "bar.no-pull.ground": _("Heavy pulls with bar, grip and straps noted show what another bar or straps add."),
    "bar.unknown": _("What another bar adds is not known yet"),
    "bar.unknown.ground": _("A measured or pulled start is missing; the closed line says which."),
    "bar.nothing": _("A deadlift bar would add less than {limit}"),
    "bar.adds": _("A deadlift bar may add {gain} in {style}"),
    "bar.grip": _("Grip limits: straps add {gain} in {style}"),
    "bar.ground": _("On paper, at {load}; only where the rules allow such a bar."),
    "meet.none": _("No meet ahead"),
    "meet.none.ground": _("Enter the lifter at a meet; a plan of attempts with chances then stands here."),
    "meet.none.own.ground": _("Your coach enters you; a plan of attempts with chances then stands here."),
    "meet.open": _("{meet} in {days}: no attempts yet"),
    "meet.open.ground": _("The best on the day is probably {best}, by the log."),
    "meet.set": _("{meet} in {days}, attempts set"),
    "meet.set.ground": _("Opens at {opener}. The best on the day is probably {best}."),
    "meet.thin": _("{meet} in {days}: log too thin"),
    "meet.thin.ground": _("Log a pull from the floor as it will be lifted, with its effort."),
    "meet.today": _("{meet} is today"),
    "meet.today.ground": _("Opens at {opener}."),
    "meet.today.open.ground": _("No attempts are set yet."),
    "meet.club.none.ground": _("A meet kept here plans every lifter's attempts, and has a board for the day."),
    "meet.club": _("{meet} in {days}"),
    "meet.club.ground": _("{lifters} of ours entered, {day}."),
    "bar.grip.ground": _("By the log, same style and bar, with straps and without."),
}
