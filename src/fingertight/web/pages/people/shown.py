"""What every page is told of who looks at it."""

from typing import Any

from django.http import HttpRequest

from fingertight.store.school.people import people
from fingertight.web.jobs.workshop import the_workshop
from fingertight.web.people.who import who_of


def whose_page(request: HttpRequest) -> dict[str, Any]:
    """Context processor: `who` looks, at which address (`looked_at`), and `signers`, the instructors who may sign at
    this tablet, asked for only where a page shows them."""
    return {
        "who": who_of(request),
        "looked_at": request.path,
        "signers": lambda: people(the_workshop(), "instructor", "owner"),
    }
