"""Addresses of the log, back work, bar and grip, and old ones that lead there: what each role gets."""

from tests.addresses.frame import NO_VERB, NOBODY, SEEN, row

PAGE = {"pk": "athlete"}
# the sample log is too thin for any figure, so its numbers are not there for anybody
NUMBERS = {"pk": "athlete", "figure": "=no-such-figure"}
ADDRESSES = {
    "log": row(PAGE, get=SEEN, post=NO_VERB),
    "log-numbers": row(NUMBERS, get=NOBODY, post=NO_VERB),
    "bests": row(PAGE, get=SEEN, post=NO_VERB),
    "progress": row(PAGE, get=SEEN, post=NO_VERB),
    "back-load": row(PAGE, get=SEEN, post=NO_VERB),
    "bar-and-grip": row(PAGE, get=SEEN, post=NO_VERB),
    "progress-numbers": row(NUMBERS, get=SEEN, post=NO_VERB),  # leads on to the log, which knows its figures
    "back-load-numbers": row(NUMBERS, get=NOBODY, post=NO_VERB),
    "bar-and-grip-numbers": row(NUMBERS, get=NOBODY, post=NO_VERB),
}
