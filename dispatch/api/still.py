"""Everything held still and let go on; a rule overruled for a posted visit; a job taken into a week again."""

from datetime import date
from typing import cast

from rest_framework import exceptions
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import bumps, overruling, show_why, still
from dispatch.actions.errors import Refused
from dispatch.api.by_hand import named
from dispatch.api.shapes import by_hand as shapes
from dispatch.api.told import endpoint
from dispatch.api.who import Owner
from dispatch.records.models import Account, Job, Override, Stage, Visit, Week

_FAILS = (400, 401, 403, 404, 409)


class StillView(APIView):
    """Whether everything is held still."""

    permission_classes = (Owner,)

    @endpoint("read-still", shapes.Still)
    def get(self, _request: Request) -> Response:
        """Tell whether everything is held still, since when and why."""
        return Response(_told())

    @endpoint("hold-still", shapes.Still, asks=shapes.Why, fails=(400, 401, 403, 409))
    def post(self, request: Request) -> Response:
        """Hold everything still: no plan is taken and no message leaves; film is watched on."""
        shape = shapes.Why(data=request.data)
        shape.is_valid(raise_exception=True)
        still.hold(by=cast("Account", request.user), **shape.validated_data)
        return Response(_told())

    @endpoint("go-on", shapes.Still, fails=(401, 403, 409))
    def delete(self, request: Request) -> Response:
        """Let everything go on; what waited is judged again before it leaves."""
        still.go_on(by=cast("Account", request.user))
        return Response(_told())


def _told() -> dict[str, object]:
    outfit = still.since()
    row: dict[str, object] = {"since": None, "why": ""}
    if outfit:
        row = {"since": outfit.still_since, "why": outfit.still_why}
    return dict(shapes.Still(row).data)


class TakeInView(APIView):
    """A job taken into a week again."""

    permission_classes = (Owner,)

    @endpoint("take-in", shapes.Bumps, asks=shapes.TakeIn, fails=_FAILS)
    def post(self, request: Request, starts_on: date) -> Response:
        """Let a job that was left out by hand be planned in the week again; what is left out still is told."""
        shape = shapes.TakeIn(data=request.data)
        shape.is_valid(raise_exception=True)
        week = Week.objects.filter(starts_on=starts_on).first()
        if week is None:
            raise exceptions.NotFound(
                f"No week starting on {starts_on:%d %B %Y} was asked for."
            )
        job = named(Job, shape.validated_data["job"], "job")
        bumps.take_in(week, job, by=cast("Account", request.user))
        left = [{"job": one.job.key, "why": one.why} for one in bumps.of(week)]
        return Response(shapes.Bumps({"left_out": left}).data)


class OverruleView(APIView):
    """Rules overruled for a stage."""

    permission_classes = (Owner,)

    @endpoint("list-overruled", shapes.Overruled(many=True), fails=(401, 403, 404))
    def get(self, _request: Request, stage: str) -> Response:
        """List what was overruled for a stage, the newest first."""
        rows = Override.objects.filter(stage=_stage(stage)).order_by("-at", "-pk")
        return Response(shapes.Overruled(rows, many=True).data)

    @endpoint(
        "overrule",
        shapes.Overruled(many=True),
        status=201,
        asks=shapes.Overrule,
        fails=_FAILS,
    )
    def post(self, request: Request, stage: str) -> Response:
        """Overrule a rule for a stage's posted visit, with a reason; a wall stands whoever asks."""
        shape = shapes.Overrule(data=request.data)
        shape.is_valid(raise_exception=True)
        visit = Visit.objects.filter(stage=_stage(stage)).first()
        if visit is None:
            raise exceptions.NotFound(f"{stage} has no posted visit.")
        asked = shape.validated_data
        by = cast("Account", request.user)
        overruling.overrule(visit, asked["code"], by=by, why=asked["why"])
        rows = Override.objects.filter(stage=visit.stage).order_by("-at", "-pk")
        return Response(shapes.Overruled(rows, many=True).data, status=201)


class StandsView(APIView):
    """A rule that is to stand again."""

    permission_classes = (Owner,)

    @endpoint("stand-again", None, status=204, fails=(401, 403, 404, 409))
    def delete(self, request: Request, stage: str, pk: int) -> Response:
        """Let a rule that was overruled stand again."""
        row = Override.objects.filter(pk=pk, stage=_stage(stage)).first()
        if row is None:
            raise exceptions.NotFound(f"Nothing of that id is overruled for {stage}.")
        overruling.take_back(row, by=cast("Account", request.user))
        return Response(status=204)


def _stage(stage: str) -> Stage:
    try:
        return show_why.stage_named(stage)
    except Refused as refusal:
        raise exceptions.NotFound(str(refusal)) from refusal
