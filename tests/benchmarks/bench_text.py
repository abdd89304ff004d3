"""How long a week of text takes to read and to write, in processor time; prints, and asserts nothing.

python -m tests.benchmarks.bench_text
"""

from __future__ import annotations

import time

from planner.domain.gym import DAY_NAMES
from planner.language import read_sessions, vocabulary_of, write_sessions
from tests.language import texts
from tests.solve.demo import shipped

TIMES = 30


def week() -> str:
    """Six days from the corpus, each with its pieces, about as much as a coach writes."""
    whole = [text.text.split("\n", 1)[1] for text in texts.sessions() if text.name.startswith(("15_", "05_"))]
    bodies = [body for body in whole if body.strip()][: len(DAY_NAMES) - 1]
    return "\n".join(f"{name}\n{body}" for name, body in zip(DAY_NAMES.values(), bodies, strict=False))


def main() -> None:
    """Print the least and the middle of some tries, milliseconds."""
    catalogue, gym, _ = shipped()
    vocabulary, text = vocabulary_of(catalogue, gym), week()
    started = time.process_time()
    sessions = read_sessions(text, vocabulary)
    print(f"first time, vocabulary and grammar made: {1000 * (time.process_time() - started):.0f} ms")
    for name, work in (
        ("read", lambda: read_sessions(text, vocabulary)),
        ("write", lambda: write_sessions(sessions, vocabulary)),
    ):
        tries = []
        for _ in range(TIMES):
            started = time.process_time()
            work()
            tries.append(1000 * (time.process_time() - started))
        middle = sorted(tries)[TIMES // 2]
        print(f"{name} {len(text.splitlines())} lines: {min(tries):.1f} ms, middle {middle:.1f} ms")


if __name__ == "__main__":
    main()
