"""Six places of an athlete: where each page stands, who sees what, previous and next in the squad's order."""

import re

import pytest
from django.urls import reverse

from athletes.web.places import MOST_KEPT, PLACES, keep_order

NAMES = ["Today", "Decision", "Leverages", "Weak link", "Log", "Meet"]
STANDS = {
    "": "Today", "plan/": "Today", "decision/": "Decision", "styles/": "Decision", "trial/": "Decision",
    "leverages/": "Leverages", "pictures/": "Leverages", "build/": "Leverages", "weak-link/": "Weak link",
    "log/": "Log", "lifts/": "Log", "back-load/": "Log", "bar-and-grip/": "Log",
    "meets/": "Meet", "report/": None, "profile/": None, "first-meeting/": None,
}  # fmt: skip


def bar_of(page) -> str:
    return page.content.decode().split('<nav class="places"')[1].split("</nav>")[0]


def steps_of(page) -> dict[str, str]:
    """Previous and next of the bar: rel -> address."""
    found = re.findall(r'class="lifter-step" href="([^"]+)" rel="(\w+)"', page.content.decode())
    return {rel: address for address, rel in found}


@pytest.mark.parametrize("tail", STANDS)
def test_every_old_address_stands_in_its_place(signed_in, cast, tail):
    bar = bar_of(signed_in("cato").get(f"/athletes/{cast.athletes['ada'].pk}/{tail}"))
    assert re.findall(r">([^<]+)</a>", bar) == NAMES
    here = re.search(r'aria-current="\w+">([^<]+)</a>', bar)
    assert (here.group(1) if here else None) == STANDS[tail]


def test_every_place_opens_and_its_pages_are_real_addresses():
    assert [place.name for place in PLACES] == NAMES
    for place in PLACES:
        assert reverse(place.address, args=[1]) == reverse(place.pages[0].address, args=[1])
        assert len({reverse(page.address, args=[1]) for page in place.pages}) == len(place.pages)


def test_previous_and_next_go_by_name_until_the_squad_page_was_opened(signed_in, cast):
    client, ada = signed_in("cato"), cast.athletes["ada"]
    names = sorted(ada.club.athletes.filter(active=True), key=lambda one: one.name_key)
    at = next(i for i, one in enumerate(names) if one.pk == ada.pk)
    steps = steps_of(client.get(f"/athletes/{ada.pk}/weak-link/"))
    wanted = {"next": f"/athletes/{names[at + 1].pk}/weak-link/"} | (
        {"prev": f"/athletes/{names[at - 1].pk}/weak-link/"} if at else {}
    )
    assert steps == wanted


def test_previous_and_next_walk_the_order_of_the_squad_page(signed_in, cast):
    client, ada, petra = signed_in("cato"), cast.athletes["ada"], cast.athletes["petra"]
    session = client.session
    session["squad_order"] = [petra.pk, ada.pk]
    session.save()
    assert steps_of(client.get(f"/athletes/{ada.pk}/")) == {"prev": f"/athletes/{petra.pk}/"}
    assert steps_of(client.get(f"/athletes/{petra.pk}/")) == {"next": f"/athletes/{ada.pk}/"}


def test_a_kept_order_never_shows_a_lifter_of_another_club(signed_in, cast):
    client, ada, hugo = signed_in("cato"), cast.athletes["ada"], cast.athletes["hugo"]
    session = client.session
    session["squad_order"] = [hugo.pk, ada.pk]
    session.save()
    page = client.get(f"/athletes/{ada.pk}/")
    assert steps_of(page) == {} and hugo.name not in page.content.decode()


def test_the_kept_order_is_bounded(rf):
    request = rf.get("/")
    request.session = {}
    keep_order(request, list(range(MOST_KEPT + 50)))
    assert request.session["squad_order"] == list(range(MOST_KEPT))


def test_an_athlete_sees_their_places_without_others_and_without_the_plan_form(signed_in, cast):
    page = signed_in("ada").get(f"/athletes/{cast.athletes['ada'].pk}/")
    assert steps_of(page) == {}
    assert "/plan/" not in page.content.decode().split("</nav>", 3)[2]


def test_the_profile_leads_to_what_the_reader_may_open(signed_in, cast):
    ada = cast.athletes["ada"]
    shown = {
        who: signed_in(who).get(f"/athletes/{ada.pk}/profile/").content.decode() for who in ("cato", "stan", "ada")
    }
    for address, who in (
        ("first-meeting/", "cato stan ada"), ("health/", "cato ada"), ("edit/", "cato"), ("settings/", "cato"),
        ("consent/", "cato ada"), ("hand-over/", "cato stan"), ("export/", "cato ada"),
    ):  # fmt: skip
        link = f'href="/athletes/{ada.pk}/{address}"'
        assert {name for name, page in shown.items() if link in page} == set(who.split()), address
    assert signed_in("olga").get(f"/athletes/{ada.pk}/profile/").status_code == 404
    assert signed_in("cato").post(f"/athletes/{ada.pk}/profile/").status_code == 405
