"""Addresses of the way in and of one's own account."""

from tests.addresses.frame import NO_VERB, PUBLIC, PUBLIC_NOTHING, SIGNED_IN, expect, row

ADDRESSES = {
    "home": row({}, get=PUBLIC, post=NO_VERB),
    "sign-in": row({}, get=PUBLIC, post=PUBLIC),
    "second-step": row({}, get=PUBLIC, post=PUBLIC),
    "sign-out": row({}, get=NO_VERB, post=PUBLIC),
    "password-reset": row({}, get=PUBLIC, post=PUBLIC),
    "password-reset-confirm": row({"uidb64": "=MQ", "token": "=none-such"}, get=PUBLIC, post=PUBLIC),
    "invitation": row({"token": "=invented"}, get=PUBLIC_NOTHING, post=PUBLIC_NOTHING),
    "account": row({}, get=SIGNED_IN, post=SIGNED_IN),
    "account-close": row({}, get=SIGNED_IN, post=SIGNED_IN),
    "change-password": row({}, get=SIGNED_IN, post=SIGNED_IN),
    "email-change": row({}, get=SIGNED_IN, post=SIGNED_IN),
    "email-call-off": row({}, get=NO_VERB, post=SIGNED_IN),
    "email-take": row({"token": "=invented"}, get=PUBLIC_NOTHING, post=PUBLIC_NOTHING),
    "email-undo": row({"token": "=invented"}, get=PUBLIC_NOTHING, post=PUBLIC_NOTHING),
    "second-factor": row({}, get=SIGNED_IN, post=NO_VERB),
    "second-factor-begin": row({}, get=NO_VERB, post=SIGNED_IN),
    "second-factor-confirm": row({}, get=NO_VERB, post=SIGNED_IN),
    "recovery-codes": row({}, get=NO_VERB, post=SIGNED_IN),
    "second-factor-remove": row({}, get=NO_VERB, post=SIGNED_IN),
    "sign-out-everywhere": row({}, get=NO_VERB, post=SIGNED_IN),
    "session-end": row({"uid": "session"}, get=NO_VERB, post=expect(self="ok")),
}
