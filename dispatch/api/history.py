"""Who changed what, when and why."""

from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.api.told import endpoint
from dispatch.api.who import Owner
from dispatch.records.models import HistoryEntry


class Entry(serializers.Serializer[Any]):
    """One change, in a sentence."""

    id = serializers.IntegerField()
    at = serializers.DateTimeField()
    actor = serializers.CharField()
    verb = serializers.CharField()
    subject = serializers.CharField()
    sentence = serializers.CharField()
    why = serializers.CharField(allow_blank=True)


class Page(serializers.Serializer[Any]):
    """Some entries, the newest first, and what to ask for as ``before`` to read on."""

    entries = Entry(many=True)
    before = serializers.IntegerField(allow_null=True)


class Asked(serializers.Serializer[Any]):
    """Which entries, and how many."""

    before = serializers.IntegerField(min_value=1, max_value=2**63 - 1, required=False)
    subject = serializers.CharField(
        max_length=120, required=False, help_text="As: job J1, week 2027-05-24."
    )
    limit = serializers.IntegerField(min_value=1, max_value=500, default=100)


class HistoryView(APIView):
    """The history."""

    permission_classes = (Owner,)

    @endpoint("list-history", Page, query=Asked, fails=(400, 401, 403))
    def get(self, request: Request) -> Response:
        """List changes, the newest first, all or those of one subject."""
        asked = Asked(data=request.query_params)
        asked.is_valid(raise_exception=True)
        limit = asked.validated_data["limit"]
        found = list(_entries(asked.validated_data)[: limit + 1])
        more = found[limit - 1].pk if len(found) > limit else None
        return Response(Page({"entries": found[:limit], "before": more}).data)


def _entries(asked: dict[str, Any]) -> Any:  # noqa: ANN401 - a set of rows, sliced by the caller
    rows = HistoryEntry.objects.order_by("-id")
    if "subject" in asked:
        rows = rows.filter(subject=asked["subject"])
    return rows.filter(id__lt=asked["before"]) if "before" in asked else rows
