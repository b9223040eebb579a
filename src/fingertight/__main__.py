"""`python -m fingertight` and the `fingertight` command."""

import sys

from fingertight.cli.frame import answer


def main() -> None:
    """Answer what was typed, and leave with its exit status: 0 all is well, 1 the answer is no, 2 misused."""
    sys.exit(answer(sys.argv[1:]))


if __name__ == "__main__":
    main()
