"""No number of the trade is without a row: a new setting fails here until its boundary is written down."""

import pytest

from analysis.core.settings import REGISTRY
from tests.core.settings import (
    test_bests_rows,
    test_load_rows,
    test_meets_rows,
    test_squad_rows,
    test_styles_rows,
    test_trials_rows,
    test_trials_slopes,
    test_weak_link_rows,
)
from tests.core.settings.rows import Edge

MODULES = (
    test_bests_rows,
    test_load_rows,
    test_meets_rows,
    test_squad_rows,
    test_styles_rows,
    test_trials_rows,
    test_trials_slopes,
    test_weak_link_rows,
)
ROWS = [row for module in MODULES for row in (*getattr(module, "EDGES", ()), *getattr(module, "SLOPES", ()))]
OWN_TESTS = {key for module in MODULES for key in getattr(module, "OWN_TESTS", ())}


@pytest.mark.parametrize("key", REGISTRY)
def test_every_setting_has_a_row(key):
    assert key in {row.key for row in ROWS} | OWN_TESTS


def test_no_row_speaks_of_a_setting_that_is_gone():
    assert {row.key for row in ROWS} | OWN_TESTS <= set(REGISTRY)


@pytest.mark.parametrize("row", [r for r in ROWS if isinstance(r, Edge)], ids=str)
def test_a_row_is_written_at_the_default(row):
    """The boundary stands in the row as a number of its own, so that a changed default fails."""
    assert row.at == REGISTRY[row.key].default
