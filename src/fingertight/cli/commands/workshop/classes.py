"""`classes`: what classes there are, for the owner at the machine; put away and taken out."""

import sys
from argparse import Namespace
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from fingertight.cli.commands.workshop.home import add_home, opened
from fingertight.cli.terminal import Misused, command, nearest, write

if TYPE_CHECKING:
    from fingertight.store.models import Workshop
    from fingertight.store.school.tables import SchoolClass


def add_parser(commands: Any) -> None:
    """Add `classes` to the commands."""
    classes = command(
        commands,
        "classes",
        "the classes of this workshop; put one away, or take it out again",
        "Lists every class with its machine, benches, students and lessons, those put away last. A class is set up\n"
        "on the web pages. Putting one away keeps everything it did.",
        "fingertight classes --put-away thursday-class",
        with_json=False,
    )
    add_home(classes)
    what = classes.add_mutually_exclusive_group()
    what.add_argument("--put-away", metavar="CLASS", help="the term is over; the name in its address")
    what.add_argument("--take-out", metavar="CLASS", help="it goes on")
    classes.set_defaults(run=run)


def run(options: Namespace) -> int:
    """Do what was asked, and list them."""
    opened(options.home)
    from fingertight.store.models import Workshop

    workshop = Workshop.objects.order_by("id").first()
    if workshop is None:
        raise Misused("This workshop is empty. Start fingertight serve once: it makes one.")
    wanted = options.put_away or options.take_out
    if wanted:
        from fingertight.store.school.classes import put_away

        put_away(_at(workshop, wanted), away=bool(options.put_away))
    write(sys.stdout, "\n".join(_list(workshop)))
    return 0


def _at(workshop: "Workshop", slug: str) -> "SchoolClass":
    from fingertight.store.school.classes import class_at, classes

    found = class_at(workshop, slug)
    if found is None:
        known = [one.slug for away in (False, True) for one in classes(workshop, archived=away)]
        raise Misused(f"There is no class “{slug}” here.{nearest(slug, known)}")
    return found


def _list(workshop: "Workshop") -> Iterator[str]:
    from fingertight.cards.bench.words import counted
    from fingertight.lesson.diary import course_of
    from fingertight.store.school.classes import benches_of, classes, members_of
    from fingertight.store.school.diary import diary

    found = [*classes(workshop), *classes(workshop, archived=True)]
    if not found:
        yield "There is no class yet. Set one up on the front page of fingertight serve."
    for one in found:
        state = course_of(diary(workshop, one.slug))
        said = [
            counted(len(benches_of(one)), "bench"),
            counted(len(members_of(one)), "student"),
            f"{len(state.lessons)} of {one.lessons} lessons",
        ]
        mark = ", put away" if one.archived else ", a lesson is open" if state.now else ""
        yield f"{one.slug}: {one.title}, {one.machine}; {', '.join(said)}{mark}"
