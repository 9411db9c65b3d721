"""The pages of an import: works, ownership, write right, wrong verb; nothing reaches the log unseen."""

from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from athletes.importing.moving.outcome import rows_to_take, sets_to_take, sums
from athletes.models import Athlete, ImportAnswer, ImportBatch, LiftSet, Revision
from tests.athletes.importing.import_steps import outcome, read_in

HEAD = "date,lifter,lift,weight,unit,sets,reps,rpe,result\n"
ROWS = (
    HEAD + "2026-03-04,Ada Fell,sumo,180,kg,2,3,8.5,ok\n2026-03-05,Petra "
    "Moss,DL,200,kg,1,1,9,F\n2026-03-05,Nobody,DL,90,kg,1,1,,\n"
)


def upload(client, text=ROWS, name="log.csv", **extra):
    data = text if isinstance(text, bytes) else text.encode()
    return client.post(reverse("import-new"), {"file": SimpleUploadedFile(name, data), **extra})


@pytest.fixture
def batch(signed_in, cast) -> ImportBatch:
    upload(signed_in("stan"))
    return ImportBatch.objects.get()


def test_an_upload_leads_to_its_preview_and_nothing_is_in_the_log(signed_in):
    answer = upload(signed_in("stan"))
    batch = ImportBatch.objects.get()
    assert answer.url == reverse("import", args=[batch.pk])
    page = signed_in("stan").get(answer.url).content.decode()
    assert "3 lines in the file" in page
    assert "Who is “Nobody”?" in page
    assert LiftSet.objects.count() == 0


def test_what_is_taken_in_is_what_the_preview_showed(signed_in, batch):
    plan = [one for row in rows_to_take(batch) for one in sets_to_take(row.parsed, row.choice)]
    signed_in("stan").post(reverse("import-take", args=[batch.pk]))
    batch.refresh_from_db()
    assert batch.status == "done"
    logged = LiftSet.objects.order_by("order").values_list(
        "athlete_id", "day", "load_kg", "reps_made", "reps_tried", "result"
    )
    shown = [(s["athlete"], s["day"], s["load_kg"], s["reps_made"], s["reps_tried"], s["result"]) for s in plan]
    assert [(a, d.isoformat(), *rest) for a, d, *rest in logged] == shown
    assert len(shown) == 3


def test_lines_in_are_taken_fixed_and_skipped(signed_in, batch):
    counts = sums(batch)
    assert counts["rows"] == counts["taken"] + counts["fixed"] + counts["skipped"] == 3
    signed_in("stan").post(
        reverse("import-line", args=[batch.pk, 4]),
        {f"cell-{i}": c for i, c in enumerate(["2026-03-05", "Ada Fell", "DL", "90", "kg", "1", "1", "", ""])},
    )
    counts = sums(batch)
    assert (counts["taken"], counts["fixed"], counts["skipped"]) == (2, 1, 0)


def test_a_fix_that_cannot_be_read_keeps_what_was_typed(signed_in, batch):
    cells = {f"cell-{i}": c for i, c in enumerate(["2026-02-30", "Ada Fell", "DL", "90", "kg", "1", "1", "", ""])}
    page = signed_in("stan").post(reverse("import-line", args=[batch.pk, 4]), cells).content.decode()
    assert "not a day in the calendar" in page
    assert 'value="2026-02-30"' in page


def test_a_fixed_date_reaches_the_lines_that_fill_down_from_it(signed_in, cast):
    text = HEAD + "2026-02-30,Ada Fell,DL,90,kg,1,1,,\n,,,100,kg,1,1,,\n\n2026-03-01,Ada Fell,DL,90,kg,1,1,,\n"
    batch = read_in(cast, text)
    assert [s for _, s, _ in outcome(batch)] == ["skip", "skip", "skip", "ok"]
    cells = {f"cell-{i}": c for i, c in enumerate(["2026-02-28", "Ada Fell", "DL", "90", "kg", "1", "1", "", ""])}
    signed_in("stan").post(reverse("import-line", args=[batch.pk, 2]), cells)
    assert [s for _, s, _ in outcome(batch)] == ["ok", "guess", "skip", "ok"]


def test_an_answer_is_kept_for_the_clubs_next_file(signed_in, cast, batch):
    ada = cast.athletes["ada"]
    signed_in("stan").post(reverse("import-answers", args=[batch.pk]), {"answer-name|nobody": str(ada.pk)})
    assert ImportAnswer.objects.get().answer == str(ada.pk)
    assert [s for _, s, _ in outcome(batch)] == ["ok", "ok", "ok"]
    again = read_in(cast, ROWS)
    assert [s for _, s, _ in outcome(again)] == ["ok", "ok", "ok"]


def test_an_answer_that_is_none_is_said_and_nothing_changes(signed_in, batch):
    answer = signed_in("stan").post(
        reverse("import-answers", args=[batch.pk]), {"answer-name|nobody": "999999"}, follow=True
    )
    assert "is not one of the answers" in answer.content.decode()
    assert not ImportAnswer.objects.exists()


def test_a_skipped_line_stays_out(signed_in, batch):
    signed_in("stan").post(reverse("import-choices", args=[batch.pk]), {"choice-2": "skip"})
    signed_in("stan").post(reverse("import-take", args=[batch.pk]))
    assert LiftSet.objects.count() == 1


def test_the_same_file_again_is_all_there_already_but_two_equal_sets_stay_two(signed_in, cast, batch):
    signed_in("stan").post(reverse("import-take", args=[batch.pk]))
    again = read_in(cast, ROWS)
    assert [s for _, s, _ in outcome(again)] == ["duplicate", "duplicate", "ask"]
    more = read_in(cast, ROWS + "2026-03-04,Ada Fell,sumo,180,kg,1,3,8.5,ok\n")
    assert [s for _, s, _ in outcome(more)] == ["duplicate", "duplicate", "ask", "ok"]
    signed_in("stan").post(reverse("import-choices", args=[again.pk]), {"choice-3": "take"})
    signed_in("stan").post(reverse("import-take", args=[again.pk]))
    assert LiftSet.objects.count() == 4


def test_what_somebody_logs_meanwhile_leads_back_to_the_preview(signed_in, cast, batch):
    LiftSet.objects.create(
        athlete=cast.athletes["petra"],
        day="2026-03-05",
        load_typed="200",
        load_unit="kg",
        load_kg=200,
        reps_made=0,
        result="missed",
    )
    answer = signed_in("stan").post(reverse("import-take", args=[batch.pk]), follow=True)
    assert "Look again" in answer.content.decode()
    assert LiftSet.objects.count() == 1
    assert [s for _, s, _ in outcome(batch)] == ["ok", "duplicate", "ask"]


def test_an_import_is_undone_as_a_whole_and_what_was_logged_by_hand_stays(signed_in, cast, batch):
    by_hand = LiftSet.objects.create(
        athlete=cast.athletes["ada"], day="2026-03-04", load_typed="100", load_unit="kg", load_kg=100
    )
    signed_in("stan").post(reverse("import-take", args=[batch.pk]))
    assert LiftSet.objects.count() == 4
    signed_in("stan").post(reverse("import-undo", args=[batch.pk]))
    assert list(LiftSet.objects.all()) == [by_hand]
    batch.refresh_from_db()
    assert batch.status == "undone"


def test_columns_and_make_can_be_changed(signed_in, cast):
    batch = read_in(cast, "2026-03-04,Ada Fell,DL,180,kg,3,5\n2026-03-05,Ada Fell,DL,190,kg,3,5\n")
    assert batch.options["mapping"][5:] == ["sets", "reps"]
    columns = {f"column-{i}": f for i, f in enumerate(["date", "lifter", "lift", "load", "unit", "reps", "sets"])}
    signed_in("stan").post(reverse("import-columns", args=[batch.pk]), columns)
    first = batch.rows.first()
    assert [s["reps_made"] for s in first.parsed["sets"]] == [3] * 5
    signed_in("stan").post(
        reverse("import-make", args=[batch.pk]),
        {"encoding": "cp1252", "separator": ";", "decimal": "", "date_order": ""},
    )
    batch.refresh_from_db()
    assert batch.options["format"]["separator"] == ";"
    assert sums(batch)["rows"] == 2


def test_an_import_that_stands_still_for_a_minute_is_enqueued_again_by_who_looks_at_it(signed_in, cast):
    batch = read_in(cast, ROWS)
    ImportBatch.objects.filter(pk=batch.pk).update(
        status="staging", options=batch.options | {"phase": "look", "again": True}, stepped=timezone.now()
    )
    page = signed_in("stan").get(reverse("import", args=[batch.pk])).content.decode()
    assert "Look again" in page
    address, json = reverse("import-step", args=[batch.pk]), {"accept": "application/json"}
    assert signed_in("stan").post(address, headers=json).json()["busy"]
    ImportBatch.objects.filter(pk=batch.pk).update(stepped=timezone.now() - timedelta(seconds=61))
    state = signed_in("stan").post(address, headers=json).json()
    assert (state["busy"], state["read"], state["total"]) == (False, 3, 3)


def test_an_import_without_sets_in_the_log_can_be_put_away(signed_in, batch):
    signed_in("stan").post(reverse("import-drop", args=[batch.pk]))
    assert not ImportBatch.objects.exists()


def test_a_refused_file_says_why_and_keeps_the_form(signed_in):
    answer = upload(signed_in("stan"), b"\x00\x01\x02\x03" * 50)
    assert answer.status_code == 422
    assert "line 1, column 1" in answer.content.decode()
    assert upload(signed_in("stan"), b"").status_code == 422


def test_a_file_that_is_too_long_ends_early_with_the_reason(signed_in, settings):
    settings.IMPORT_MAX_BYTES = 1000
    answer = upload(signed_in("stan"), HEAD * 100)
    assert answer.status_code == 422
    assert "larger than" in answer.content.decode()


ADDRESSES = [
    "import",
    "import-step",
    "import-answers",
    "import-make",
    "import-columns",
    "import-choices",
    "import-take",
    "import-undo",
    "import-drop",
]


@pytest.mark.parametrize("name", ADDRESSES)
def test_strangers_and_athletes_find_nothing(signed_in, batch, name):
    for who in ("olga", "ada", "hugo", "nils"):
        verb = "get" if name == "import" else "post"
        assert getattr(signed_in(who), verb)(reverse(name, args=[batch.pk])).status_code == 404
    assert signed_in("olga").get(reverse("import-line", args=[batch.pk, 2])).status_code == 404
    assert signed_in(None).get(reverse("import", args=[batch.pk])).status_code in (302, 404)


@pytest.mark.parametrize("name", ADDRESSES)
def test_wrong_verbs_are_refused(signed_in, batch, name):
    verb = "post" if name == "import" else "get"
    assert getattr(signed_in("stan"), verb)(reverse(name, args=[batch.pk])).status_code == 405


def test_the_list_is_for_people_who_work_in_a_club(signed_in):
    assert signed_in("stan").get(reverse("imports")).status_code == 200
    assert signed_in("ada").get(reverse("imports")).status_code == 404
    assert signed_in("stan").post(reverse("imports")).status_code == 405


def test_the_token_is_checked_on_uploads(cast):
    from django.test import Client

    client = Client(enforce_csrf_checks=True)
    client.force_login(cast.stan, backend="django.contrib.auth.backends.ModelBackend")
    assert upload(client).status_code == 403


def test_an_athlete_of_another_club_cannot_be_answered(signed_in, cast, batch):
    hugo = Athlete.objects.get(name="Hugo Vale")
    signed_in("stan").post(reverse("import-answers", args=[batch.pk]), {"answer-name|nobody": str(hugo.pk)})
    assert outcome(batch)[2][1] == "ask"


def test_an_import_moves_the_revision_of_its_athletes_and_leaves_the_triggers_laid(signed_in, cast, batch):
    ada = cast.athletes["ada"]
    before = Revision.objects.get(athlete=ada).number
    signed_in("stan").post(reverse("import-take", args=[batch.pk]))
    after = Revision.objects.get(athlete=ada).number
    assert after > before
    LiftSet.objects.create(athlete=ada, day="2026-03-09", load_typed="100", load_unit="kg", load_kg=100)
    assert Revision.objects.get(athlete=ada).number == after + 1
