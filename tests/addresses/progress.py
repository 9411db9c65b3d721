"""Addresses of progress, back load, bar and grip: what each role gets."""

from tests.addresses.frame import NO_VERB, NOBODY, SEEN, row

PAGE = {"pk": "athlete"}
# the sample log is too thin for any figure, so its numbers are not there for anybody
NUMBERS = {"pk": "athlete", "figure": "=no-such-figure"}
ADDRESSES = {
    "progress": row(PAGE, get=SEEN, post=NO_VERB),
    "back-load": row(PAGE, get=SEEN, post=NO_VERB),
    "bar-and-grip": row(PAGE, get=SEEN, post=NO_VERB),
    "progress-numbers": row(NUMBERS, get=NOBODY, post=NO_VERB),
    "back-load-numbers": row(NUMBERS, get=NOBODY, post=NO_VERB),
    "bar-and-grip-numbers": row(NUMBERS, get=NOBODY, post=NO_VERB),
}
