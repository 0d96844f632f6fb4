"""Addresses of the owner's pages."""

from datetime import date

from django.urls import path, register_converter
from django.urls.converters import StringConverter

from dispatch.web.owner import happened, links, mend, moves, week, why


class IsoDate:
    """A date in an address, as 2027-05-24."""

    regex = r"\d{4}-\d{2}-\d{2}"

    def to_python(self, value: str) -> date:
        return date.fromisoformat(value)

    def to_url(self, value: date) -> str:
        return value.isoformat()


class Told(StringConverter):
    """One of the things that may have happened."""

    regex = happened.WHAT


register_converter(IsoDate, "iso-date")
register_converter(Told, "told")

urlpatterns = [
    path("", week.week, name="week"),
    path("<iso-date:starts_on>/", week.week, name="week-of"),
    path("<iso-date:starts_on>/forecasts/", week.forecasts, name="week-forecasts"),
    path("<iso-date:starts_on>/forecasts/asked/", week.asked, name="week-asked"),
    path("<iso-date:starts_on>/build/", week.build, name="week-build"),
    path("<iso-date:starts_on>/rest/", mend.rest, name="week-rest"),
    path("<iso-date:starts_on>/happened/", happened.happened, name="week-happened"),
    path("<iso-date:starts_on>/happened/<told:what>/", happened.tell, name="week-tell"),
    path("plan/<int:plan>/leave/", mend.leave, name="week-leave"),
    path("plan/<int:plan>/stop/", week.stop, name="week-stop"),
    path("plan/<int:plan>/post/", week.post, name="week-post"),
    path("plan/<int:plan>/progress/", week.built, name="week-progress"),
    path("links/", links.links, name="boat-links"),
    path("why/<str:stage>/", why.why, name="why"),
    path("why/<str:stage>/moves/", moves.shown, name="moves"),
    path("why/<str:stage>/moves/take/", moves.take, name="moves-take"),
    path("why/<str:stage>/overrule/", why.overrule, name="overrule"),
    path("why/<str:stage>/stand/<int:pk>/", why.stands, name="rule-stands"),
]
