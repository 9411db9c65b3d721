"""A lifter, a meet, and the lifter entered in it with a log behind."""

import pytest

from tests.analysis.meets.meeting import a_meet, enter, log_pulls


@pytest.fixture
def ada(cast):
    return cast.athletes["ada"]


@pytest.fixture
def meet(cast):
    return a_meet(cast.quarry)


@pytest.fixture
def entry(meet, ada):
    log_pulls(ada)
    return enter(meet, ada)
