"""Signing in, a person's own name, units and password, and the second step."""

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm, PasswordChangeForm, PasswordResetForm
from django.core.mail import EmailMessage
from django.template import loader

from athletes.access.client_address import demo_may_sign_in
from athletes.accounts.mail import own_address, send_later
from athletes.accounts.throttle import hit_rate_limit
from athletes.models import User

RESETS_AN_HOUR = CHANGES_AN_HOUR = 5
GUESSES = 10


class SignInForm(AuthenticationForm):
    """Password sign-in; the address is compared in lower case so that its spelling opens no second count of tries."""

    username = forms.EmailField(
        label="E-mail", widget=forms.EmailInput(attrs={"autofocus": True, "autocomplete": "username"})
    )
    error_messages = {
        "invalid_login": "No account opens with this e-mail and password. Check both; capital letters count in "
        "the password.",
        "inactive": "No account opens with this e-mail and password. Check both; capital letters count in "
        "the password.",
    }

    def clean_username(self) -> str:
        return self.cleaned_data["username"].lower()

    def confirm_login_allowed(self, user: User) -> None:
        super().confirm_login_allowed(user)
        if user.is_demo and not demo_may_sign_in(self.request):
            raise forms.ValidationError("Demo log-ins open only in debug, on the machine they were made on.")


class CodeForm(forms.Form):
    code = forms.CharField(
        label="Code",
        max_length=20,
        help_text="Six digits from your phone, or one of your recovery codes.",
        widget=forms.TextInput(attrs={"autocomplete": "one-time-code", "autofocus": True, "size": 14}),
        error_messages={"required": "Type the code that your phone shows now."},
    )


class PasswordAgainForm(forms.Form):
    """The current password, asked before something that weakens or ends the account."""

    password = forms.CharField(
        label="Your password",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )

    def __init__(self, user: User, *args: Any, **kwargs: Any) -> None:
        self.user = user
        super().__init__(*args, **kwargs)

    def clean_password(self) -> str:
        slow_down(self.user)
        if not self.user.check_password(self.cleaned_data["password"]):
            raise forms.ValidationError("This is not your current password.")
        return self.cleaned_data["password"]


def slow_down(user: User) -> None:
    """One more guess at the password of somebody who is signed in; raises once there were too many."""
    if hit_rate_limit("password-again", user.pk, GUESSES, 900):
        raise forms.ValidationError("Too many tries. Wait 15 minutes.")


class NewPasswordForm(PasswordChangeForm):
    """The current password is asked for here too, and may not be guessed at from a stolen session."""

    def clean_old_password(self) -> str:
        slow_down(self.user)
        return super().clean_old_password()


class EmailChangeForm(PasswordAgainForm):
    """Another address to sign in with; whether it is in use is never said here."""

    email = forms.EmailField(
        label="New e-mail", max_length=254, widget=forms.EmailInput(attrs={"autocomplete": "email"})
    )
    field_order = ["email", "password"]

    def clean_email(self) -> str:
        email = self.cleaned_data["email"].lower()
        if email == self.user.email.lower():
            raise forms.ValidationError("You sign in with this address already.")
        return email

    def clean(self) -> dict[str, Any]:
        data = super().clean() or self.cleaned_data
        if self.user.is_demo:
            raise forms.ValidationError("Demo log-ins keep their address.")
        if not self.errors and hit_rate_limit("address change", self.user.pk, CHANGES_AN_HOUR, 3600):
            raise forms.ValidationError("Five links an hour at most. Wait, then ask again.")
        return data


class PersonForm(forms.ModelForm):
    """What a person says about themselves; the fields named here are all that a request can change."""

    class Meta:
        model = User
        fields = ["first_name", "last_name", "weight_unit", "length_unit"]
        labels = {"weight_unit": "Loads in", "length_unit": "Lengths in"}
        help_texts = {"weight_unit": "For show only: every load stays stored as it was typed."}


class ResetForm(PasswordResetForm):
    """Mails a reset link; does the same work for an address that nobody has, and sends outside the request."""

    email = forms.EmailField(
        label="E-mail", max_length=254, widget=forms.EmailInput(attrs={"autocomplete": "email", "autofocus": True})
    )

    def clean_email(self) -> str:
        return self.cleaned_data["email"].lower()

    def save(self, *args: Any, **options: Any) -> None:
        email = self.cleaned_data["email"]
        if hit_rate_limit("reset", email, RESETS_AN_HOUR, 3600):
            return
        scheme, _, host = own_address(options["request"]).partition("://")
        super().save(*args, **options | {"domain_override": host, "use_https": scheme == "https"})

    def get_users(self, email: str) -> list[User]:
        """The account of this address, or a decoy that is rendered and then not sent."""
        found = list(super().get_users(email))
        return found or [User(pk=0, email=email, username="decoy")]

    def send_mail(
        self,
        subject_template_name: str,
        email_template_name: str,
        context: dict[str, Any],
        from_email: str | None,
        to_email: str,
        html_email_template_name: str | None = None,
    ) -> None:
        subject = " ".join(loader.render_to_string(subject_template_name, context).split())
        body = loader.render_to_string(email_template_name, context)
        send_later(EmailMessage(subject, body, from_email, [to_email]), decoy=not context["user"].pk)
