"""The decision."""

from tests.addresses.frame import NO_VERB, SEEN, row

ADDRESSES = {"decision": row({"pk": "athlete"}, get=SEEN, post=NO_VERB)}
