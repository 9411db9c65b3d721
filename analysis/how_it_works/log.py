"""Numbers of running bests, style trials, style odds, lower-back load, bar and grip."""

from __future__ import annotations

from analysis.core.estimates import comparable, grip_and_bar, history, one_rep_max
from analysis.core.estimates import recompute as settled
from analysis.core.settings.bests import BESTS, GRIP_AND_BAR, LOAD
from analysis.core.settings.squad import SQUAD
from analysis.core.settings.styles import NEXT, STYLES
from analysis.core.settings.trials import TRIALS
from analysis.core.settings.weak_link import HOUSE
from analysis.core.squad import signs, wall
from analysis.core.styles import belief
from analysis.core.styles import build as style_build
from analysis.core.training import bar_gain, movement, timed
from analysis.core.training import work_dashboards as work
from analysis.core.trials import model, rule
from analysis.core.weak_link import readings as weak_readings
from analysis.core.weak_link import test_day
from analysis.how_it_works.numbers import other_lift_rows
from analysis.how_it_works.rows import FINENESS, NO_SOURCE, Group, ShownNumber, living, parts, settings_group

GUESS = "calibration", "a guess of the right size"
NORMAL = "published", "normal distribution: 80 % lie within this many spreads"
ZOURDOS = "published", "Zourdos et al. 2016: RPE 9.5 and 10 leave nothing"
DRAWN_BODIES = "calibration", "1,000 drawn bodies of each sex at usual stances"
ANSUR = "published", "sitting height / stature, ANSUR II (Gordon et al. 2014)"


def best_groups() -> tuple[Group, ...]:
    """Settings and fixed numbers of running bests, and the formulas."""
    return (
        settings_group("Running bests", BESTS),
        Group("Fixed numbers", (
            living(one_rep_max, "Z80", "spreads on either side of an 80 % range", "", NORMAL),
            living(one_rep_max, "NOTHING_LEFT", "reps in reserve up to which a single is a real one", "", ZOURDOS),
            living(one_rep_max, "NEXT_LOAD", "a miss this little heavier the same day shows a real single", "", GUESS),
            living(settled, "DRIFTS", "drifts tried, times the usual one", "", GUESS),
            living(settled, "DRIFT_PRIOR_SD", "how far a lifter's drift lies from the usual one, log SD", "",
                   GUESS),
            living(settled, "RECENT", "the recent best looks back", "", NO_SOURCE),
            living(history, "BEFORE_A_FALL", "a fall is held against the best of the", "", NO_SOURCE),
            living(movement, "REACH", "the log's heading looks back", "", NO_SOURCE),
            living(movement, "TOO_NEW", "a level is held against one at least this old", "", NO_SOURCE),
            living(movement, "MOVED", "chance from which the heading says up or down", "", NO_SOURCE),
            living(movement, "IDLE_DAYS", "a style without a set that counts is out of the heading after", "days",
                   NO_SOURCE),
            living(movement, "STOPPED_DAYS", "without any pull the heading says so after", "days", NO_SOURCE),
            living(comparable, "HEIGHT_STEP_M", "starts nearer than this are one start", "m", GUESS),
        )),
    )  # fmt: skip


def trial_groups() -> tuple[Group, ...]:
    """Settings and fixed numbers of style trials and test days."""
    ladder = [(f"{share:.0%} of the best", f"{reps} reps") for share, reps in test_day.WARM_UPS]
    tops = [
        (f"top set of {reps} at about RPE 8", f"{share:.0%} of the best") for reps, share in test_day.TOP_SHARE.items()
    ]
    return (
        settings_group("Style trials", TRIALS),
        Group("Fixed numbers", (
            living(model, "OLD_LEVEL_SD", "doubt of the old level before any set, log SD", "", ("calibration",
                   "as good as unknown")),
            living(model, "NO_DIP_SD", "doubt of the dip where there is none, log SD", "", FINENESS),
            living(model, "TAU_POINTS", "paces of learning that are tried", "", FINENESS),
            *parts(model, "TREND_MIX", ("calibration", "so that ranges hold for lifters who change fast"), [
                (f"{share:.0%} of lifters: their slow change, times the setting", f"{times:g}")
                for times, share in model.TREND_MIX]),
            living(model, "SCALE_DF", "older tests that a lifter's own noise is worth, degrees", "", FINENESS),
            living(model, "SCALE_SPREAD", "how far lifters' noise differs, log SD", "", FINENESS),
            living(model, "SCALES", "sizes of a lifter's own noise that are tried", "", FINENESS),
            living(rule, "LEAST_TESTS", "older values before a lifter's own noise is told", "", NO_SOURCE),
            *parts(test_day, "WARM_UPS", NO_SOURCE, [(f"test day, warm-up at {a}", b) for a, b in ladder]),
            *parts(test_day, "TOP_SHARE", NO_SOURCE, [(f"test day, {a}", b) for a, b in tops]),
            living(test_day, "BETWEEN_STYLES", "test day, rest between the styles", "minutes", NO_SOURCE),
        )),
    )  # fmt: skip


def odds_groups() -> tuple[Group, ...]:
    """The answer about style, the house rule and what to do next."""
    return (
        settings_group("House rules", HOUSE),
        settings_group("Which style to try", STYLES),
        settings_group("What to do next", NEXT),
        Group("Words of chance and build", (
            living(belief, "VERY_LIKELY", "chance from which a style is called very likely", "", NO_SOURCE),
            living(belief, "LIKELY", "the same for likely", "", NO_SOURCE),
            living(belief, "LEANING", "the same for leaning", "", NO_SOURCE),
            *parts(style_build, "MEAN", DRAWN_BODIES, [
                (f"ln(sumo / conventional) at average strength, {'men' if sex == 'm' else 'women'}", f"{value:g}")
                for sex, value in style_build.MEAN.items()]),
            living(style_build, "SD", "its spread between bodies, log SD", "", DRAWN_BODIES),
            living(style_build, "FARTHEST", "spreads beyond which a body is told as this far", "", NO_SOURCE),
            living(style_build, "UNSEEN", "reliability of build at usual stances", "", NO_SOURCE),
            living(weak_readings, "COMPARED_SHARE", "load at which both styles are compared, share of the best", "",
                   NO_SOURCE),
            living(weak_readings, "ROUNDED_TO_KG", "the same rounded to", "kg", NO_SOURCE),
            living(style_build, "SEEN", "the same at the lifter's own posture", "", NO_SOURCE),
        )),
    )  # fmt: skip


def back_groups() -> tuple[Group, ...]:
    """Settings of lower-back load, and how other lifts are reckoned."""
    return (settings_group("Lower back and frequency", LOAD), Group("Lifts with a leaned trunk", other_lift_rows()))


def bar_groups() -> tuple[Group, ...]:
    """Settings of grip and bar, and what the trade says of a flexible bar."""
    bands = [
        (
            f"gain of a flexible bar {'above' if top == float('inf') else f'up to {top:g} kg'}",
            f"{low:.0%} to {high:.0%}",
        )
        for top, (low, high) in bar_gain.PRACTICE
    ]
    times = [(f"pull times compared at {low:.0%} to {high:.0%} of the best", "one band")
             for low, high in grip_and_bar.PULL_TIME_BANDS]  # fmt: skip
    return (settings_group("Grip and bar", GRIP_AND_BAR), Group("Fixed numbers", (
        *parts(bar_gain, "PRACTICE", NO_SOURCE, bands),
        living(bar_gain, "FLOOR_SHARE", "sticking below this share of the pull is at the floor", "", GUESS),
        living(bar_gain, "ABOUT_NOTHING", "a gain below this share is said to be about nothing", "", NO_SOURCE),
        living(bar_gain, "DRAWS", "strengths drawn", "", FINENESS),
        living(bar_gain, "HABIT_DRAWS", "bodies and habits drawn, in turn over the strengths", "", FINENESS),
        *parts(grip_and_bar, "PULL_TIME_BANDS", NO_SOURCE, times),
        living(work, "EDGES", "bands of intensity, shares of the best", "", NO_SOURCE),
        living(timed, "LEAST_DAYS", "days with a time before a load is shown", "days", NO_SOURCE),
    )))  # fmt: skip


def squad_groups() -> tuple[Group, ...]:
    """Settings of the squad's review."""
    return (settings_group("Squad review", SQUAD), Group("Fixed numbers of the wall", (
        living(wall, "SLIPS", "misses, all by the grip, from which the hands are the question", "", NO_SOURCE),
        living(wall, "TEST_AHEAD", "days before a decision in which its test day is asked for", "days", NO_SOURCE),
        living(signs, "WINDOW", "time in which a miss still speaks", "", NO_SOURCE),
        living(signs, "HALF_YEAR", "time a line on the wall spans", "", FINENESS),
        living(signs, "POINTS", "points of such a line", "", FINENESS),
        living(signs, "MOST_REPS", "repetitions up to which a missed set is drawn", "", FINENESS),
    )))  # fmt: skip


__all__ = ["ShownNumber", "back_groups", "bar_groups", "best_groups", "odds_groups", "squad_groups", "trial_groups"]
