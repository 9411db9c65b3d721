"""The club page: roles, leaving, bars, choosing the floor."""

import pytest

from athletes.models import AuditEntry, Bar, Membership
from athletes.models.choices import Role
from athletes.people.of_club import LastOwner, change_role, remove_member


def member(cast, name, club=None) -> Membership:
    return Membership.objects.get(user=cast.users[name], club=club or cast.quarry)


def test_the_owner_sees_addresses_and_forms_and_others_only_who_works_here(signed_in):
    assert "cato@example.test" in signed_in("ona").get("/club/").content.decode()
    page = signed_in("stan").get("/club/").content.decode()
    assert "Cato" in page
    assert "@example.test" not in page.replace("stan@example.test", "")
    assert "Ada" not in page


def test_an_owner_changes_a_role_and_it_is_in_the_trail(cast, signed_in):
    row = member(cast, "cato")
    signed_in("ona").post(f"/club/people/{row.pk}/role/", {"role": "staff"})
    assert member(cast, "cato").role == Role.STAFF
    cast.athletes["ada"].refresh_from_db()
    assert cast.athletes["ada"].coach is None
    entry = AuditEntry.objects.get(action="role changed")
    assert (entry.before, entry.after) == ({"role": "coach"}, {"role": "staff"})


def test_nobody_gives_themselves_a_role(cast, signed_in):
    row = member(cast, "stan")
    assert signed_in("stan").post(f"/club/people/{row.pk}/role/", {"role": "owner"}).status_code == 403
    assert member(cast, "stan").role == Role.STAFF


def test_an_unknown_role_and_an_athlete_without_a_log_are_refused_with_a_reason(cast, signed_in):
    row = member(cast, "stan")
    client = signed_in("ona")
    page = client.post(f"/club/people/{row.pk}/role/", {"role": "king"}, follow=True).content.decode()
    assert "Select a valid choice" in page
    page = client.post(f"/club/people/{row.pk}/role/", {"role": "athlete"}, follow=True).content.decode()
    assert "no log here" in page
    assert member(cast, "stan").role == Role.STAFF


def test_the_last_owner_can_neither_leave_nor_step_down(cast, signed_in):
    row = member(cast, "ona")
    client = signed_in("ona")
    for path, body in [
        (f"/club/people/{row.pk}/remove/", {}),
        (f"/club/people/{row.pk}/role/", {"role": "staff"}),
        (f"/club/{cast.quarry.pk}/leave/", {}),
    ]:
        assert "at least one owner" in client.post(path, body, follow=True).content.decode()
    assert member(cast, "ona").role == Role.OWNER


def test_with_a_second_owner_the_first_may_leave(cast):
    change_role(member(cast, "cato"), Role.OWNER, cast.ona)
    remove_member(member(cast, "ona"), cast.ona)
    with pytest.raises(LastOwner):
        remove_member(member(cast, "cato"), cast.cato)


def test_removing_ends_the_way_in_and_keeps_the_log(cast, signed_in):
    ada = signed_in("ada")
    assert ada.get(f"/athletes/{cast.athletes['ada'].pk}/pictures/").status_code == 200
    signed_in("ona").post(f"/club/people/{member(cast, 'ada').pk}/remove/")
    assert ada.get(f"/athletes/{cast.athletes['ada'].pk}/pictures/").status_code == 404
    cast.athletes["ada"].refresh_from_db()
    assert cast.athletes["ada"].user is None


def test_a_person_leaves_by_themselves(cast, signed_in):
    signed_in("stan").post(f"/club/{cast.quarry.pk}/leave/")
    assert not Membership.objects.filter(user=cast.stan).exists()


def test_bars_are_added_corrected_and_taken_out(cast, signed_in):
    client = signed_in("cato")
    new = {"name": "Long bender", "kind": "flexible", "diameter_mm": "27", "knurl": "medium"}
    client.post("/club/bars/new/", new)
    bar = Bar.objects.get(club=cast.quarry)
    assert (bar.name, bar.kind, bar.diameter_mm, bar.knurl) == ("Long bender", "flexible", 27.0, "medium")
    client.post(f"/club/bars/{bar.pk}/", new | {"diameter_mm": "27.5"})
    bar.refresh_from_db()
    assert bar.diameter_mm == 27.5
    client.post(f"/club/bars/{bar.pk}/remove/")
    assert not Bar.objects.exists()
    assert list(AuditEntry.objects.order_by("pk").values_list("action", flat=True)) == ["added", "corrected", "deleted"]


def test_a_bar_form_says_what_is_wrong_and_keeps_what_was_typed(cast, signed_in):
    Bar.objects.create(club=cast.quarry, name="Old stiff", kind="stiff")
    client = signed_in("cato")
    page = client.post("/club/bars/new/", {"name": "old STIFF", "kind": "stiff", "diameter_mm": "2.9"}).content.decode()
    assert "already has this name" in page
    assert "greater than or equal to 20" in page
    assert 'value="old STIFF"' in page


def test_two_clubs_may_name_their_bars_alike(cast, signed_in):
    Bar.objects.create(club=cast.harbour, name="Old stiff", kind="stiff")
    signed_in("cato").post("/club/bars/new/", {"name": "Old stiff", "kind": "stiff"})
    assert Bar.objects.filter(name="Old stiff").count() == 2


def test_whoever_works_in_two_clubs_chooses_the_floor(cast, signed_in):
    Membership.objects.create(club=cast.harbour, user=cast.stan, role=Role.STAFF)
    client = signed_in("stan")
    client.post("/club/choose/", {"club": cast.harbour.pk})
    assert "Harbour Rack" in client.get("/club/").content.decode()
    assert client.post("/club/choose/", {"club": "999"}).status_code == 404


def test_the_club_page_costs_the_same_for_few_and_many_members(cast, signed_in, django_assert_max_num_queries):
    client = signed_in("ona")
    with django_assert_max_num_queries(20):
        client.get("/club/")


def test_the_owner_renames_the_club_and_names_its_time_zone(cast, signed_in):
    client = signed_in("ona")
    client.post("/club/", {"name": "Quarry Hall North", "timezone": "Europe/Oslo"})
    cast.quarry.refresh_from_db()
    assert (cast.quarry.name, cast.quarry.timezone) == ("Quarry Hall North", "Europe/Oslo")
    assert "Select a valid choice" in client.post("/club/", {"name": "X", "timezone": "Moon/Sea"}).content.decode()


def test_the_time_zone_that_holds_is_chosen_and_hostile_text_is_shown_as_text():
    from athletes.people.club_forms import ZoneSelect

    shown = ZoneSelect().render("timezone", "Europe/Berlin")
    assert '<option value="Europe/Berlin" selected>' in shown and shown.count("selected") == 1
    assert shown.count("<option") > 400
    assert "<b>" not in ZoneSelect().render("timezone", '"><b>')


def test_the_code_to_scan_is_that_of_the_link(signed_in):
    from athletes.accounts.second_factor import qr_svg

    page = signed_in("ona").post("/club/invitations/new/", {"email": "new@example.test", "role": "staff"})
    link = page.context["link"]
    assert "/join/" in link and qr_svg(link) in page.content.decode()
    assert qr_svg(link) != qr_svg(link + "x")
