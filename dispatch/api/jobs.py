"""Boats and the book of jobs: read it, take a job into it."""

from typing import cast

from rest_framework import exceptions
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import book
from dispatch.api import job_rows
from dispatch.api.shapes import jobs as shapes
from dispatch.api.told import endpoint
from dispatch.api.who import Owner
from dispatch.records.models import Account, Boat, Job


class BoatsView(APIView):
    """All boats."""

    permission_classes = (Owner,)

    @endpoint("list-boats", shapes.BoatShape(many=True))
    def get(self, _request: Request) -> Response:
        """List the boats by name: how each lies, whose she is, and her jobs."""
        boats = Boat.objects.select_related("customer", "place").prefetch_related(
            "jobs"
        )
        return Response(shapes.BoatShape(boats, many=True).data)


class JobsView(APIView):
    """The book of jobs."""

    permission_classes = (Owner,)

    @endpoint(
        "list-jobs",
        shapes.JobShape(many=True),
        query=shapes.JobsAsked,
        fails=(400, 401, 403),
    )
    def get(self, request: Request) -> Response:
        """List the jobs by key, all or those of one state."""
        asked = shapes.JobsAsked(data=request.query_params)
        asked.is_valid(raise_exception=True)
        jobs = Job.objects.filter(**asked.validated_data).select_related(
            "boat", "kind", "sheet"
        )
        return Response(shapes.JobShape(jobs, many=True).data)

    # A job that is refused is so for what it says, not for how things stand.
    refused_as = 422

    @endpoint(
        "take-job",
        shapes.WholeJob,
        status=201,
        asks=shapes.TakeJob,
        fails=(400, 401, 403, 422),
    )
    def post(self, request: Request) -> Response:
        """Take a job into the book and make its stages; all or nothing."""
        shape = shapes.TakeJob(data=request.data)
        shape.is_valid(raise_exception=True)
        job = book.take_job(by=cast("Account", request.user), **shape.validated_data)
        return Response(
            _whole(job), status=201, headers={"Location": f"/api/jobs/{job.key}/"}
        )


class JobView(APIView):
    """One job."""

    permission_classes = (Owner,)

    @endpoint("read-job", shapes.WholeJob, fails=(401, 403, 404))
    def get(self, _request: Request, key: str) -> Response:
        """Tell a job's stages: when the sky lets each be done, and every veto with its numbers."""
        job = (
            Job.objects.filter(key=key).select_related("boat", "kind", "sheet").first()
        )
        if job is None:
            raise exceptions.NotFound(
                f"There is no job {key}. /api/jobs/ lists those in the book."
            )
        return Response(_whole(job))


def _whole(job: Job) -> dict[str, object]:
    stages = job_rows.whole(job)
    return {
        **shapes.JobShape(job).data,
        **shapes.JobStages(stages).data,
    }
