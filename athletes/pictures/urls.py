"""Addresses of the pictures of an athlete."""

from django.urls import path

from athletes.pictures import views as pictures

urlpatterns = [
    path("athletes/<int:pk>/pictures/", pictures.pictures, name="pictures"),
    path("athletes/<int:pk>/pictures/remove/", pictures.pictures_remove, name="pictures-remove"),
    path("athletes/<int:pk>/pictures/<uuid:uid>/", pictures.picture, name="picture"),
    path("athletes/<int:pk>/pictures/<uuid:uid>/file/", pictures.picture_file, name="picture-file"),
    path("athletes/<int:pk>/pictures/<uuid:uid>/remove/", pictures.picture_remove, name="picture-remove"),
]
