"""The optional second step after the password: a code from a phone, or one of ten recovery codes."""

import base64
import secrets
from datetime import timedelta
from io import BytesIO

import qrcode
from django.db import transaction
from django.utils import timezone
from django.utils.crypto import salted_hmac
from django.utils.safestring import SafeString, mark_safe
from django_otp.models import Device
from django_otp.plugins.otp_static.models import StaticDevice
from django_otp.plugins.otp_totp.models import TOTPDevice
from qrcode.image.svg import SvgPathImage

from athletes.models import User

RECOVERY_CODES = 10
WAITING_FOR = timedelta(hours=1)
ALPHABET = "abcdefghjkmnpqrstuvwxyz23456789"  # nothing that reads as something else


def has_second_factor(user: User) -> bool:
    """Whether a code is asked for after this user's password."""
    return TOTPDevice.objects.filter(user=user, confirmed=True).exists()


def waiting_device(user: User) -> TOTPDevice | None:
    """The device that was begun and not yet confirmed by a first code; its secret is shown for an hour only."""
    lately = timezone.now() - WAITING_FOR
    return TOTPDevice.objects.filter(user=user, confirmed=False, created_at__gt=lately).first()


def begin_device(user: User) -> TOTPDevice:
    """A fresh secret; whatever was begun before and left is thrown away."""
    with transaction.atomic():
        TOTPDevice.objects.filter(user=user, confirmed=False).delete()
        return TOTPDevice.objects.create(user=user, name="phone", confirmed=False)


def confirm_device(device: TOTPDevice, code: str) -> list[str] | None:
    """Confirm by a first code and return the new recovery codes; None when the code does not fit."""
    with transaction.atomic():
        if not device.verify_token(plain(code)):
            return None
        TOTPDevice.objects.filter(user=device.user, confirmed=True).delete()
        device.confirmed = True
        device.save(update_fields=["confirmed"])
        return new_recovery_codes(device.user)


def new_recovery_codes(user: User) -> list[str]:
    """Ten new single-use codes, shown once; only their keyed hashes are stored, the old ones stop working."""
    codes = ["".join(secrets.choice(ALPHABET) for _ in range(10)) for _ in range(RECOVERY_CODES)]
    with transaction.atomic():
        StaticDevice.objects.filter(user=user).delete()
        device = StaticDevice.objects.create(user=user, name="recovery")
        for code in codes:
            device.token_set.create(token=stored_form(code))
    return [f"{code[:5]}-{code[5:]}" for code in codes]


def remove_second_factor(user: User) -> None:
    with transaction.atomic():
        TOTPDevice.objects.filter(user=user).delete()
        StaticDevice.objects.filter(user=user).delete()


def matching_device(user: User, code: str) -> Device | None:
    """The device whose code this is; used up by the match, slowed down by misses (both done by django-otp)."""
    code = plain(code)
    if code.isdigit():
        devices, token = TOTPDevice.objects.filter(user=user, confirmed=True), code
    else:
        devices, token = StaticDevice.objects.filter(user=user, confirmed=True), stored_form(code)
    with transaction.atomic():
        return next((d for d in devices.select_for_update() if d.verify_token(token)), None)


def plain(code: str) -> str:
    return "".join(code.split()).replace("-", "").lower()


def stored_form(code: str) -> str:
    """A recovery code as it is kept: 16 characters of a keyed hash, useless without the server's secret."""
    return salted_hmac("stancebook.recovery", code, algorithm="sha256").hexdigest()[:16]


def secret_words(device: TOTPDevice) -> str:
    """The secret in groups of four, for typing where no camera is."""
    text = base64.b32encode(device.bin_key).decode()
    return " ".join(text[i : i + 4] for i in range(0, len(text), 4))


def qr_svg(address: str) -> SafeString:
    """An address as a QR code: inline SVG without styles or scripts, ready for a page."""
    out = BytesIO()
    qrcode.make(address, image_factory=SvgPathImage, box_size=12).save(out)
    text = out.getvalue().decode()
    return mark_safe(text[text.index("<svg") :])  # noqa: S308 - made of squares by the library
