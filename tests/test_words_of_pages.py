"""Words that no page about lifters may say: jargon of the model, and verdicts on a body part."""

import re

import pytest
from django.urls import reverse
from django.utils.html import strip_tags

from tests.addresses import whole_table
from tests.addresses.frame import OK
from tests.addresses.world import make_world
from tests.analysis.meets.meeting import log_pulls
from tests.test_every_address import WHO, sample

TABLE = whole_table()
ROLES = ("owner", "staff", "self")
# A range is explained once at the foot of a page, so no "(8 in 10)" stands behind one.
FORBIDDEN = re.compile(
    r"\d( \w+)? \(8 in 10\)|told apart|reckoned|turning force|gives? out|gave out|gives? way|used up"
    r"|all (s?he|they) (has|have)"
    r"|standing_grip_height|full-capacity|telling lift|for the back's sake",
    re.I,
)
PAGES = sorted(
    name
    for name, line in TABLE.items()
    if any(line.get[role] == OK for role in ROLES) and not name.startswith(("model", "how-"))
)


@pytest.mark.parametrize("name", PAGES)
def test_a_page_says_none_of_the_words(name, cast, signed_in):
    line, things = TABLE[name], make_world(cast)["own"]
    log_pulls(cast.athletes["ada"], best=150)
    path = reverse(name, kwargs={part: sample(word, things) for part, word in line.args.items()}) + line.query
    found = {}
    for role in ROLES:
        answer = signed_in(WHO[role]).get(path) if line.get[role] == OK else None
        if answer is None or answer.streaming or "html" not in answer.get("Content-Type", ""):
            continue
        if hit := FORBIDDEN.search(strip_tags(answer.content.decode())):
            found[role] = hit.group(0)
    assert found == {}


@pytest.mark.parametrize("words", ["130–145 kg (8 in 10)", "The back gave out", "not told apart", "all she has"])
def test_each_of_them_would_be_found(words):
    assert FORBIDDEN.search(words)


def test_a_chance_itself_may_be_said():
    assert not FORBIDDEN.search("leans sumo, 6 in 10 (4-8)") and not FORBIDDEN.search("A range holds 8 in 10 times")
