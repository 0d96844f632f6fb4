"""The owner's page of lists: take one out as CSV, bring one in after a trial that shows what it would do."""

from collections import Counter

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from dispatch.actions import access, lists
from dispatch.actions.errors import Refused
from dispatch.actions.tables import TABLES, Table
from dispatch.web.gate import owner_only

_SHOWN = 200


@require_GET
@owner_only
def overview(request: HttpRequest) -> HttpResponseBase:
    """Show every list with its ways out and in."""
    return render(
        request, "owner/lists.html", {"tables": TABLES.values(), "here": "settings"}
    )


@require_GET
@owner_only
def out(_: HttpRequest, key: str) -> HttpResponseBase:
    """Hand a list out as CSV."""
    answer = HttpResponse(
        lists.written(_table(key)),
        content_type="text/csv; charset=utf-8; header=present",
    )
    answer["Content-Disposition"] = f'attachment; filename="{key}.csv"'
    return answer


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def bring_in(request: HttpRequest, key: str) -> HttpResponseBase:
    """Try a list that was sent, and bring it in once the owner has seen what it does."""
    table = _table(key)
    if request.method != "POST":
        return _shown(request, table, "", (), "")
    by = access.owner(request.user)
    text = ""
    try:
        text = _text(request)
        if "store" in request.POST:
            told = lists.bring_in(table, text, by=by)
            done = sum(one.does != "same" for one in told)
            messages.success(
                request,
                f"Brought in: {done} row{'' if done == 1 else 's'} new or changed.",
            )
            return redirect("lists")
        return _shown(request, table, text, lists.tried(table, text, by=by), "")
    except Refused as refusal:
        return _shown(request, table, text, (), str(refusal))


def _text(request: HttpRequest) -> str:
    """The list as it was sent: a file to be tried, or the text that was tried."""
    sent = request.FILES.get("list")
    if sent is None:
        kept = request.POST.get("text", "")
        if not kept:
            raise Refused("Choose a file first.")
        return kept
    try:
        return str(sent.read(lists.MOST_BYTES + 1), "utf-8-sig")
    except UnicodeDecodeError as error:
        raise Refused("The file is not in UTF-8. Save it as CSV, UTF-8.") from error


def _table(key: str) -> Table:
    if key not in TABLES:
        raise Http404(f"There is no list called {key}.")
    return TABLES[key]


def _shown(
    request: HttpRequest,
    table: Table,
    text: str,
    told: tuple[lists.Told, ...],
    refused: str,
) -> HttpResponseBase:
    counts = Counter(one.does for one in told)
    rows = [one for one in told if one.does != "same"]
    context = {
        "table": table,
        "heads": [table.mark, *(lists.head(entry) for entry in table.entries())],
        "text": text,
        "tried": bool(told),
        "rows": sorted(rows, key=lambda one: one.does != "wrong")[:_SHOWN],
        "counts": counts,
        "more": max(0, len(rows) - _SHOWN),
        "refused": refused,
        "here": "settings",
    }
    status = 422 if refused or counts["wrong"] else 200
    return render(request, "owner/list_in.html", context, status=status)
