"""A boat's page for her owner, opened by the word in a link, without signing in."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from dispatch.actions import access, show_boat
from dispatch.actions.errors import Stranger


@require_safe
@never_cache
def show(request: HttpRequest, word: str) -> HttpResponse:
    """The page of the boat a link belongs to; a plain page where it opens nothing."""
    try:
        job = access.job_of_link(word)
    except Stranger as stranger:
        return render(
            request, "customer/no_boat.html", {"sentence": str(stranger)}, status=404
        )
    page = show_boat.boat_page(job)
    answer = render(request, "customer/boat.html", {"boat": page})
    # The address is the key: no list of pages may hold it, and no other site is told it.
    answer["X-Robots-Tag"] = "noindex, nofollow"
    answer["Referrer-Policy"] = "no-referrer"
    return answer
