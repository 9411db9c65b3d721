"""What watches the server; open to everybody and without anything about anybody."""

from tests.addresses.frame import NO_VERB, PUBLIC, row

ADDRESSES = {
    "alive": row({}, get=PUBLIC, post=NO_VERB),
    "ready": row({}, get=PUBLIC, post=NO_VERB),
}
