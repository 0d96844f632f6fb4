"""Weeks: which there are, how their plans stand, and asking for one to be built."""

from datetime import date
from typing import Any, cast

from rest_framework import exceptions
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import planning, replanning
from dispatch.api import plan_rows
from dispatch.api.shapes import plans as shapes
from dispatch.api.told import endpoint
from dispatch.api.who import Owner
from dispatch.records.models import Account, Week, WeekPlan


class WeeksView(APIView):
    """All weeks."""

    permission_classes = (Owner,)

    @endpoint("list-weeks", shapes.Week(many=True))
    def get(self, _request: Request) -> Response:
        """List the weeks that were asked for, the latest first."""
        weeks = Week.objects.order_by("-starts_on").prefetch_related("plans")
        return Response(shapes.Week([_week(week) for week in weeks], many=True).data)


class WeekView(APIView):
    """One week."""

    permission_classes = (Owner,)

    @endpoint("read-week", shapes.WholeWeek, fails=(401, 403, 404))
    def get(self, _request: Request, starts_on: date) -> Response:
        """Tell a week's plans: state, cost, progress, and the stages left out with the reason of each."""
        week = Week.objects.filter(starts_on=starts_on).first()
        if week is None:
            raise exceptions.NotFound(
                f"No week starting on {starts_on:%d %B %Y} was asked for. Build it first."
            )
        plans = week.plans.select_related("week", "asked_by").order_by(
            "-asked_at", "-id"
        )
        row = _week(week) | {"plans": [plan_rows.short(plan) for plan in plans]}
        return Response(shapes.WholeWeek(row).data)


class BuildView(APIView):
    """Have a week built."""

    permission_classes = (Owner,)

    @endpoint(
        "build-week",
        shapes.Plan,
        status=202,
        asks=shapes.Ask,
        fails=(400, 401, 403, 404, 409),
    )
    def post(self, request: Request, starts_on: date) -> Response:
        """Ask for a draft of the week; it is built in the background. Read the plan to see how far it is."""
        shape = shapes.Ask(data=request.data)
        shape.is_valid(raise_exception=True)
        plan = planning.ask(
            starts_on, by=cast("Account", request.user), **shape.validated_data
        )
        return Response(
            shapes.Plan(plan_rows.short(plan)).data,
            status=202,
            headers={"Location": f"/api/plans/{plan.pk}/"},
        )


class RestView(APIView):
    """Have what is left of a standing week planned anew."""

    permission_classes = (Owner,)

    @endpoint(
        "replan-week",
        shapes.Plan,
        status=202,
        asks=shapes.AskRest,
        fails=(400, 401, 403, 404, 409),
    )
    def post(self, request: Request, starts_on: date) -> Response:
        """Ask for a draft of the rest of the week from now on; nobody is told until it is posted."""
        shape = shapes.AskRest(data=request.data)
        shape.is_valid(raise_exception=True)
        week = Week.objects.filter(starts_on=starts_on).first()
        if week is None:
            raise exceptions.NotFound(
                f"No week starting on {starts_on:%d %B %Y} was asked for. Build it first."
            )
        plan = replanning.ask(
            week, by=cast("Account", request.user), **shape.validated_data
        )
        return Response(
            shapes.Plan(plan_rows.short(plan)).data,
            status=202,
            headers={"Location": f"/api/plans/{plan.pk}/"},
        )


def _week(week: Week) -> dict[str, Any]:
    standing = [
        plan.pk for plan in week.plans.all() if plan.state == WeekPlan.State.STANDING
    ]
    return {
        "starts_on": week.starts_on,
        "days": week.days,
        "version": week.version,
        "standing": standing[0] if standing else None,
    }
