"""The style sheet, the modules and the mark, under an address that changes when any of them does."""

import gzip
import hashlib
from functools import cache
from importlib import resources
from typing import NamedTuple

from django.http import Http404, HttpRequest, HttpResponse

from fingertight.web.pages.refusals import only

KINDS = {
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
}


class Asset(NamedTuple):
    """A file as it is sent: its type, its bytes, and the same packed."""

    kind: str
    plain: bytes
    packed: bytes


@cache
def assets() -> dict[str, Asset]:
    """Every file of `static/`, read once."""
    found = {}
    for file in sorted(resources.files("fingertight.web").joinpath("static").iterdir(), key=lambda file: file.name):
        kind = KINDS.get("." + file.name.rpartition(".")[2])
        if kind:
            plain = file.read_bytes()
            found[file.name] = Asset(kind, plain, gzip.compress(plain, 9, mtime=0))
    return found


@cache
def stamp() -> str:
    """A short hash over all the files: modules import each other by plain names, so they share one stamp."""
    whole = hashlib.sha256()
    for name, asset in assets().items():
        whole.update(name.encode() + b"\0" + asset.plain)
    return whole.hexdigest()[:12]


def where_assets_are(request: HttpRequest) -> dict[str, str]:
    """For every template: the folder the assets of this version are under."""
    return {"assets": f"/static/{stamp()}/"}


@only("GET", "HEAD")
def asset(request: HttpRequest, version: str, name: str) -> HttpResponse:
    """One file; kept for a year by the browser, since a changed file has another address."""
    file = assets().get(name)
    if file is None or version != stamp():
        raise Http404(name)
    packs = "gzip" in request.headers.get("Accept-Encoding", "")
    response = HttpResponse(file.packed if packs else file.plain, content_type=file.kind)
    if packs:
        response["Content-Encoding"] = "gzip"
    response["Vary"] = "Accept-Encoding"
    response["Cache-Control"] = "public, max-age=31536000, immutable"
    return response
