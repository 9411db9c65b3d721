"""Another address to sign in with: both mailboxes are asked or told, nobody learns who has an account; a way back."""

import re
from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone
from django_otp.plugins.otp_totp.models import TOTPDevice

from athletes.accounts import email_change
from athletes.models import AuditEntry, EmailChange, Invitation, SignInSession
from athletes.privacy import erasure
from tests.cast import PASSWORD, person

PAGE = "/account/email/"
NEW = "ada.new@example.test"


def ask(client, email=NEW, password=PASSWORD):
    return client.post(PAGE, {"email": email, "password": password}, follow=True)


def link_in(mail) -> str:
    return re.search(r"http://testserver(\S+)", mail.body)[1]


def signs_in(email, password=PASSWORD) -> bool:
    return Client().post("/sign-in/", {"username": email, "password": password}).status_code == 302


@pytest.fixture
def asked(signed_in, mailoutbox):
    """Ada has asked; the links to her new and to her old mailbox."""
    ask(signed_in("ada"))
    by_box = {m.to[0]: link_in(m) for m in mailoutbox}
    return by_box[NEW], by_box["ada@example.test"]


def test_the_new_address_opens_the_account_once_its_link_is_confirmed(cast, asked, mailoutbox):
    take, _ = asked
    stranger = Client()  # a phone on which nobody is signed in
    assert "Sign in with ada.new@example.test?" in stranger.get(take).content.decode()
    assert signs_in("ada@example.test"), "opening the link alone changes nothing"
    assert stranger.post(take).url == "/sign-in/"
    assert signs_in(NEW)
    assert not signs_in("ada@example.test")
    assert [m.to for m in mailoutbox][-1] == ["ada@example.test"]
    assert "another address now" in mailoutbox[-1].subject


def test_the_account_page_leads_there_and_the_page_says_what_waits(signed_in, asked):
    client = signed_in("ada")
    assert PAGE in client.get("/account/").content.decode()
    page = client.get(PAGE).content.decode()
    assert "A change waits" in page
    assert NEW in page


@pytest.mark.parametrize("verb", ["get", "post"])
def test_each_link_opens_once(asked, verb):
    take, undo = asked
    Client().post(take)
    assert getattr(Client(), verb)(take).status_code == 404
    Client().post(undo)
    assert getattr(Client(), verb)(undo).status_code == 404


def test_a_link_runs_out_and_an_invented_or_bent_one_looks_the_same(cast, asked):
    take, undo = asked
    bent = Client().get(take[:-2] + "x/")
    swapped = Client().get(undo.replace("old-address", "new-address"))
    EmailChange.objects.update(asked=timezone.now() - timedelta(hours=25))
    late = Client().get(take)
    gone = [
        re.sub(r"csrf\S+ value=\S+", "", p.content.decode())
        for p in (bent, swapped, late, Client().get("/new-address/no/"))
    ]
    assert {p.status_code for p in (bent, swapped, late)} == {404}
    assert len(set(gone)) == 1
    assert "opens nothing" in gone[0]


def test_the_old_mailbox_can_take_it_back_for_seven_days(cast, asked):
    take, undo = asked
    Client().post(take)
    EmailChange.objects.update(used=timezone.now() - timedelta(days=7, minutes=1))
    assert Client().get(undo).status_code == 404
    EmailChange.objects.update(used=timezone.now() - timedelta(days=6))
    assert "Keep ada@example.test?" in Client().get(undo).content.decode()
    assert Client().post(undo).url == "/password-reset/"
    cast.ada.refresh_from_db()
    assert cast.ada.email == "ada@example.test"


def test_taking_it_back_signs_everybody_out_and_the_password_opens_nothing(cast, asked, mailoutbox):
    take, undo = asked
    thief = Client()
    thief.post("/sign-in/", {"username": "ada@example.test", "password": PASSWORD})
    thief.post(take)
    TOTPDevice.objects.create(user=cast.ada, name="thief's phone", confirmed=True)
    Client().post(undo)
    assert thief.get("/account/").status_code == 302
    assert not SignInSession.objects.filter(user=cast.ada).exists()
    assert not signs_in("ada@example.test")
    assert not TOTPDevice.objects.filter(user=cast.ada).exists()
    Client().post("/password-reset/", {"email": "ada@example.test"})
    assert mailoutbox[-1].to == ["ada@example.test"]
    assert "new password" in mailoutbox[-1].subject


def test_a_second_step_that_was_there_before_stays(cast, signed_in, mailoutbox):
    device = TOTPDevice.objects.create(user=cast.ada, name="phone", confirmed=True)
    TOTPDevice.objects.update(created_at=timezone.now() - timedelta(days=30))
    ask(signed_in("ada"))
    Client().post(link_in(next(m for m in mailoutbox if m.to == ["ada@example.test"])))
    assert TOTPDevice.objects.filter(pk=device.pk).exists()


def test_the_first_mailbox_wins_over_a_second_change_made_since(cast, signed_in, asked, mailoutbox):
    take, undo = asked
    Client().post(take)
    ask(signed_in("ada"), "third@example.test")
    second = {m.to[0]: link_in(m) for m in mailoutbox[-2:]}
    Client().post(second["third@example.test"])
    Client().post(undo)
    cast.ada.refresh_from_db()
    assert cast.ada.email == "ada@example.test"
    assert Client().get(second[NEW]).status_code == 404, "the mailbox in between cannot take it again"


def test_the_notice_stops_a_change_that_waits(cast, asked):
    take, undo = asked
    assert "is stopped" in Client().get(undo).content.decode()
    Client().post(undo)
    assert Client().post(take).status_code == 404
    assert not signs_in("ada@example.test"), "whoever asked knew the password"


def test_the_answer_is_the_same_for_a_free_and_a_taken_address(cast, signed_in, mailoutbox):
    answers = {}
    for email in ("free@example.test", cast.cato.email):
        page = ask(signed_in("ada"), email).content.decode()
        EmailChange.objects.all().delete()
        page = re.sub(r"\d\d:\d\d", "", re.sub(r'name="csrfmiddlewaretoken" value="\w+"', "", page))
        answers[email] = page.replace(email, "ADDRESS")
    assert len(set(answers.values())) == 1
    told = next(m for m in mailoutbox if m.to == [cast.cato.email])
    assert "has an account already" in told.body
    assert "http" not in told.body
    assert len(mailoutbox) == 4, "two mails each, so that the time is the same too"


def test_an_address_that_was_taken_meanwhile_is_refused_and_nothing_changes(cast, asked):
    person("late").__class__.objects.filter(username="late").update(email=NEW.upper())
    assert Client().post(asked[0]).status_code == 404
    cast.ada.refresh_from_db()
    assert cast.ada.email == "ada@example.test"


def test_an_address_is_kept_free_while_somebody_may_go_back_to_it(cast, signed_in, asked, mailoutbox):
    Client().post(asked[0])
    ask(signed_in("stan"), "ada@example.test")
    assert "has an account already" in next(m for m in reversed(mailoutbox) if m.to == ["ada@example.test"]).body


def test_only_the_latest_link_opens_and_it_can_be_called_off(cast, signed_in, asked, mailoutbox):
    client = signed_in("ada")
    ask(client, "other@example.test")
    assert Client().get(asked[0]).status_code == 404
    latest = link_in(next(m for m in mailoutbox if m.to == ["other@example.test"]))
    assert Client().get(latest).status_code == 200
    assert client.get("/account/email/keep/").status_code == 405
    assert "address stays" in client.post("/account/email/keep/", follow=True).content.decode()
    assert Client().get(latest).status_code == 404


def test_nobody_calls_off_or_sees_what_somebody_else_asked_for(signed_in, asked):
    other = signed_in("cato")
    assert "No change waits" in other.post("/account/email/keep/", follow=True).content.decode()
    assert NEW not in other.get(PAGE).content.decode()
    assert Client().get(asked[0]).status_code == 200


def test_a_wrong_password_or_the_same_address_is_asked_about_and_nothing_typed_is_lost(signed_in, mailoutbox):
    wrong = ask(signed_in("ada"), password="no").content.decode()
    assert "not your current password" in wrong
    assert f'value="{NEW}"' in wrong
    assert PASSWORD not in wrong
    assert "already" in ask(signed_in("ada"), "ADA@example.test").content.decode()
    assert mailoutbox == []


def test_demo_log_ins_keep_their_address(cast, signed_in, mailoutbox):
    cast.ada.is_demo = True
    cast.ada.save()
    assert "Demo log-ins keep their address" in signed_in("ada").get(PAGE).content.decode()
    ask(signed_in("ada"))
    assert (EmailChange.objects.count(), len(mailoutbox)) == (0, 0)


def test_nobody_can_be_flooded(cast, signed_in, mailoutbox):
    for name in ("ada", "stan", "cato"):
        for _ in range(3):
            ask(signed_in(name))
    assert len([m for m in mailoutbox if m.to == [NEW]]) == 5
    for _ in range(4):
        last = ask(signed_in("ada"))
    assert "Five links an hour at most" in last.content.decode()


def test_the_trail_says_what_changed_without_spelling_the_addresses_out(cast, asked, signed_in):
    take, undo = asked
    Client().post(take)
    Client().post(undo)
    words = [e.action for e in AuditEntry.objects.order_by("pk") if "e-mail" in e.action]
    assert words == ["asked for another e-mail", "changed the e-mail", "put the e-mail back"]
    page = signed_in("cato").get(f"/athletes/{cast.athletes['ada'].pk}/changes/").content.decode()
    assert "a…@example.test and a…@example.test" in page
    assert NEW not in page


def test_it_works_for_a_coach_without_a_log_of_their_own(cast, signed_in, mailoutbox):
    ask(signed_in("cato"), "c@example.test")
    Client().post(link_in(next(m for m in mailoutbox if m.to == ["c@example.test"])))
    assert signs_in("c@example.test")
    assert AuditEntry.objects.filter(action="changed the e-mail", club=cast.quarry, athlete=None).count() == 1


def test_who_joined_by_invitation_frees_the_old_address_for_others(cast, signed_in, mailoutbox):
    cast.ada.username = cast.ada.email
    cast.ada.save()
    ask(signed_in("ada"))
    Client().post(link_in(next(m for m in mailoutbox if m.to == [NEW])))
    cast.ada.refresh_from_db()
    assert cast.ada.username == NEW


def test_a_closed_account_takes_no_address(cast, asked):
    cast.ada.is_active = False
    cast.ada.save()
    assert [Client().get(one).status_code for one in asked] == [404, 404]


def test_links_begin_with_the_address_of_the_server_whatever_host_was_asked(cast, signed_in, settings, mailoutbox):
    settings.ALLOWED_HOSTS = ["*"]
    settings.SITE_ADDRESS = "https://stancebook.example"
    client = signed_in("ada")
    client.post(PAGE, {"email": NEW, "password": PASSWORD}, headers={"host": "evil.example"})
    Client().post("/password-reset/", {"email": cast.ada.email}, headers={"host": "evil.example"})
    assert len(mailoutbox) == 3
    assert all("https://stancebook.example/" in m.body and "evil" not in m.body for m in mailoutbox)


def test_erasing_forgets_every_address(cast, signed_in, asked, mailoutbox):
    Client().post(asked[0])
    Invitation.objects.create(
        club=cast.quarry, role="staff", email="ada@example.test", token_hash="0" * 64, expires=timezone.now()
    )
    ask(signed_in("stan"), NEW)
    cast.ada.refresh_from_db()
    erasure.erase_account(cast.ada)
    assert not EmailChange.objects.exists()
    assert not Invitation.objects.exists()
    assert not AuditEntry.objects.filter(action="changed the e-mail").exists()


def test_a_broken_signature_never_reaches_the_database(db, django_assert_num_queries):
    with django_assert_num_queries(0), pytest.raises(email_change.LinkExpired):
        email_change.change_behind("x" * 500, email_change.TAKE)


def test_a_new_password_ends_what_somebody_else_asked_for(cast, asked, mailoutbox):
    take, _ = asked
    Client().post("/password-reset/", {"email": cast.ada.email})
    fresh = Client()
    form = fresh.get(link_in(mailoutbox[-1]), follow=True)
    new = {"new_password1": "other-plates-and-chalk", "new_password2": "other-plates-and-chalk"}
    assert fresh.post(form.request["PATH_INFO"], new).status_code == 302
    assert Client().post(take).status_code == 404
    assert EmailChange.objects.get().called_off


def test_so_does_one_that_the_keeper_of_the_server_sets(cast, asked):
    cast.ada.set_password("set-by-the-keeper-9")
    cast.ada.save()
    assert Client().get(asked[0]).status_code == 404
    assert Client().get(asked[1]).status_code == 200, "the old mailbox can still stop it"
