"""What is kept is proven to be what it was, and of a version that this planner reads."""

from __future__ import annotations

from typing import Any

import pytest

from planner.domain.week import SCHEMA_VERSION
from planner.errors import DataError
from planner.store.packing import packed, sha256_of, unpacked, week_from
from tests.store.small import small_week


@pytest.mark.parametrize("version", [SCHEMA_VERSION + 1, SCHEMA_VERSION - 1, None])
def test_a_week_of_another_version_is_refused_whatever_is_in_it(version: Any) -> None:
    data = small_week("2026-W49").model_dump(mode="json") | {"schema_version": version}
    with pytest.raises(DataError, match=f"of version {version}; version {SCHEMA_VERSION} is read"):
        week_from(data, "revision 7")


def test_a_text_that_is_not_what_was_stored_is_damaged() -> None:
    assert unpacked(packed("so"), sha256_of("so"), "it") == "so"
    for blob, sha256 in ((packed("so"), sha256_of("no")), (b"x", sha256_of("so")), (packed("so")[:-1], "")):
        with pytest.raises(DataError, match="it is damaged"):
            unpacked(blob, sha256, "it")
