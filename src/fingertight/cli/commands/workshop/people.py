"""`people`: who teaches here, for the owner at the machine; new links, unlocking, forgetting."""

from argparse import Namespace
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from fingertight.cli.commands.workshop.home import add_home, opened
from fingertight.cli.terminal import Misused, command, nearest, write

if TYPE_CHECKING:
    from fingertight.store.models import Workshop
    from fingertight.store.school.tables import Person

ROLES = ("instructor", "owner")


def add_parser(commands: Any) -> None:
    """Add `people` to the commands."""
    people = command(
        commands,
        "people",
        "who teaches in this workshop; links for new passwords, unlocking, forgetting",
        "Lists owners and instructors, with --students everybody. Who forgot a password gets a new link with --link:\n"
        "whoever opens it first chooses the password. The link works at the address that fingertight serve printed.",
        "fingertight people --add Tilda --as instructor",
        with_json=False,
    )
    add_home(people)
    what = people.add_mutually_exclusive_group()
    what.add_argument("--add", metavar="NAME", help="add somebody who teaches here, and print a link")
    what.add_argument("--link", metavar="NAME", help="a new link; the old password and number go, sessions end")
    what.add_argument("--unlock", metavar="NAME", help="after five wrong tries: may try again; sessions end")
    what.add_argument("--forget", metavar="NAME", help="the name goes; every log stays whole")
    people.add_argument(
        "--as", dest="role", metavar="ROLE", default="instructor", help="instructor or owner, for --add"
    )
    people.add_argument("--students", action="store_true", help="list students too")
    people.set_defaults(run=run)


def run(options: Namespace) -> int:
    """Do what was asked, and say it."""
    import sys

    opened(options.home)
    from fingertight.store.models import Workshop

    workshop = Workshop.objects.order_by("id").first()
    if workshop is None:
        raise Misused("This workshop is empty. Start fingertight serve once: it makes one.")
    write(sys.stdout, "\n".join(_done(options, workshop)))
    return 0


def _done(options: Namespace, workshop: "Workshop") -> Iterator[str]:
    from fingertight.store.school.links import first_link
    from fingertight.store.school.people import forget, keep_person, sign_out_everywhere, take_password

    if options.add is not None:
        name = " ".join(options.add.split())[:40]
        if options.role not in ROLES or not name:
            raise Misused(
                f"--as: “{options.role}” is none of {', '.join(ROLES)}." if name else "--add: the name is empty."
            )
        if any(one.name.casefold() == name.casefold() for one in _everybody(workshop, *ROLES)):
            raise Misused(f"There is a {name} here already. Add a letter, so that both can sign in.")
        person = keep_person(workshop, name, "", options.role)
        yield from (f"{name} teaches here now, as {options.role}.", *_link(first_link(person)))
    elif options.link is not None:
        person = _named(workshop, options.link, *ROLES)
        take_password(person)
        person.refresh_from_db()
        yield from (f"{person.name}’s old password and number are gone.", *_link(first_link(person)))
    elif options.unlock is not None:
        person = _named(workshop, options.unlock, *ROLES, "student")
        sign_out_everywhere(workshop, [person.id])
        yield f"{_called(person)} may try again, and is signed out everywhere."
    elif options.forget is not None:
        person = _named(workshop, options.forget, *ROLES, "student")
        forget(person)
        yield "Forgotten: the name is gone, every log is whole."
    else:
        yield from _list(workshop, (*ROLES, "student") if options.students else ROLES)


def _link(token: str) -> tuple[str, str]:
    return ("Open this once, within a week, at the address that fingertight serve printed:", f"  /teach/{token}")


def _list(workshop: "Workshop", roles: tuple[str, ...]) -> Iterator[str]:
    from fingertight.store.school.people import has_password

    found = _everybody(workshop, *roles)
    if not found:
        yield "Nobody signs in here: whoever sits at this machine is the owner. Add somebody with --add NAME."
    for one in found:
        ready = bool(one.number) if one.role == "student" else has_password(one)
        what = "number" if one.role == "student" else "password"
        yield f"{_called(one)}, {one.role}{'' if ready else f': has chosen no {what} yet'}"


def _everybody(workshop: "Workshop", *roles: str) -> "list[Person]":
    from fingertight.store.school.people import people

    return people(workshop, *roles)


def _called(person: "Person") -> str:
    return f"{person.name} {person.mark}".strip()


def _named(workshop: "Workshop", typed: str, *roles: str) -> "Person":
    """The one that is meant: by first name, with the mark where two have it. Raises Misused."""
    wanted, everybody = " ".join(typed.split()).casefold(), _everybody(workshop, *roles)
    exact = [one for one in everybody if _called(one).casefold() == wanted]
    found = exact or [one for one in everybody if one.name.casefold() == wanted]
    if len(found) == 1:
        return found[0]
    if found:
        raise Misused(f"Several are called {typed}: write {' or '.join(_called(one) for one in found)}.")
    raise Misused(f"Nobody here is called “{typed}”.{nearest(typed, [_called(one) for one in everybody])}")
