"""Addresses of the owner's pages."""

from datetime import date

from django.urls import path, register_converter
from django.urls.converters import StringConverter

from dispatch.web.owner import (
    cover,
    drop,
    hand,
    happened,
    held,
    links,
    mend,
    moves,
    ways,
    week,
    why,
)


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
    path("why/<str:stage>/moves/put/", hand.put, name="moves-put"),
    path("why/<str:stage>/moves/fast/", hand.fast, name="moves-fast"),
    path("why/<str:stage>/moves/swap/", hand.swap, name="moves-swap"),
    path("why/<str:stage>/moves/leave-out/", hand.leave_out, name="moves-leave-out"),
    path("plan/<int:plan>/drop/<str:stage>/", drop.drop, name="week-drop"),
    path("plan/<int:plan>/ways/<str:job>/", ways.shown, name="week-ways"),
    path("plan/<int:plan>/ways/<str:job>/take/", ways.take, name="week-way"),
    path("plan/<int:plan>/undo/", hand.undo, name="week-undo"),
    path("<iso-date:starts_on>/take-in/<slug:job>/", hand.take_in, name="week-take-in"),
    path("<iso-date:starts_on>/before/", mend.before, name="week-before"),
    path("<iso-date:starts_on>/told/<str:job>/", mend.told, name="week-told"),
    path("<iso-date:starts_on>/regrade/<str:job>/", mend.graded, name="week-regrade"),
    path("<iso-date:starts_on>/cover/<str:job>/", cover.ask, name="week-cover"),
    path("<iso-date:starts_on>/covered/<int:pk>/", cover.on, name="week-covered"),
    path("<iso-date:starts_on>/uncover/<int:pk>/", cover.off, name="week-uncover"),
    path("<iso-date:starts_on>/let-go/<int:pk>/", held.let_go, name="week-let-go"),
    path("<iso-date:starts_on>/came/<int:pk>/", held.came, name="week-came"),
    path("<iso-date:starts_on>/charge/<int:pk>/", held.charge, name="week-charge"),
    path("<iso-date:starts_on>/seen/", mend.looked, name="week-seen"),
    path("<iso-date:starts_on>/still/", mend.still, name="week-still"),
    path("<iso-date:starts_on>/go-on/", mend.go_on, name="week-go-on"),
    path("why/<str:stage>/overrule/", why.overrule, name="overrule"),
    path("why/<str:stage>/stand/<int:pk>/", why.stands, name="rule-stands"),
]
