"""`serve`: the web app on this machine; the demo workshop on a first start."""

import os
import socket
import sys
from argparse import Namespace
from importlib import import_module
from pathlib import Path
from typing import Any

from fingertight.cli.commands.workshop.home import add_home, opened
from fingertight.cli.terminal import Misused, command, write

BLOCKING_THREADS = 32
OWNER = "Owner"
LAN_MEANS = """\
--lan: every machine on this network can open these pages. Who is not signed in sees the wall without names, the
sums and the exercises, and no more. Students join with a code while a lesson is open; those who teach sign in with a
password. Plain HTTP can be read by others on the wifi: use a network you trust; Ctrl-C stops it after the lesson."""


def add_parser(commands: Any) -> None:
    """Add `serve` to the commands."""
    serve = command(
        commands,
        "serve",
        "the web app on this machine; a demo workshop on the first start",
        "Serves the workshop's pages and prints their address. Ctrl-C stops it.\n"
        "Everything is kept in one folder; a second start finds it as it was left.",
        "fingertight serve --port 8010",
        with_json=False,
    )
    serve.add_argument("--port", metavar="N", default="8010", help="the port to listen on (8010)")
    add_home(serve)
    serve.add_argument(
        "--lan", action="store_true", help="let other machines on this network in; prints what that means"
    )
    serve.set_defaults(run=run)


def run(options: Namespace) -> int:
    """Prepare the folder, serve until Ctrl-C, and leave no worker behind. 0: stopped as asked; 1: the server failed."""
    port = _port(options.port)
    hosts = _own_addresses() if options.lan else []
    address = "0.0.0.0" if options.lan else "127.0.0.1"
    _refuse_a_taken_port(address, port)
    home = _prepared(options.home, hosts)
    write(sys.stdout, f"The workshop is in {home}.")
    for name in ["localhost", *hosts]:
        write(sys.stdout, f"Open http://{name}:{port}/ in a browser. Ctrl-C stops it.")
    if options.lan:
        write(sys.stdout, LAN_MEANS)
        token = _owners_link()
        if token:
            write(sys.stdout, f"Owner: open this once to choose your password: http://{hosts[-1]}:{port}/teach/{token}")
    return _served(address, port)


def _port(text: str) -> int:
    if not (text.isascii() and text.isdecimal() and 1 <= int(text) <= 65535):
        raise Misused(f"--port: “{text}” is no port. Write a number from 1024 to 65535.")
    return int(text)


def _refuse_a_taken_port(address: str, port: int) -> None:
    with socket.socket() as tried:
        if os.name == "posix":  # elsewhere this option would let two programs share the port
            tried.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            tried.bind((address, port))
        except OSError as fault:
            why = fault.strerror or str(fault)
            raise Misused(
                f"Port {port} cannot be used ({why.lower()}). Try fingertight serve --port {port + 1}"
            ) from None


def _own_addresses() -> list[str]:
    """This machine's names on the network: its host name, its name for other machines, and its address."""
    name = socket.gethostname()
    found = [name, f"{name}.local"]
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # sends nothing: asks which of our addresses would be used (RFC 5737)
            found.append(probe.getsockname()[0])
        except OSError:
            write(sys.stderr, "This machine has no network address now; only its name is printed.")
    return list(dict.fromkeys(found))


def _prepared(home: str | None, hosts: list[str]) -> Path:
    """The workshop's folder with its database up to date, and the demo workshop in it on a first start."""
    folder = opened(home, hosts=tuple(hosts), beyond=bool(hosts), make=True)
    from datetime import UTC, datetime

    from django.db import DatabaseError, connections

    from fingertight.store.demo.workshop import make_demo

    try:
        if make_demo(datetime.now(UTC)):
            write(sys.stdout, "A first start: a demo workshop is made. Everything in it is invented.")
    except DatabaseError as fault:
        raise Misused(
            f"The workshop's database in {folder} cannot be used ({fault}). Restore the last backup."
        ) from None
    finally:
        connections.close_all()
    return folder


def _owners_link() -> str:
    """What lets the owner choose a password, where nobody who owns the workshop has one yet; "" where somebody has."""
    from django.db import connections

    from fingertight.store.models import Workshop
    from fingertight.store.school.links import first_link
    from fingertight.store.school.people import has_password, keep_person, people

    try:
        workshop = Workshop.objects.order_by("id").first()
        if workshop is None:
            return ""
        owners = people(workshop, "owner")
        if any(has_password(one) for one in owners):
            return ""
        return first_link(owners[0] if owners else keep_person(workshop, OWNER, "", "owner"))
    finally:
        connections.close_all()


def application() -> Any:
    """What the worker process serves. Named by text, since rooms of a person's hands do not know each other."""
    return import_module("fingertight.web.wsgi").application


def _served(address: str, port: int) -> int:
    """Granian with one worker process of its own; `web.wsgi` ends that worker if this process dies."""
    import multiprocessing

    from granian import Granian
    from granian.constants import Interfaces, Loops

    multiprocessing.set_start_method("spawn", force=True)  # a fork would share this process's database connections
    server = Granian(
        "fingertight.web.wsgi:application",
        address=address,
        port=port,
        interface=Interfaces.WSGI,
        workers=1,
        blocking_threads=BLOCKING_THREADS,
        blocking_threads_idle_timeout=600,
        backlog=1024,
        loop=Loops.asyncio,
        websockets=False,
        log_enabled=False,
        workers_kill_timeout=10,
    )
    try:
        server.serve(target_loader=application, wrap_loader=False)
    except SystemExit as leaving:
        return leaving.code if isinstance(leaving.code, int) else 1
    write(sys.stdout, "Stopped. Everything is kept.")
    return 0
