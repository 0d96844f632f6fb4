"""Who may come in by which door; the actions decide."""

from rest_framework.permissions import IsAuthenticated
from rest_framework.request import Request
from rest_framework.views import APIView

from dispatch.actions import access


class Owner(IsAuthenticated):
    """Lets owners in; anybody else who is signed in is told why not."""

    def has_permission(self, request: Request, view: APIView) -> bool:
        """Whether the caller is signed in; a stranger is refused by sentence."""
        return super().has_permission(request, view) and bool(
            access.owner(request.user)
        )


class Crew(IsAuthenticated):
    """Lets people of the crew in, each for what is their own."""

    def has_permission(self, request: Request, view: APIView) -> bool:
        """Whether the caller is signed in; a stranger is refused by sentence."""
        return super().has_permission(request, view) and bool(
            access.crew_member(request.user)
        )
