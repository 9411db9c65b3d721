"""A body mass in a file of lifts is private: it is left aside, never kept with the lines and never shown."""

from django.core.files.uploadedfile import SimpleUploadedFile

from athletes.models import ImportBatch, ImportRow

FILE = """date,lifter,lift,weight,unit,sets,reps,bw
2026-03-13,Ada Fell,DL,140,kg,1,3,82.4
2026-03-20,Ada Fell,DL,142.5,kg,1,3,28.4
"""


def test_staff_who_bring_in_a_log_never_read_a_body_mass_in_it(signed_in, cast):
    staff = signed_in("stan")
    staff.post("/imports/new/", {"file": SimpleUploadedFile("log.csv", FILE.encode()), "zone": "UTC"})
    batch = ImportBatch.objects.get()
    for _ in range(20):
        staff.post(f"/imports/{batch.pk}/step/")
    batch.refresh_from_db()
    pages = [staff.get(f"/imports/{batch.pk}/").content.decode()]
    pages += [staff.get(f"/imports/{batch.pk}/lines/{row.number}/").content.decode() for row in batch.rows.all()]
    assert ImportRow.objects.filter(batch=batch).count() >= 2
    assert any("142.5" in page for page in pages)
    for kept in (*pages, str(batch.options), str(list(batch.rows.values_list("raw", "parsed", "reason")))):
        assert "82.4" not in kept and "28.4" not in kept
