"""One's own account: where home leads, name and units, password, signed-in browsers."""

from django.test import Client

from athletes.models import SignInSession
from tests.cast import PASSWORD


def open_browser(user, agent="Mozilla/5.0 (Windows NT 10.0) Chrome/140 Safari/537") -> Client:
    client = Client(headers={"user-agent": agent})
    client.post("/sign-in/", {"username": user.email, "password": PASSWORD})
    return client


def test_home_leads_everybody_to_their_place(cast, signed_in):
    assert signed_in(None).get("/").url == "/sign-in/"
    assert signed_in("stan").get("/").url == "/squad/"
    assert signed_in("ada").get("/").url == f"/athletes/{cast.athletes['ada'].pk}/"
    assert signed_in("nils").get("/").url == "/account/"
    assert "You belong to no club yet" in signed_in("nils").get("/account/").content.decode()


def test_units_are_each_persons_own(cast, signed_in):
    typed = {"first_name": "Ada", "last_name": "Fell", "weight_unit": "lb", "length_unit": "in"}
    assert signed_in("ada").post("/account/", typed).status_code == 302
    cast.ada.refresh_from_db()
    cast.cato.refresh_from_db()
    assert (cast.ada.weight_unit, cast.ada.length_unit) == ("lb", "in")
    assert (cast.cato.weight_unit, cast.cato.length_unit) == ("kg", "cm")


def test_a_wrong_unit_is_asked_about_and_nothing_typed_is_lost(signed_in):
    typed = {"first_name": "Adelheid", "last_name": "Fell", "weight_unit": "stone", "length_unit": "cm"}
    page = signed_in("ada").post("/account/", typed).content.decode()
    assert "Select a valid choice" in page
    assert 'value="Adelheid"' in page


def test_a_new_password_keeps_this_browser_and_ends_the_others(cast):
    here, there = open_browser(cast.ada), open_browser(cast.ada)
    new = {"old_password": PASSWORD, "new_password1": "other-plates-9", "new_password2": "other-plates-9"}
    assert here.post("/account/password/", new).status_code == 302
    assert here.get("/account/").status_code == 200
    assert there.get("/account/").status_code == 302
    assert SignInSession.objects.filter(user=cast.ada).count() == 1


def test_a_short_or_common_password_is_refused(signed_in):
    new = {"old_password": PASSWORD, "new_password1": "password1", "new_password2": "password1"}
    page = signed_in("ada").post("/account/password/", new).content.decode()
    assert "too short" in page
    assert "too common" in page


def test_one_browser_can_be_signed_out_from_another(cast):
    here, there = open_browser(cast.ada), open_browser(cast.ada, "Mozilla/5.0 (iPhone) Safari/604")
    phone = SignInSession.objects.get(agent="Safari on iPhone")
    assert "Safari on iPhone" in here.get("/account/").content.decode()
    here.post(f"/account/sessions/{phone.uid}/end/")
    assert there.get("/account/").status_code == 302
    assert here.get("/account/").status_code == 200


def test_nobody_can_end_another_persons_session(cast):
    mine, theirs = open_browser(cast.cato), open_browser(cast.ada)
    row = SignInSession.objects.get(user=cast.ada)
    assert mine.post(f"/account/sessions/{row.uid}/end/").status_code == 404
    assert theirs.get("/account/").status_code == 200


def test_sign_out_everywhere_ends_every_browser(cast):
    browsers = [open_browser(cast.ada) for _ in range(3)]
    browsers[0].post("/account/sessions/end/")
    assert [b.get("/account/").status_code for b in browsers] == [302, 302, 302]
    assert not SignInSession.objects.filter(user=cast.ada).exists()
