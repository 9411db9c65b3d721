"""Addresses of meets."""

from django.urls import path

from analysis.meets.board_views import meet_attempt, meet_board, meet_state
from analysis.meets.entry_page_views import meet_entry, meet_plan_keep
from analysis.meets.entry_views import meet_enter, meet_entry_edit, meet_to_log, meet_withdraw
from analysis.meets.views import athlete_meets, meet, meet_edit, meet_new, meets

urlpatterns = [
    path("meets/", meets, name="meets"),
    path("meets/new/", meet_new, name="meet-new"),
    path("meets/<int:pk>/", meet, name="meet"),
    path("meets/<int:pk>/edit/", meet_edit, name="meet-edit"),
    path("meets/<int:pk>/enter/", meet_enter, name="meet-enter"),
    path("meets/<int:pk>/board/", meet_board, name="meet-board"),
    path("meets/<int:pk>/state/", meet_state, name="meet-state"),
    path("meets/<int:pk>/entries/<int:entry>/", meet_entry, name="meet-entry"),
    path("meets/<int:pk>/entries/<int:entry>/edit/", meet_entry_edit, name="meet-entry-edit"),
    path("meets/<int:pk>/entries/<int:entry>/withdraw/", meet_withdraw, name="meet-withdraw"),
    path("meets/<int:pk>/entries/<int:entry>/plan/", meet_plan_keep, name="meet-plan-keep"),
    path("meets/<int:pk>/entries/<int:entry>/attempts/", meet_attempt, name="meet-attempt"),
    path("meets/<int:pk>/entries/<int:entry>/log/", meet_to_log, name="meet-to-log"),
    path("athletes/<int:pk>/meets/", athlete_meets, name="athlete-meets"),
]
