"""The stage catalogue: read it, change a step's rates or a kind's prices."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, cast

from django.shortcuts import get_object_or_404
from rest_framework import exceptions
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import catalogue, catalogue_bounds
from dispatch.api.shapes import catalogue as shapes
from dispatch.api.told import endpoint
from dispatch.api.who import Owner
from dispatch.records.models import CatalogueRow, JobKind

if TYPE_CHECKING:
    from dispatch.records.models import Account


class CatalogueView(APIView):
    """The whole catalogue."""

    permission_classes = (Owner,)

    @endpoint("list-catalogue", shapes.CatalogueKind(many=True))
    def get(self, _request: Request) -> Response:
        """List every kind of job with its visits and their steps, in the order they are done."""
        kinds = JobKind.objects.prefetch_related("rows")
        return Response(
            shapes.CatalogueKind([shapes.kind_row(k) for k in kinds], many=True).data
        )


class KindView(APIView):
    """One kind of job."""

    permission_classes = (Owner,)
    refused_as = 422

    @endpoint("read-kind", shapes.CatalogueKind, fails=(401, 403, 404))
    def get(self, _request: Request, job_kind: str) -> Response:
        """Read one kind of job with its visits and their steps."""
        kind = get_object_or_404(JobKind, key=job_kind)
        return Response(shapes.CatalogueKind(shapes.kind_row(kind)).data)

    @endpoint(
        "change-kind",
        shapes.CatalogueKind,
        asks=shapes.KindChange,
        fails=(400, 401, 403, 404, 422),
    )
    def patch(self, request: Request, job_kind: str) -> Response:
        """Change what a kind of job is called and costs; jobs already taken keep their price."""
        kind = get_object_or_404(JobKind, key=job_kind)
        values, why = _given(shapes.KindChange(data=request.data))
        _told(catalogue_bounds.kind_faults(values))
        kind = catalogue.change_kind(kind, values, by=_by(request), why=why)
        return Response(shapes.CatalogueKind(shapes.kind_row(kind)).data)


class StepView(APIView):
    """One step of a kind of job."""

    permission_classes = (Owner,)
    refused_as = 422

    @endpoint("read-step", shapes.Step, fails=(401, 403, 404))
    def get(self, _request: Request, job_kind: str, position: int) -> Response:
        """Read one step by its kind of job and its position."""
        return Response(shapes.Step(_row(job_kind, position)).data)

    @endpoint(
        "change-step",
        shapes.Step,
        asks=shapes.StepChange,
        fails=(400, 401, 403, 404, 409, 422),
    )
    def patch(self, request: Request, job_kind: str, position: int) -> Response:
        """Change a step; stages in the book that are neither posted nor begun are reckoned again by it."""
        row = _row(job_kind, position)
        values, why = _given(shapes.StepChange(data=request.data))
        _told(catalogue_bounds.faults(row, values))
        row = catalogue.change_row(row, values, by=_by(request), why=why)
        return Response(shapes.Step(row).data)


def _row(job_kind: str, position: int) -> CatalogueRow:
    if position > shapes.LAST_POSITION:
        raise exceptions.NotFound(f"There is no step {position}.")
    return get_object_or_404(CatalogueRow, kind__key=job_kind, position=position)


def _given(shape: Any) -> tuple[dict[str, Any], str]:  # noqa: ANN401 - one of the two changes
    """What was sent, and why.

    Raises:
        ValidationError: a field is of the wrong kind, or there is none.
    """
    shape.is_valid(raise_exception=True)
    values = dict(shape.validated_data)
    why = values.pop("why", "")
    if not values:
        raise exceptions.ValidationError("Send at least one field to change.")
    return values, why


def _told(faults: Mapping[str, str]) -> None:
    """Name every field that will not do, as 400 does."""
    if faults:
        raise exceptions.ValidationError({f: [said] for f, said in faults.items()})


def _by(request: Request) -> "Account":
    return cast("Account", request.user)
