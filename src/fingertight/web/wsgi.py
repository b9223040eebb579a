"""What granian serves: Django, and a watch that ends this worker when the process that started it is gone."""

import multiprocessing
import os
import signal
import threading

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "fingertight.web.settings")


def end_with_parent() -> None:
    """Ends this worker when its parent dies, even by kill -9: one left behind would go on serving, seen by nobody."""
    parent = multiprocessing.parent_process()
    if parent is None:
        return

    def wait() -> None:
        parent.join()
        os.kill(os.getpid(), signal.SIGTERM)

    threading.Thread(target=wait, name="end with parent", daemon=True).start()


application = get_wsgi_application()
end_with_parent()
