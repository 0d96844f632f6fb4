"""A boat's page for her owner, opened by the word in a link, without signing in, and what they answer on it."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from dispatch.actions import access, customer_word, show_boat
from dispatch.actions.errors import Refused, Stranger
from dispatch.records.models import Job

_THANKS = "Thank you, we have it."


@require_safe
@never_cache
def show(request: HttpRequest, word: str) -> HttpResponse:
    """The page of the boat a link belongs to; a plain page where it opens nothing."""
    try:
        job = access.job_of_link(word)
    except Stranger as stranger:
        return _nothing(request, stranger)
    return _page(request, job, word)


@require_POST
@never_cache
def answer(request: HttpRequest, word: str) -> HttpResponseBase:
    """Keep what was answered; a refusal shows the page again with its sentence."""
    words = request.POST.get("words", "")
    try:
        job = access.job_of_link(word)
    except Stranger as stranger:
        return _nothing(request, stranger)
    try:
        customer_word.give(job, request.POST.get("answer", ""), words)
    except Refused as refusal:
        return _page(request, job, word, refused=str(refusal), words=words)
    messages.success(request, _THANKS)
    return redirect("boat", word=word)


def _page(
    request: HttpRequest, job: Job, word: str, *, refused: str = "", words: str = ""
) -> HttpResponse:
    page = show_boat.boat_page(job)
    found = {"boat": page, "word": word, "refused": refused, "words": words}
    status = 422 if refused else 200
    made = render(request, "customer/boat.html", found, status=status)
    # The address is the key: no list of pages may hold it, and no other site is told it.
    made["X-Robots-Tag"] = "noindex, nofollow"
    # A browser that tells its own site nothing posts from nowhere, and would be refused.
    made["Referrer-Policy"] = "same-origin"
    return made


def _nothing(request: HttpRequest, stranger: Stranger) -> HttpResponse:
    found = {"sentence": str(stranger)}
    return render(request, "customer/no_boat.html", found, status=404)
