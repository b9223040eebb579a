"""Photos: taken into what is kept with a form, and shown."""

from django.http import Http404, HttpRequest, HttpResponse
from django.utils.http import url_has_allowed_host_and_scheme

from fingertight.lesson.record.pictures import made_small
from fingertight.store.school.photos import keep_photo, photo_at, take_away
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.pages.refusals import only, see
from fingertight.web.people.who import who_of


@only("GET", "HEAD", "POST")
def photo(request: HttpRequest, photo_id: str, small: str = "") -> HttpResponse:
    """A picture; its address is made from what is in it, so a browser keeps it for an hour. A press takes it away."""
    if request.method == "POST":
        if not take_away(the_workshop(), photo_id):
            raise Http404(photo_id)
        back = request.POST.get("back", "")
        return see(back if url_has_allowed_host_and_scheme(back, None) else "/")
    data = photo_at(the_workshop(), photo_id, small=bool(small))
    if data is None:
        raise Http404(photo_id)
    response = HttpResponse(data, content_type="image/jpeg")
    response["Cache-Control"] = "private, max-age=3600"
    response["X-Content-Type-Options"] = "nosniff"
    return response


def photos_sent(request: HttpRequest, field: str = "photo") -> list[str]:
    """The ids of the pictures that came with a form, kept now. Raises NotAPhoto."""
    by = who_of(request).id
    return [
        keep_photo(the_workshop(), *made_small(sent.read()), by) for sent in request.FILES.getlist(field) if sent.size
    ]
