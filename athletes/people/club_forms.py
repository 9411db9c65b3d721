"""People, roles, invitations and bars of a club."""

import re
from datetime import date
from functools import cache
from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.contrib.auth.password_validation import validate_password
from django.forms.utils import flatatt
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from athletes.accounts.email_change import MAILS_AN_HOUR
from athletes.accounts.throttle import hit_rate_limit
from athletes.models import Athlete, Bar, Club, Membership, User
from athletes.models.choices import Role
from athletes.units.fields import row_field


class InvitationForm(forms.Form):
    """Who is invited as what; an athlete's invitation names the log that becomes theirs."""

    email = forms.EmailField(label="E-mail", max_length=254)
    role = forms.ChoiceField(label="Role", choices=Role.choices, initial=Role.STAFF)
    athlete = forms.ModelChoiceField(
        label="Whose log becomes theirs",
        queryset=Athlete.objects.none(),
        required=False,
        empty_label="nobody's",
        help_text="For an athlete: choose the person on your list. Only people without an account stand here.",
    )

    def __init__(self, club: Club, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        row_field(self, "athlete").queryset = club.athletes.filter(user__isnull=True, active=True)

    def clean_email(self) -> str:
        return self.cleaned_data["email"].lower()

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("role") == Role.ATHLETE and data.get("athlete") is None and "athlete" not in self.errors:
            self.add_error("athlete", "Choose whose log this is. Add the person under People first if they are new.")
        if not self.errors and hit_rate_limit("mail to", data["email"], MAILS_AN_HOUR, 3600):
            self.add_error("email", "At most five mails an hour go to one address. Wait, then invite again.")
        return data


class RoleForm(forms.Form):
    role = forms.ChoiceField(label="Role", choices=Role.choices)

    def __init__(self, member: Membership, data: Any = None) -> None:
        self.member = member
        super().__init__(data, initial={"role": member.role}, auto_id=f"id_%s_{member.pk}")

    def clean_role(self) -> str:
        role = self.cleaned_data["role"]
        own_log = Athlete.objects.filter(club=self.member.club, user=self.member.user).exists()
        if role == Role.ATHLETE and not own_log:
            raise forms.ValidationError("This person has no log here. Invite them to one, then change the role.")
        return role


class BarForm(forms.ModelForm):
    """A bar of the club; what is not known may stay empty."""

    diameter_mm = forms.FloatField(
        label="Diameter, mm", required=False, min_value=20, max_value=60, help_text="Usual shafts: 27 to 30 mm."
    )
    knurl = forms.ChoiceField(
        label="Knurl",
        required=False,
        choices=[("", "not noted"), ("smooth", "smooth"), ("medium", "medium"), ("sharp", "sharp"), ("worn", "worn")],
    )

    class Meta:
        model = Bar
        fields = ["name", "kind", "diameter_mm", "knurl"]
        labels = {"name": "Name", "kind": "Kind"}

    def __init__(self, club: Club, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance.club = club

    def clean_name(self) -> str:
        name = " ".join(self.cleaned_data["name"].split())
        others = Bar.objects.filter(club=self.instance.club, name__iexact=name).exclude(pk=self.instance.pk)
        if others.exists():
            raise forms.ValidationError("A bar of this club already has this name.")
        return name


@cache
def zones() -> tuple[str, ...]:
    """Every time zone by name; read once, because the look through the folder of zones takes a tenth of a second."""
    return tuple(sorted(available_timezones()))


@cache
def zone_options() -> str:
    """The options of a choice of time zones as markup; 600 widgets would be rendered at each visit otherwise."""
    return format_html_join("", '<option value="{}">{}</option>', ((zone, zone.replace("_", " ")) for zone in zones()))


class ZoneSelect(forms.Select):
    """A choice of time zones; what is chosen stands first, once more."""

    def render(self, name: str, value: Any, attrs: dict[str, Any] | None = None, renderer: Any = None) -> SafeString:
        chosen = str(value or "")
        first = format_html('<option value="{}" selected>{}</option>', chosen, chosen.replace("_", " "))
        flat = flatatt(self.build_attrs(self.attrs, (attrs or {}) | {"name": name}))
        return format_html("<select{}>{}{}</select>", flat, first, zone_options())


class ClubForm(forms.ModelForm):
    timezone = forms.ChoiceField(
        label="Time zone", choices=lambda: [(z, z.replace("_", " ")) for z in zones()], widget=ZoneSelect
    )
    closed = forms.CharField(
        label="Days the gym is closed", required=False, max_length=600,
        help_text="As 2026-12-28, several with commas. No decision or test falls on one, nor on a Sunday, 1 January, "
        "24 to 26 or 31 December, or from Good Friday to Easter Monday.",
    )  # fmt: skip

    class Meta:
        model = Club
        fields = ["name", "timezone"]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if self.instance.pk:
            self.fields["closed"].initial = ", ".join(self.instance.closed_days)

    def clean_closed(self) -> list[str]:
        """ISO days, sorted, each once."""
        days = set()
        for text in filter(None, re.split(r"[,;\s]+", self.cleaned_data["closed"].strip())):
            try:
                days.add(date.fromisoformat(text).isoformat())
            except ValueError:
                raise forms.ValidationError(f"“{text}” is not a day; write it as 2026-12-28.") from None
        return sorted(days)

    def save(self, commit: bool = True) -> Club:
        self.instance.closed_days = self.cleaned_data["closed"]
        return super().save(commit)


class JoinForm(forms.ModelForm):
    """A new account behind an invitation: name and password; the address is the invitation's and cannot be typed."""

    password = forms.CharField(
        label="Password",
        strip=False,
        help_text="At least 10 characters, not a common one, not your name.",
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}, render_value=True),
    )

    class Meta:
        model = User
        fields = ["first_name", "last_name", "weight_unit", "length_unit"]
        labels = {"weight_unit": "Loads in", "length_unit": "Lengths in"}

    def __init__(self, email: str, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.instance.email = email
        self.fields["first_name"].required = True

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if data.get("password"):
            person = User(email=self.instance.email, first_name=data.get("first_name", ""))
            try:
                validate_password(data["password"], person)
            except forms.ValidationError as refused:
                self.add_error("password", refused)
        return data
