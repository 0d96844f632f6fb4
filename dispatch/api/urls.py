"""Addresses of this room."""

from datetime import date

from django.urls import URLPattern, URLResolver, path, re_path, register_converter
from django.urls.converters import StringConverter
from drf_spectacular.views import SpectacularAPIView

from dispatch.api import (
    boat,
    by_hand,
    catalogue,
    forecasts,
    history,
    jobs,
    moves,
    nowhere,
    places,
    plans,
    rates,
    route,
    still,
    token,
    weeks,
)


class DateConverter:
    """A calendar date, as 2027-05-24."""

    regex = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"

    def to_python(self, value: str) -> date:
        """Read it; an impossible date matches nothing."""
        return date.fromisoformat(value)

    def to_url(self, value: date) -> str:
        """Write it."""
        return value.isoformat()


class NameConverter(StringConverter):
    """A setting's dotted name, as spray.wind_max_ms."""

    regex = r"[a-z0-9_.-]+"


register_converter(DateConverter, "date")
register_converter(NameConverter, "name")

urlpatterns: list[URLPattern | URLResolver] = [
    path("schema/", SpectacularAPIView.as_view(), name="schema"),
    path("token/", token.TokenView.as_view()),
    path("problems/<slug:kind>/", nowhere.KindView.as_view()),
    path("weeks/", weeks.WeeksView.as_view()),
    path("weeks/<date:starts_on>/", weeks.WeekView.as_view()),
    path("weeks/<date:starts_on>/build/", weeks.BuildView.as_view()),
    path("weeks/<date:starts_on>/rest/", weeks.RestView.as_view()),
    path("weeks/<date:starts_on>/take-in/", still.TakeInView.as_view()),
    path("plans/<int:pk>/", plans.PlanView.as_view()),
    path("plans/<int:pk>/problem/", plans.ProblemView.as_view()),
    path("plans/<int:pk>/stop/", plans.StopView.as_view()),
    path("plans/<int:pk>/post/", plans.PostView.as_view()),
    path("plans/<int:pk>/moves/<str:stage>/", moves.MovesView.as_view()),
    path("plans/<int:pk>/put/<str:stage>/", by_hand.PutView.as_view()),
    path("plans/<int:pk>/fast/<str:stage>/", by_hand.FastView.as_view()),
    path("plans/<int:pk>/swap/", by_hand.SwapView.as_view()),
    path("plans/<int:pk>/leave-out/", by_hand.LeaveOutView.as_view()),
    path("plans/<int:pk>/undo/", by_hand.UndoView.as_view()),
    path("plans/<int:pk>/undo-all/", by_hand.UndoAllView.as_view()),
    path("plans/<int:pk>/leave/", by_hand.LeaveView.as_view()),
    path("overruled/<str:stage>/", still.OverruleView.as_view()),
    path("overruled/<str:stage>/<int:pk>/", still.StandsView.as_view()),
    path("still/", still.StillView.as_view()),
    path("boats/", jobs.BoatsView.as_view()),
    path("jobs/", jobs.JobsView.as_view()),
    path("jobs/<slug:key>/", jobs.JobView.as_view()),
    path("places/", places.PlacesView.as_view()),
    path("forecasts/", forecasts.ForecastsView.as_view()),
    path("forecasts/<slug:place>/", forecasts.ForecastView.as_view()),
    path("settings/", rates.SettingsView.as_view()),
    path("settings/<name:name>/", rates.SettingView.as_view()),
    path("catalogue/", catalogue.CatalogueView.as_view()),
    path("catalogue/<slug:job_kind>/", catalogue.KindView.as_view()),
    path(
        "catalogue/<slug:job_kind>/<int:position>/",
        catalogue.StepView.as_view(),
    ),
    path("route/", route.RouteView.as_view()),
    path("boat/<str:word>/", boat.BoatView.as_view()),
    path("history/", history.HistoryView.as_view()),
    re_path("", nowhere.Nowhere.as_view()),
]
