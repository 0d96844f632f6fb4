"""A plan changed by hand: a visit put elsewhere, people swapped, a job left out, made fast, taken back, left aside.

Every change makes a draft; nobody is told until it is posted. The plan in the address is the one the caller saw:
where somebody else has changed the same boat since, the answer is 409, problem ``stale``, and nothing is changed.
"""

from collections.abc import Sequence
from typing import Any, cast

from django.db.models import Model
from rest_framework import exceptions
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import bumps, by_hand, by_hand_rows, pins, replanning
from dispatch.api import plan_rows
from dispatch.api.plans import known
from dispatch.api.shapes import by_hand as shapes
from dispatch.api.shapes import plans as plan_shapes
from dispatch.api.told import endpoint
from dispatch.api.who import Owner
from dispatch.records.models import Account, Job, Person, Van, WeekPlan

_FAILS = (400, 401, 403, 404, 409)


def named(kind: type[Model], key: str, field: str) -> Any:  # noqa: ANN401 - a row of that kind
    """The row that a body names by its key.

    Raises:
        ValidationError: there is none.
    """
    row = kind.objects.filter(key=key).first()  # type: ignore[attr-defined]
    if row is None:
        what = kind.__name__.lower()
        raise exceptions.ValidationError({field: [f"There is no {what} {key}."]})
    return row


def drafted(draft: WeekPlan) -> Response:
    """A draft that was made, and where it is."""
    return Response(
        plan_shapes.WholePlan(plan_rows.whole(draft)).data,
        status=201,
        headers={"Location": f"/api/plans/{draft.pk}/"},
    )


def _account(request: Request) -> Account:
    return cast("Account", request.user)


def _people(keys: Sequence[str]) -> tuple[Person, ...]:
    return tuple(named(Person, key, "team") for key in keys)


class PutView(APIView):
    """A stage's visit at a van and a minute."""

    permission_classes = (Owner,)

    @endpoint("try-visit", shapes.Answer, query=shapes.Put, fails=_FAILS)
    def get(self, request: Request, pk: int, stage: str) -> Response:
        """Tell what putting the visit there would do, or what binds; nothing is changed."""
        asked = shapes.Put(data=request.query_params)
        asked.is_valid(raise_exception=True)
        answer = by_hand.try_put(known(pk), stage, *_where(asked), team=_team(asked))
        return Response(shapes.Answer(answer).data)

    @endpoint(
        "put-visit", plan_shapes.WholePlan, status=201, asks=shapes.Put, fails=_FAILS
    )
    def post(self, request: Request, pk: int, stage: str) -> Response:
        """Make a draft with the visit there; nobody is told until that draft is posted."""
        asked = shapes.Put(data=request.data)
        asked.is_valid(raise_exception=True)
        made = by_hand.put(
            known(pk), stage, *_where(asked), by=_account(request), team=_team(asked)
        )
        return drafted(made)


def _where(asked: shapes.Put) -> tuple[Van, Any]:
    given = asked.validated_data
    return named(Van, given["van"], "van"), given["start"]


def _team(asked: shapes.Put) -> tuple[Person, ...]:
    return _people(asked.validated_data.get("team", ()))


class SwapView(APIView):
    """Who rides a van's day."""

    permission_classes = (Owner,)

    @endpoint(
        "swap-people", plan_shapes.WholePlan, status=201, asks=shapes.Swap, fails=_FAILS
    )
    def post(self, request: Request, pk: int) -> Response:
        """Make a draft in which one person rides a van's day in another's stead."""
        shape = shapes.Swap(data=request.data)
        shape.is_valid(raise_exception=True)
        asked, plan = shape.validated_data, known(pk)
        day = (asked["on"] - plan.week.starts_on).days
        if not 0 <= day < plan.week.days:
            raise exceptions.ValidationError({"on": ["That is no day of this week."]})
        out, into = (named(Person, asked[name], name) for name in ("out", "into"))
        van = named(Van, asked["van"], "van")
        return drafted(by_hand.swap(plan, van, day, out, into, by=_account(request)))


class LeaveOutView(APIView):
    """A job left out of the plan's week."""

    permission_classes = (Owner,)

    @endpoint(
        "leave-out",
        plan_shapes.WholePlan,
        status=201,
        asks=shapes.LeaveOut,
        fails=_FAILS,
    )
    def post(self, request: Request, pk: int) -> Response:
        """Make a draft without a job; no build of that week plans it until it is taken in again."""
        shape = shapes.LeaveOut(data=request.data)
        shape.is_valid(raise_exception=True)
        asked = shape.validated_data
        job = named(Job, asked["job"], "job")
        made = bumps.leave_out(known(pk), job, by=_account(request), why=asked["why"])
        return drafted(made)


class FastView(APIView):
    """A visit made fast to the van and minute the plan has it at."""

    permission_classes = (Owner,)

    @endpoint("make-fast", shapes.Fast, fails=(401, 403, 404, 409))
    def post(self, request: Request, pk: int, stage: str) -> Response:
        """Make it fast: no plan moves it until it is cast off."""
        pin = pins.make_fast(known(pk), stage, by=_account(request))
        return Response(shapes.Fast(pin).data)

    @endpoint("cast-off", None, status=204, fails=(401, 403, 404, 409))
    def delete(self, request: Request, pk: int, stage: str) -> Response:
        """Cast it off: it may be moved again."""
        pins.cast_off(known(pk), stage, by=_account(request))
        return Response(status=204)


class UndoView(APIView):
    """The last change by hand."""

    permission_classes = (Owner,)

    @endpoint("undo-change", plan_shapes.WholePlan, fails=(401, 403, 404, 409))
    def post(self, request: Request, pk: int) -> Response:
        """Take the last change of a draft back; the plan it was made of is told."""
        origin = by_hand_rows.undo(known(pk), by=_account(request))
        return Response(plan_shapes.WholePlan(plan_rows.whole(origin)).data)


class UndoAllView(APIView):
    """Every change by hand that a draft is made of."""

    permission_classes = (Owner,)

    @endpoint("undo-changes", plan_shapes.WholePlan, fails=(401, 403, 404, 409))
    def post(self, request: Request, pk: int) -> Response:
        """Take all of them back, the newest first, or none; the plan before them is told."""
        origin = by_hand_rows.undo_all(known(pk), by=_account(request))
        return Response(plan_shapes.WholePlan(plan_rows.whole(origin)).data)


class LeaveView(APIView):
    """A draft that is not taken."""

    permission_classes = (Owner,)

    @endpoint("leave-draft", plan_shapes.Plan, fails=(401, 403, 404, 409))
    def post(self, request: Request, pk: int) -> Response:
        """Leave a draft aside: what stands goes on standing. To take it, post it."""
        replanning.leave(known(pk), by=_account(request))
        return Response(plan_shapes.Plan(plan_rows.short(known(pk))).data)
