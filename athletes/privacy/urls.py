"""Addresses of privacy: what is kept, who looked, what changed, consent, erasure."""

from django.urls import path

from athletes.privacy import consent_views as consent
from athletes.privacy import erasure_views as erasure
from athletes.privacy import views as audit
from athletes.privacy import views as privacy

urlpatterns = [
    path("privacy/", privacy.privacy, name="privacy"),
    path("account/close/", erasure.account_close, name="account-close"),
    path("athletes/<int:pk>/looks/", privacy.looks, name="looks"),
    path("athletes/<int:pk>/changes/", audit.audit, name="audit"),
    path("athletes/<int:pk>/erase/", erasure.erase, name="erase"),
    path("athletes/<int:pk>/consent/", consent.consent, name="consent"),
    path("athletes/<int:pk>/consent/<int:consent>/withdraw/", consent.consent_withdraw, name="consent-withdraw"),
    path("athletes/<int:pk>/consent/body-mass/", consent.hide_mass, name="hide-mass"),
]
