"""What every answer says to the browser, and what no request may bring: two small middlewares."""

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from fingertight.web.pages.refusals import refused

Answer = Callable[[HttpRequest], HttpResponse]

# Nothing from elsewhere, nothing inline, no eval; fragments go through the one named policy (static/live.js).
POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
        "require-trusted-types-for 'script'",
        "trusted-types fingertight",
    )
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "Permissions-Policy": "geolocation=(), microphone=(), payment=(), usb=()",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Resource-Policy": "same-origin",
}


class SafeHeaders:
    """Says on every answer, errors included, that the page loads and sends nothing elsewhere."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """The answer with its headers; a page is not kept by the browser unless it says so itself."""
        response = self.get_response(request)
        for name, value in HEADERS.items():
            response.setdefault(name, value)
        response.setdefault("Cache-Control", "no-store")
        return response


TAKES_FILMS = "/films"


class SmallEnough:
    """Refuses a body larger than the workshop takes before any of it is read."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """The answer, or a sentence with status 413."""
        length = request.META.get("CONTENT_LENGTH") or "0"
        if request.path == TAKES_FILMS and length.isdigit():
            if int(length) > settings.LARGEST_FILM_BYTES:
                most = settings.LARGEST_FILM_BYTES // 1024**3
                mend = f"A film may have {most} GB at most; make it smaller, or cut it into the lessons it is for."
                return refused(request, 413, "That is too large", mend, (TAKES_FILMS, "The films there are"))
        elif not length.isdigit() or int(length) > settings.LARGEST_BODY_BYTES:
            most = settings.LARGEST_BODY_BYTES // (1024 * 1024)
            return refused(request, 413, "That is too large", f"A file may be {most} MB at most; send a smaller one.")
        return self.get_response(request)
