"""The athlete's own page, its report, the rows behind a finding."""

from tests.addresses.frame import NO_VERB, SEEN, row

ADDRESSES = {
    "summary": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
    "rows": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
    "report": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
}
