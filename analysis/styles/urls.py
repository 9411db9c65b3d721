"""Address of the comparison of styles."""

from django.urls import path

from analysis.styles.views import styles

urlpatterns = [path("athletes/<int:pk>/styles/", styles, name="styles")]
