"""Addresses of the club: people and roles, invitations, bars."""

from django.urls import path

from athletes.people import club_views as club
from athletes.people import invitation_views as invitations

urlpatterns = [
    path("join/<str:token>/", invitations.invitation, name="invitation"),
    path("club/", club.club, name="club"),
    path("club/choose/", club.choose_club, name="choose-club"),
    path("club/people/<int:pk>/role/", club.member_role, name="member-role"),
    path("club/people/<int:pk>/remove/", club.member_remove, name="member-remove"),
    path("club/<int:pk>/leave/", club.leave_club, name="leave-club"),
    path("club/invitations/new/", invitations.invite, name="invite"),
    path("club/invitations/<int:pk>/withdraw/", invitations.withdraw, name="invitation-withdraw"),
    path("club/bars/new/", club.bar_add, name="bar-add"),
    path("club/bars/<int:pk>/", club.bar, name="bar"),
    path("club/bars/<int:pk>/remove/", club.bar_remove, name="bar-remove"),
]
