"""The caller's own day."""

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import access, clock, show_route
from dispatch.api.shapes import route as shapes
from dispatch.api.told import endpoint
from dispatch.api.who import Crew


class RouteView(APIView):
    """The route of the van the caller rides in."""

    permission_classes = (Crew,)

    @endpoint("read-route", shapes.Day, query=shapes.DayAsked, fails=(400, 401, 403))
    def get(self, request: Request) -> Response:
        """Tell the caller's own day of the posted week: stops in order, load, cautions, sun; nobody else's."""
        asked = shapes.DayAsked(data=request.query_params)
        asked.is_valid(raise_exception=True)
        person = access.crew_member(request.user)
        day = asked.validated_data.get("day") or clock.today()
        told = {
            "day": day,
            "next_day": show_route.next_day(person, day),
            "route": show_route.route(person, day),
        }
        return Response(shapes.Day(told).data)
