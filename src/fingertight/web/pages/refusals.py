"""One shape for every refusal: what happened, and what to do next. No dead end, no traceback."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.core.exceptions import RequestDataTooBig, SuspiciousOperation
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect, JsonResponse
from django.shortcuts import render

View = Callable[..., HttpResponse]


def only(*methods: str) -> Callable[[View], View]:
    """A view that answers these methods and refuses all others, TRACE among them, with a sentence."""

    def guarded(view: View) -> View:
        @wraps(view)
        def answer(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
            if request.method not in methods:
                return not_allowed(request, ", ".join(methods))
            return view(request, *args, **kwargs)

        return answer

    return guarded


def is_fragment(request: HttpRequest) -> bool:
    """Whether a page that is open already asks, and wants only what lives in it."""
    return request.META.get("HTTP_X_FRAGMENT") == "live"


def is_program(request: HttpRequest) -> bool:
    """Whether a program asks, which wants JSON."""
    return request.META.get("HTTP_ACCEPT") == "application/json"


def see(path: str) -> HttpResponse:
    """The answer to a form that was taken: look there (303, so that loading again sends nothing twice)."""
    return HttpResponseRedirect(path, status=303)


def refused(
    request: HttpRequest, status: int, title: str, mend: str, on: tuple[str, str] = ("/", "Go to the front page")
) -> HttpResponse:
    """The refusal as a page with the way on, or for a program as JSON of one shape."""
    if is_program(request):
        return JsonResponse({"ok": False, "status": status, "text": title, "mend": mend}, status=status)
    said = {"status": status, "title": title, "mend": mend, "where": on[0], "go": on[1]}
    return render(request, "refused.html", said, status=status)


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """400, and what was wrong with the request where that is known."""
    if isinstance(exception, RequestDataTooBig):
        return refused(request, 413, "That is too large", "Send a smaller file.")
    if isinstance(exception, SuspiciousOperation) and "HTTP_HOST" in str(exception):
        return refused(
            request,
            400,
            "This address is not one of the workshop's",
            "Use the address the server printed when it started.",
        )
    return refused(
        request, 400, "The server could not read that", "Go back to the page you came from and try once more."
    )


def forbidden(request: HttpRequest, exception: Exception | None = None, reason: str = "") -> HttpResponse:
    """403: nearly always a page that stayed open while the server's key changed."""
    return refused(
        request,
        403,
        "This page is too old to be sent",
        "Nothing was written. Load the page again, then press once more.",
    )


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """404: the address names nothing."""
    return refused(
        request,
        404,
        "There is nothing at this address",
        "Go to the front page: every bench and machine is listed there.",
    )


def not_allowed(request: HttpRequest, allowed: str) -> HttpResponse:
    """405: the page exists, but not for what was asked of it."""
    response = refused(
        request, 405, "This address does not take that", "Open it in the browser, or go to the front page."
    )
    response["Allow"] = allowed
    return response


def broken(request: HttpRequest) -> HttpResponse:
    """500: our own mistake, said so."""
    return refused(
        request,
        500,
        "Something here is broken, and it is not your doing",
        "Everything answered before is kept. Load the page again; what went wrong stands where the server runs.",
    )
