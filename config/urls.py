from django.urls import include, path

urlpatterns = [
    path("", include("athletes.urls")),
    path("", include("analysis.urls")),
]
handler400 = "athletes.web.errors.bad_request"
