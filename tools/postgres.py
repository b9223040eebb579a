"""Starts a PostgreSQL server of its own in a temporary folder (the wheel `pgserver` brings it), runs a command with
DATABASE_URL naming it, and stops it: `python tools/postgres.py pytest tests/postgres`."""

import os
import subprocess
import sys
import tempfile
import warnings


def main(command: list[str]) -> int:
    """The command's exit status."""
    warnings.simplefilter("ignore")
    import pgserver

    with tempfile.TemporaryDirectory(prefix="pg-") as folder:
        server = pgserver.get_server(folder, cleanup_mode=None)
        try:
            here = {**os.environ, "DATABASE_URL": server.get_uri()}
            return subprocess.run([sys.executable, "-m", *command], env=here, check=False).returncode
        finally:
            server.cleanup_mode = "stop"
            server.cleanup()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
