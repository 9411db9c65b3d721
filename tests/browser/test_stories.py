"""Whole stories in a real browser, page to page by the links and buttons that people see."""

import re
from datetime import timedelta

from django.utils import timezone

from athletes.models import Athlete, Decision, LiftSet, Trial
from tests.browser.conftest import no_sideways_scroll

MESSY = """Datum;Lifter;Übung;Satz;Last;RPE
20.11.2026;Ada Fell;sumo;3x5;140,0 kg;8
21.11.2026;Ada Fel;conv;5x3;120 kg;7
;;;;;
"""


def pull(athlete, days_ago: int, load: float, **extra) -> LiftSet:
    day = timezone.localdate() - timedelta(days=days_ago)
    told = {"style": "conventional", "reps_made": 3, "reps_tried": 3, "effort_typed": "8", "rir_low": 2, "rir_high": 2}
    return LiftSet.objects.create(
        athlete=athlete, day=day, load_typed=f"{load:g}", load_unit="kg", load_kg=load, **(told | extra)
    )


def save(page, field: str) -> None:
    """Press the first button of the form that holds this field."""
    page.locator(f"form:has([name={field}]) button:not([type=button])").first.click()


def test_staff_measure_a_new_lifter_and_bring_in_a_messy_file(live_cast, page_for, tmp_path):
    page = page_for(live_cast.stan, width=390)
    page.goto("/")
    page.click("text=People")
    page.click("text=Add an athlete")
    page.fill("[name=name]", "Nora Tarn")
    page.fill("[name=born]", "1994-05-04")
    page.select_option("[name=sex]", "f")
    save(page, "name")
    page.wait_for_url("**/first-meeting/")
    page.locator("main a[href$='/build/']").first.click()
    page.locator("a[href$='/build/new/']").first.click()
    page.fill("[name=stature_1]", "5'11\"")
    page.fill("[name=arm_span_1]", "1,80")
    page.fill("[name=sitting_height_1]", "ninety")
    save(page, "stature_1")
    asked = page.locator(".asks").all_inner_texts()
    assert any("ninety" in words for words in asked) and any("180 cm" in words for words in asked)
    assert page.input_value("[name=arm_span_1]") == "1,80" and page.input_value("[name=stature_1]") == "5'11\""
    page.fill("[name=sitting_height_1]", "92")
    page.locator(".asks input[type=radio]").first.check()
    save(page, "stature_1")
    page.wait_for_url(re.compile(r"/build/(\d+/)?$"))
    assert "180.3" in page.inner_text("main")

    messy = tmp_path / "messy.csv"
    messy.write_text(MESSY)
    page.goto("/imports/")
    page.set_input_files("input[type=file]", str(messy))
    page.locator("form:has(input[type=file]) button").click()
    page.wait_for_selector("text=What comes in from messy.csv?")
    assert "3 lines in the file = 1 to take + 0 fixed + 2 skipped" in page.inner_text("main")
    assert "Ada Fel" in page.inner_text("main")
    page.click("text=Take in 1 line")
    page.wait_for_selector("button:has-text('Undo'), button:has-text('Take it back')")
    assert list(LiftSet.objects.values_list("load_kg", "reps_made")) == [(140.0, 5)] * 3
    page.locator("button:has-text('Undo'), button:has-text('Take it back')").first.click()
    page.wait_for_load_state()
    assert not LiftSet.objects.exists()
    assert no_sideways_scroll(page)


def test_a_coach_plans_a_trial_taps_it_decides_and_prints_the_reason(live_cast, page_for):
    ada, today = live_cast.athletes["ada"], timezone.localdate()
    for week in range(8, 16):
        pull(ada, 7 * week, 120 + week % 3)
    page = page_for(live_cast.cato, width=390, dark=True)
    page.goto(f"/athletes/{ada.pk}/trial/")
    page.click("text=Plan a trial")
    assert page.input_value("[name=started_on]") == today.isoformat()
    page.select_option("[name=new_style]", "sumo")
    page.select_option("[name=old_style]", "conventional")
    page.fill("[name=baseline_old_typed]", "a lot")
    save(page, "new_style")
    assert page.locator(".asks").count() and page.input_value("[name=baseline_old_typed]") == "a lot"
    page.fill("[name=baseline_old_typed]", "130")
    page.fill("[name=no_baseline_reason]", "first lifts in it")
    if page.locator("[name=knowing]").count():
        page.check("[name=knowing]")
    save(page, "new_style")
    page.wait_for_url(re.compile(r"/trial/$"))
    trial = Trial.objects.get()
    assert all(" " in rule for rule in trial.stop_rules), "stop rules are kept as people read them"
    pull(ada, 0, 110, style="sumo")
    page.reload()
    assert "110 kg × 3, RPE 8, made" in page.inner_text(".taps")
    page.locator(".taps button", has_text="partly").click()
    page.wait_for_selector(".taps button[aria-pressed=true]:has-text('partly')")
    page.click("text=Record the decision")
    form = page.locator("form[action*=decide]")
    form.locator("select[name=verdict]").select_option("drop")
    for box in form.locator("textarea").all():
        box.fill("Hips sore after both sessions.")
    form.locator("button").click()
    page.wait_for_load_state()
    assert Decision.objects.get().reasons.startswith("Hips sore")
    page.goto(f"/athletes/{ada.pk}/")
    page.get_by_role("link", name="Print", exact=True).first.click()
    page.wait_for_url("**/report/")
    page.emulate_media(media="print")
    assert "Hips sore" in page.inner_text("main")
    assert len(re.findall(rb"/Type\s*/Page\b", page.pdf(format="A4"))) == 1


def test_an_athlete_reads_in_pounds_corrects_a_row_and_takes_the_data_home(live_cast, page_for):
    ada = live_cast.athletes["ada"]
    first = pull(ada, 3, 100)
    page = page_for(live_cast.ada, width=390)
    page.goto("/account/")
    page.select_option("[name=weight_unit]", "lb")
    page.locator("form:has([name=weight_unit]) button").first.click()
    page.goto("/")
    assert "Ada" in page.title()
    page.goto(f"/athletes/{ada.pk}/log/")
    assert re.search(r"\d lb", page.inner_text("main"))
    page.goto(f"/athletes/{ada.pk}/lifts/{first.pk}/")
    page.fill("[name=load_typed]", "a hundred")
    save(page, "load_typed")
    assert page.locator(".asks").count() and page.input_value("[name=load_typed]") == "a hundred"
    # the browser itself notes the refusal's status; nothing else may have been said
    assert [words for words in page.complaints if "422" not in words] == []
    page.complaints.clear()
    page.fill("[name=load_typed]", "102.5")
    save(page, "load_typed")
    page.wait_for_url("**/lifts/**")
    first.refresh_from_db()
    assert first.load_kg == 102.5
    page.goto(f"/athletes/{ada.pk}/profile/")
    page.click("text=Take your data home")
    page.click("text=Prepare a copy of everything")
    with page.expect_download() as taken:
        page.click("text=Download")
    assert taken.value.suggested_filename.endswith(".zip")
    page.goto(f"/athletes/{ada.pk}/profile/")
    page.click("text=Privacy: what may be shown")
    page.click("text=What was changed")
    assert "corrected" in page.inner_text("main")
    assert Athlete.objects.get(pk=ada.pk).sets.count() == 1
