"""An old log comes in through a real browser, on a phone and on a laptop."""

import os
from datetime import date
from pathlib import Path

import pytest
from openpyxl import Workbook
from playwright.sync_api import Page

from athletes.importing.tasks import advance
from athletes.models import ImportBatch, LiftSet
from tests.browser.conftest import no_sideways_scroll

LOG = """date,lifter,lift,weight,unit,sets,reps,rpe,result,note
04/03/2026,Ada Fell,sumo dl,180,kg,2,3,8.5,ok,felt quick
05/03/2026,"Fell, Ada",DL,-200,kg,1,1,9,,
05/03/2026,Petra Moss,"deadlift 4"" block",17O,kg,1,1,,,
,,RDL,120,kg,1,8,,,
05/03/2026,Petra Moss,DL,150,kg,1,3,8,F,
TOTAL,,,12450,,,,,,
"""


def keep(page: Page, name: str) -> None:
    """A picture for looking at, where SCREENSHOTS names a folder."""
    if os.environ.get("SCREENSHOTS"):
        page.screenshot(path=Path(os.environ["SCREENSHOTS"]) / f"{name}.png", full_page=True)


def test_a_workbook_is_opened_while_its_page_shows_how_far_it_is(page_for, live_cast, tmp_path, settings):
    """No worker runs until the page was seen and left; opened again it shows what came in meanwhile."""
    settings.TASKS = {"default": {"BACKEND": settings.TASK_BACKENDS["database"]}}
    book = Workbook(write_only=True)
    sheet = book.create_sheet("Log")
    sheet.append(["date", "lifter", "lift", "weight", "unit", "reps"])
    for n in range(40):
        sheet.append([date(2026, 3, 1 + n % 28), "Ada Fell", "sumo", 100 + n, "kg", 3])
    book.save(tmp_path / "log.xlsx")
    page = page_for(live_cast.stan, width=390)
    page.goto("/imports/")
    page.set_input_files("input[type=file]", tmp_path / "log.xlsx")
    page.click("text=Read the file")
    page.wait_for_selector("text=/Opening the workbook/")
    assert no_sideways_scroll(page)
    assert not page.is_visible("[data-step] button")
    keep(page, "import-opening-390")
    page.goto("/tonight/")
    assert advance(ImportBatch.objects.get().pk, 30).status == "ready"
    page.go_back()
    page.wait_for_selector("text=40 lines in the file")


@pytest.mark.parametrize(("width", "dark"), [(390, False), (1280, True), (1280, False)])
def test_a_log_comes_in_line_by_line(page_for, live_cast, tmp_path, width, dark):
    (tmp_path / "old log.csv").write_text(LOG)
    page = page_for(live_cast.stan, width=width, dark=dark)
    shown = f"{width}{'-dark' if dark else ''}"
    page.goto("/imports/")
    assert no_sideways_scroll(page)
    keep(page, f"imports-{shown}")
    page.set_input_files("input[type=file]", tmp_path / "old log.csv")
    page.click("text=Read the file")
    assert "6 lines in the file" in page.inner_text(".import-sum")
    assert no_sideways_scroll(page)
    keep(page, f"import-asked-{shown}")
    page.select_option("select[name='answer-date-order|file']", "dmy")
    page.select_option("select[name='answer-name|fell, ada']", label="Ada Fell")
    page.click("text=Keep the answers and read again")
    keep(page, f"import-answered-{shown}")
    page.click("text=Fix line 4")
    assert page.input_value("#id_cell-3") == "17O"
    assert no_sideways_scroll(page)
    keep(page, f"import-line-{shown}")
    page.fill("#id_cell-3", "170")
    page.click("text=Read the line again")
    page.click("text=How the file was read")
    assert no_sideways_scroll(page)
    keep(page, f"import-make-{shown}")
    page.click("button:has-text('Take in')")
    assert LiftSet.objects.count() == 6
    keep(page, f"import-done-{shown}")
    page.click("text=Undo this import")
    assert LiftSet.objects.count() == 0


@pytest.mark.parametrize("width", [390, 1280])
def test_exports_and_hand_over_fit_the_window(page_for, live_cast, width):
    page = page_for(live_cast.cato, width=width)
    for name, address in [
        ("exports", "/exports/"),
        ("archive", "/imports/archive/"),
        ("hand-over", f"/athletes/{live_cast.athletes['ada'].pk}/hand-over/"),
    ]:
        page.goto(address)
        assert no_sideways_scroll(page)
        keep(page, f"{name}-{width}")


BODIES = '''date,lifter,lift,weight,unit,reps,bw,height,arm
2026-03-04,Ada Fell,sumo,140,kg,3,66.2 kg,5'7,"67"""
2026-03-11,Ada Fell,sumo,142.5,kg,3,62.6 kg,,
2026-03-11,Petra Moss,conv,130,kg,3,70 kg,5.9,
'''


@pytest.mark.parametrize("width", [390, 1280])
def test_body_measures_come_in_and_only_the_coach_reads_the_masses(page_for, live_cast, tmp_path, width):
    (tmp_path / "bodies.csv").write_text(BODIES)
    page = page_for(live_cast.stan, width=width)
    page.goto("/imports/")
    page.set_input_files("input[type=file]", tmp_path / "bodies.csv")
    page.click("text=Read the file")
    assert no_sideways_scroll(page) and "66.2" not in page.content() and "62.6" not in page.content()
    keep(page, f"import-bodies-{width}")
    page.get_by_label("Body mass of Ada Fell", exact=False).select_option("right")
    page.get_by_label("A height such as 5.11", exact=False).select_option("feet-inches")
    page.click("text=Keep the answers and read again")
    coach = page_for(live_cast.cato, width=width)
    coach.goto(page.url)
    assert "body mass 66.2 kg" in coach.content() and "70 kg" not in coach.content()
    keep(coach, f"import-bodies-coach-{width}")
    page.click("button:has-text('Take in')")
    assert "3 sets and 6 readings of bodies" in page.content()
    page.click("text=Undo this import")
    assert "3 sets and 6 readings" in page.content()
