"""The page that shows how each measure is taken."""

import re

from django.urls import reverse

from athletes.models.choices import MeasureKey


def test_every_measure_has_its_anchor_drawing_and_words(signed_in):
    page = signed_in("ada").get(reverse("how-to-measure")).content.decode()
    for key in MeasureKey:
        section = re.search(rf'<section class="sheet" id="{key}">.*?</section>', page, re.S).group(0)
        assert "<svg" in section and "You need:" in section and "What goes wrong:" in section


def test_touch_minors_and_body_mass_are_cautioned(signed_in):
    page = signed_in("cato").get(reverse("how-to-measure")).content.decode()
    for words in ("Touching is asked for", "second adult", "guardian knows", "Body mass is private"):
        assert words in page


def test_a_stranger_is_asked_to_sign_in(signed_in):
    assert signed_in(None).get(reverse("how-to-measure")).status_code == 302


def test_it_is_only_read(signed_in):
    assert signed_in("cato").post(reverse("how-to-measure")).status_code == 405
