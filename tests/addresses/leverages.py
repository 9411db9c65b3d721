from tests.addresses.frame import NO_VERB, SEEN, row

ADDRESSES = {
    "leverages": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
    "leverages-frames": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
    "leverages-what-if": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
    "leverages-curves": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
    "leverages-sweep": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
    "leverages-compare": row({"pk": "athlete"}, get=SEEN, post=NO_VERB),
}
