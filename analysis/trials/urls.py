"""Addresses of style trials."""

from django.urls import path

from analysis.trials.squad_views import squad_trials, style_history
from analysis.trials.test_day_views import test_day
from analysis.trials.views import trial, trial_decide, trial_plan, trial_tap

urlpatterns = [
    path("squad/trials/", squad_trials, name="squad-trials"),
    path("athletes/<int:pk>/trial/", trial, name="trial"),
    path("athletes/<int:pk>/trial/plan/", trial_plan, name="trial-plan"),
    path("athletes/<int:pk>/trial/test-day/", test_day, name="test-day"),
    path("athletes/<int:pk>/trial/years/", style_history, name="style-history"),
    path("athletes/<int:pk>/trial/<int:trial>/", trial, name="trial-earlier"),
    path("athletes/<int:pk>/trial/<int:trial>/tap/", trial_tap, name="trial-tap"),
    path("athletes/<int:pk>/trial/<int:trial>/decide/", trial_decide, name="trial-decide"),
]
