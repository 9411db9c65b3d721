"""What a browser sends to the meet pages, and where."""

from datetime import timedelta

from tests.analysis.meets.meeting import TODAY


def told(**more):
    base = {
        "name": "Spring open", "day": str(TODAY + timedelta(days=30)), "bar_kind": "stiff",
        "order": "squat bench deadlift", "note": "", "attempts": "3", "step_kg": "2,5", "seconds_to_declare": "60",
        "seconds_to_start": "60", "opener_change_minutes": "3", "changes_squat": "1, 0, 0", "changes_bench": "1,0,0",
        "changes_deadlift": "1, 0, 2",
    }  # fmt: skip
    return {**base, **more}


def entry_url(entry, tail=""):
    return f"/meets/{entry.meet_id}/entries/{entry.pk}/{tail}"


def page_of(client, url):
    return client.get(url).content.decode()
