"""What a shell learns from a command that ends early."""

from __future__ import annotations

import pytest

from planner.errors import DataError, NoPlanError, SolverFault
from tests.cli.conftest import Run


@pytest.mark.parametrize(
    ("error", "code"), [(DataError("bad"), 2), (NoPlanError("none"), 3), (SolverFault("ours"), 70)]
)
def test_each_kind_of_error_has_its_own(
    error: Exception, code: int, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    from planner.weeks import draft as drafting

    def fail(*_: object, **__: object) -> None:
        raise error

    monkeypatch.setattr(drafting, "draft", fail)
    answer = run("draft", "demo", "--week", "2026-W49")
    assert answer.code == code
    assert str(error).split("\n")[0] in answer.err
