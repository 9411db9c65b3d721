"""What the invented lifters said and tried at their first meeting, and the private notes of some."""

from datetime import date, timedelta

from athletes.demo.lifters import Lifter
from athletes.models import Athlete, FirstMeeting, GuardianConsent, HealthNote, Posture, StyleRecord, User

COMFORT = {"conventional": (78, 36), "sumo": (86, 42), "wide-sumo": (100, 48)}


def first_meeting_of(lifter: Lifter, athlete: Athlete, coach: User, today: date) -> FirstMeeting:
    stance, turnout = (62, 30) if lifter.story == "dropped" else COMFORT[lifter.style]
    squat = round(lifter.start_kg * 0.84 / 2.5) * 2.5
    return FirstMeeting(
        athlete=athlete,
        years_training=round(lifter.weeks / 52 + {"beginner": 0, "under-18": 0.5}.get(lifter.standing, 3), 1),
        squat_typed=f"{squat:g}" if squat else "",
        squat_unit="kg" if squat else "",
        squat_kg=squat or None,
        squat_depth_seen=lifter.standing == "trained",
        rules="the federation we lift in",
        bar_allowed="flexible" if lifter.story == "flexible" else "stiff",
        next_meet_on=today + timedelta(days=40) if lifter.story in {"back", "steady"} else None,
        next_meet_important=lifter.story == "back",
        next_meet_name="Autumn rooms meet" if lifter.story in {"back", "steady"} else "",
        grip="hook" if lifter.grip == "hook" else "mixed",
        stance_typed=str(stance),
        stance_unit="cm",
        stance_cm=float(stance),
        turnout_deg=float(turnout),
        hip_pinch=lifter.story in {"dropped", "pinch"},
        hip_pinch_note="front of the right hip in the deepest position" if lifter.story in {"dropped", "pinch"} else "",
        shoe_width_cm=10.5,
        goal="pull with a quiet back" if lifter.story in {"back", "returning"} else "",
        updated_by=coach,
    )


def style_records_of(lifter: Lifter, athlete: Athlete, today: date) -> list[StyleRecord]:
    if not lifter.weeks or lifter.standing in ("beginner", "under-18"):
        return []
    start = today - timedelta(weeks=lifter.weeks)
    best = round(lifter.start_kg / 2.5) * 2.5
    return [
        StyleRecord(
            athlete=athlete,
            style=lifter.style,
            years=3,
            best_typed=f"{best:g}",
            best_unit="kg",
            best_kg=best,
            best_on=start - timedelta(days=30),
            last_on=start - timedelta(days=4),
        )
    ]


# heel to heel as a share of stature, and toes, as the coach taped them
TAPED = {"conventional": (0.155, 12), "sumo": (0.355, 44), "wide-sumo": (0.45, 50)}


def postures_of(lifter: Lifter, athlete: Athlete, coach: User, today: date) -> list[Posture]:
    """How those who have lifted for a while stand in their style; one of them in sumo too, as tried in a trial."""
    if lifter.weeks < 12 or lifter.story not in {"back", "hips", "steady", "adopted"}:
        return []
    styles = [lifter.style] + (["sumo"] if lifter.story == "back" and lifter.style == "conventional" else [])
    found = []
    for style in styles:
        share, toes = TAPED[style]
        heels = round(share * lifter.stature)
        found.append(
            Posture(
                athlete=athlete,
                style=style,
                day=today - timedelta(days=24),
                source="tape",
                heels_typed=str(heels),
                heels_unit="cm",
                heels_cm=float(heels),
                turnout_deg=float(toes),
                bar_over="middle",
                arms="ahead" if lifter.story == "back" else "vertical",
                back="slight" if lifter.story == "back" and style == "conventional" else "flat",
                knees="early" if lifter.story == "back" else "together",
                author=coach,
            )
        )
    return found


def health_notes_of(lifter: Lifter, athlete: Athlete, coach: User, today: date) -> list[HealthNote]:
    def note(kind: str, site: str, ago: int, severity: int | None, text: str, ended: int | None = None) -> HealthNote:
        return HealthNote(
            athlete=athlete,
            kind=kind,
            site=site,
            severity=severity,
            noted_on=today - timedelta(days=ago),
            ended_on=None if ended is None else today - timedelta(days=ended),
            text=text,
            author=coach,
        )

    if lifter.story == "returning" and lifter.sex == "m":
        weeks_ago = (lifter.weeks - 20) * 7
        return [
            note("injury", "lower-back", weeks_ago, 6, "sharp while unracking a squat, saw a physiotherapist", 180),
            note("clearance", "lower-back", weeks_ago - 65, None, "cleared to pull again, licensed physiotherapist"),
        ]
    if lifter.story == "trial-pain":
        return [note("pain", "hip", 6, 4, "outside of the left hip after the wide triple")]
    if lifter.story == "sore-hip":
        return [note("pain", "lower-back", 5, 5, "tight on the left since Sunday")]
    if lifter.story == "dropped":
        return [note("pain", "groin", 80, 4, "inside of the right thigh after wide pulls", 60)]
    if lifter.name == "Fergus Nyeland":
        return [note("pain", "lower-back", 12, 3, "tired rather than sore, gone in two days", 9)]
    return []


def consent_of(lifter: Lifter, athlete: Athlete, coach: User, today: date) -> list[GuardianConsent]:
    if lifter.standing != "under-18":
        return []
    given = today - timedelta(days=230)
    return [GuardianConsent(athlete=athlete, guardian="a parent", given_on=given, recorded_by=coach)]
