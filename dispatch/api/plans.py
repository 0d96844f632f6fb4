"""Plans of weeks: who goes where, what it costs, what is left out and why."""

from typing import Any, cast

from drf_spectacular.types import OpenApiTypes
from rest_framework import exceptions
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import planning
from dispatch.api import plan_rows
from dispatch.api.shapes import plans as shapes
from dispatch.api.told import endpoint
from dispatch.api.who import Owner
from dispatch.records.models import Account, WeekPlan


def known(pk: int) -> WeekPlan:
    """The plan of that id.

    Raises:
        NotFound: there is none.
    """
    plan = WeekPlan.objects.filter(pk=pk).select_related("week", "asked_by").first()
    if plan is None:
        raise exceptions.NotFound(f"There is no plan {pk}. /api/weeks/ lists them.")
    return plan


class PlanView(APIView):
    """One plan."""

    permission_classes = (Owner,)

    @endpoint("read-plan", shapes.WholePlan, fails=(401, 403, 404))
    def get(self, _request: Request, pk: int) -> Response:
        """Tell a whole plan: van-days with visits and tows, cost by parts, what is left out and why."""
        return Response(shapes.WholePlan(plan_rows.whole(known(pk))).data)


class ProblemView(APIView):
    """What the planner was asked."""

    permission_classes = (Owner,)

    @endpoint("read-problem", OpenApiTypes.OBJECT, fails=(401, 403, 404))
    def get(self, _request: Request, pk: int) -> Response:
        """Give the week problem of a built plan, by the contract week-problem/2."""
        problem: dict[str, Any] = known(pk).problem
        if not problem:
            raise exceptions.NotFound(
                f"Plan {pk} has no week problem: it was not built. Wait for it, or read its fault."
            )
        return Response(problem)


class StopView(APIView):
    """Stop the planner."""

    permission_classes = (Owner,)

    @endpoint("stop-plan", shapes.Plan, status=202, fails=(401, 403, 404))
    def post(self, request: Request, pk: int) -> Response:
        """Have the planner stop soon with the best week so far; a plan not being built stays as it is."""
        planning.stop(known(pk), by=cast("Account", request.user))
        return Response(shapes.Plan(plan_rows.short(known(pk))).data, status=202)


class PostView(APIView):
    """Make a draft the standing week."""

    permission_classes = (Owner,)

    @endpoint(
        "post-plan",
        shapes.WholePlan,
        asks=shapes.Reason,
        fails=(400, 401, 403, 404, 409),
    )
    def post(self, request: Request, pk: int) -> Response:
        """Post a draft: visits, holds, notices and history at once, or nothing.

        Where it breaks a rule of the house that the owner may overrule, it needs a reason why.
        """
        shape = shapes.Reason(data=request.data)
        shape.is_valid(raise_exception=True)
        planning.post(
            known(pk), by=cast("Account", request.user), **shape.validated_data
        )
        return Response(shapes.WholePlan(plan_rows.whole(known(pk))).data)
