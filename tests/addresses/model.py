from tests.addresses.frame import NO_VERB, SIGNED_IN, row

ADDRESSES = {"how-it-works": row({}, get=SIGNED_IN, post=NO_VERB)}
