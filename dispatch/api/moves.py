"""A visit of a plan: what holds it, what another day costs, and moving it there in a draft."""

from typing import TYPE_CHECKING, cast

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import moves
from dispatch.api import plan_rows
from dispatch.api.plans import known
from dispatch.api.shapes import moves as shapes
from dispatch.api.shapes import plans as plan_shapes
from dispatch.api.told import endpoint
from dispatch.api.who import Owner

if TYPE_CHECKING:
    from dispatch.records.models import Account


class MovesView(APIView):
    """One stage's visit in one plan."""

    permission_classes = (Owner,)

    @endpoint("read-moves", shapes.Moves, fails=(401, 403, 404, 409))
    def get(self, _request: Request, pk: int, stage: str) -> Response:
        """Tell what holds a stage's visit and price every day to come; takes a second or two."""
        plan = known(pk)
        row = {
            "holds": moves.holds(plan, stage),
            "days": moves.prices(plan, stage),
        }
        return Response(shapes.Moves(row).data)

    @endpoint(
        "move-visit",
        plan_shapes.WholePlan,
        status=201,
        asks=shapes.Move,
        fails=(400, 401, 403, 404, 409),
    )
    def post(self, request: Request, pk: int, stage: str) -> Response:
        """Make a draft with the visit on another day; nobody is told until that draft is posted."""
        shape = shapes.Move(data=request.data)
        shape.is_valid(raise_exception=True)
        draft = moves.take(
            known(pk),
            stage,
            shape.validated_data["on"],
            by=cast("Account", request.user),
        )
        return Response(
            plan_shapes.WholePlan(plan_rows.whole(draft)).data,
            status=201,
            headers={"Location": f"/api/plans/{draft.pk}/"},
        )
