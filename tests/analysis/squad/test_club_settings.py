"""The numbers of the trade: shown with their mark, changed by deciders, kept with a trail."""

import pytest

from analysis.core.settings import DEFAULTS, REGISTRY
from analysis.squad.number_forms import NumbersForm, field_name
from analysis.store.club_numbers import numbers_for
from athletes.models import AuditEntry, SettingOverride

URL = "/club/settings/"


def posted(**changes) -> dict[str, str]:
    data = {}
    for key, setting in REGISTRY.items():
        value = changes.get(key, DEFAULTS[key])
        if setting.unit != "switch":
            data[field_name(key)] = str(round(value)) if setting.choices else str(value)
        elif value >= 0.5:
            data[field_name(key)] = "on"
    return data


def test_works_and_every_number_shows_its_mark(signed_in, cast):
    page = signed_in("cato").get(URL).content.decode()
    for key in REGISTRY:
        assert f'name="{field_name(key)}"' in page
    assert page.count("Common practice, no source") >= sum(s.is_common_practice for s in REGISTRY.values())


def test_ownership_staff_read_nothing_and_strangers_find_nothing(signed_in, cast):
    assert signed_in("stan").get(URL).status_code == 403
    assert signed_in("stan").post(URL, posted()).status_code == 403
    assert signed_in("ada").get(URL).status_code == 404
    assert signed_in("olga").get(f"/athletes/{cast.athletes['ada'].pk}/settings/").status_code == 404


def test_write_right_a_change_is_in_force_with_a_trail(signed_in, cast):
    answer = signed_in("cato").post(URL, posted(**{"trial.weeks": 16}))
    assert answer.status_code == 302
    assert numbers_for(cast.athletes["ada"])["trial.weeks"] == 16
    assert SettingOverride.objects.count() == 1
    assert AuditEntry.objects.get().target == "trial.weeks"


def test_an_athletes_own_number_wins_over_the_clubs(signed_in, cast):
    ada, petra = cast.athletes["ada"], cast.athletes["petra"]
    signed_in("ona").post(URL, posted(**{"trial.weeks": 16}))
    signed_in("ona").post(f"/athletes/{ada.pk}/settings/", posted(**{"trial.weeks": 10}))
    assert numbers_for(ada)["trial.weeks"] == 10
    assert numbers_for(petra)["trial.weeks"] == 16


def test_an_athletes_own_number_is_told_among_the_changes(signed_in, cast):
    ada, browser = cast.athletes["ada"], signed_in("cato")
    browser.post(f"/athletes/{ada.pk}/settings/", posted(**{"trial.weeks": 16}))
    browser.post(f"/athletes/{ada.pk}/settings/", posted(**{"trial.weeks": 14}))
    AuditEntry.objects.create(club=ada.club, athlete=ada, action="changed a number", target="trial.weeks", after=9.0)
    page = browser.get(f"/athletes/{ada.pk}/changes/").content.decode()
    assert "trial.weeks" in page and "16.0" in page and "14.0" in page and "9.0" in page


@pytest.mark.parametrize("value", ["a dozen", "-4", "900", "nan", "inf"])
def test_a_wrong_number_is_named_and_kept(signed_in, cast, value):
    page = signed_in("cato").post(URL, {**posted(), field_name("trial.weeks"): value})
    assert page.status_code == 200 and f'value="{value}"' in page.content.decode()
    assert "nothing was stored" in page.content.decode()
    assert not SettingOverride.objects.exists()


def test_saving_unchanged_changes_nothing(signed_in, cast):
    form = NumbersForm(posted(), now=DEFAULTS)
    assert form.is_valid() and form.changed_numbers() == {}


def test_wrong_verb_is_refused(signed_in, cast):
    assert signed_in("cato").put(URL).status_code == 405
