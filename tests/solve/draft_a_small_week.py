"""Drafts a small week and prints it; run in a process of its own to see that it repeats."""

from __future__ import annotations

import sys

from tests.weeks import small


def main(seed: int) -> None:
    """Prints the week, proof and all, as JSON."""
    print(small.week(seed).model_dump_json())


if __name__ == "__main__":
    main(int(sys.argv[1]))
