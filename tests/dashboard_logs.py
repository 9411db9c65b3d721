"""Rows of a log for the tests of dashboards; every lifter and number is invented."""

from datetime import timedelta

from django.utils import timezone

from athletes.models import LiftSet

TODAY = timezone.localdate()


def row(athlete, days_ago, kg, reps=3, **more):
    """An unsaved set so many days ago: conventional, stiff bar, mixed grip, two in reserve."""
    base = {
        "load_unit": "kg", "style": "conventional", "bar_kind": "stiff", "grip": "mixed", "rir_low": 2, "rir_high": 2,
        "reps_tried": reps,
    }  # fmt: skip
    made = {"reps_made": reps, **base, **more}
    return LiftSet(athlete=athlete, day=TODAY - timedelta(days=days_ago), load_typed=f"{kg:g}", load_kg=kg, **made)


def full_log(athlete):
    """Half a year with both styles, bars, straps, blocks, misses, seconds, squats and hinges."""
    rows = []
    for week in range(26):
        ago, grown = 7 * (25 - week) + 1, 1 + week / 200
        rows += [
            row(athlete, ago, 150 * grown, pull_seconds=2.0 + week / 40),
            row(athlete, ago, 140, 1, pull_seconds=1.5, rir_low=3, rir_high=3),
            row(athlete, ago, 160 * grown, 1, rir_low=1, rir_high=1),
            row(athlete, ago, 156 * grown, style="sumo"),
            row(athlete, ago, 158 * grown, bar_kind="flexible"),
            row(athlete, ago, 168 * grown, straps=True),
            row(athlete, ago, 165 * grown, start="block", start_cm=18),
            row(athlete, ago, 130, 5, lift="squat", style="", depth_verified=True),
            row(athlete, ago, 100, 6, lift="romanian", style=""),
        ]
        if week % 5 == 0:
            rows.append(row(athlete, ago, 175, 1, reps_made=0, result="missed", miss_position="at-knee"))
    return LiftSet.objects.bulk_create(rows)
