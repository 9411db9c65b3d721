from django.urls import include, path

urlpatterns = [
    path("", include("athletes.urls")),
    path("", include("analysis.urls")),
]
handler400 = "athletes.views.errors.bad_request"
