"""How it works: equations, constants, checks computed now."""

import re

from analysis.mechanics.checks import CHECKS, KNOWN_MISSES, check_rows
from analysis.mechanics.constants import all_constants
from analysis.model_page import SECTIONS, checks


def page(signed_in, name="ada"):
    return signed_in(name).get("/how-it-works/").content.decode()


def test_every_role_may_read_it(signed_in):
    for name in ("ona", "cato", "stan", "ada", "nils"):
        assert "how sure is it" in page(signed_in, name)


def test_a_stranger_is_asked_to_sign_in(signed_in):
    assert signed_in(None).get("/how-it-works/").status_code == 302


def test_it_reads_and_never_writes(signed_in):
    assert signed_in("ada").post("/how-it-works/").status_code == 405


def test_every_constant_stands_there_with_its_source(signed_in):
    text = page(signed_in).replace("&#x27;", "'").replace("&amp;", "&").lower()
    for constant in all_constants():
        assert constant.key.lower() in text
        assert constant.source.lower() in text


def test_every_check_stands_there_with_its_band_and_the_value_of_now(signed_in):
    text = page(signed_in)
    assert len(checks()) == len(CHECKS)
    for shown, row in zip(checks(), check_rows(), strict=True):
        assert shown.values[0].startswith(f"{row.value:.{row.check.digits}f}")
        assert shown.band in text


def test_a_check_that_is_not_met_says_why(signed_in):
    for shown in checks():
        assert shown.verdict == "inside" or shown.why, shown.quantity
    assert set(KNOWN_MISSES) <= {check.key for check in CHECKS}


def test_every_section_has_a_link_and_cautions_are_among_them(signed_in):
    text = page(signed_in)
    for section in SECTIONS:
        assert f'href="#{section.slug}"' in text
        assert f'id="{section.slug}"' in text
    assert re.search(r"not medical advice\..*licensed professional", text)
