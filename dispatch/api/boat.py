"""A boat's page, for whoever holds the word of her link."""

from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from dispatch.actions import access, show_boat
from dispatch.api.shapes.route import BoatPage
from dispatch.api.told import endpoint


class BoatView(APIView):
    """One boat, by the signed word in the customer's link."""

    authentication_classes = ()
    permission_classes = (AllowAny,)

    @endpoint("read-boat", BoatPage, fails=(403, 404))
    def get(self, _request: Request, word: str) -> Response:
        """Tell where the boat stands and what comes next; a word that opens nothing is refused."""
        page = show_boat.boat_page(access.job_of_link(word))
        return Response(BoatPage(page).data)
