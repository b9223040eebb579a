"""The whole site on one screen."""

from django.urls import path

from fingertight.web.pages import assets, refusals

urlpatterns = [
    path("static/<slug:version>/<path:name>", assets.asset, name="asset"),
]

handler400 = refusals.bad_request
handler403 = refusals.forbidden
handler404 = refusals.not_found
handler500 = refusals.broken
