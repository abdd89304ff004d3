"""Inputs made by chance: what a mistyped, a cut, a pasted or a malicious file may hold."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

SCALE = 20
"""So many times the usual number of examples, on request: ten thousand in all."""

numbers = st.one_of(
    st.integers(),
    st.integers(-3, 3),
    st.sampled_from([2**31, 2**63, -(2**63), 10**18, 10**30, 999_999_999]),
    st.floats(allow_nan=False, allow_infinity=False),
)
signs = st.characters()  # of every class of Unicode, halves of characters among them
texts = st.one_of(
    st.text(signs, max_size=12),
    st.sampled_from(
        ["", " ", "\u0661\u0668:00", "\u202e", "\x00", "\x1b[2J", "\ufeff", "a" * 400, "..", "null", "~"]
    ),
)
leaves = st.one_of(st.none(), st.booleans(), numbers, texts)


def _nested(inner: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.one_of(st.lists(inner, max_size=4), st.dictionaries(texts, inner, max_size=4))


values = st.recursive(leaves, _nested, max_leaves=12)


def over(strategy: st.SearchStrategy[Any], check: Callable[[Any], object], examples: int) -> None:
    """Runs a check over so many values."""
    wanted = settings(
        max_examples=examples, deadline=None, database=None, derandomize=True,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
    )  # fmt: skip
    wanted(given(strategy)(check))()


@st.composite
def spoilt(draw: st.DrawFn, good: Any) -> Any:
    """A good value with one to three things in it taken out, doubled or put in place of something else."""
    data = json.loads(json.dumps(good))
    for _ in range(draw(st.integers(1, 3))):
        data = _spoil(draw, data)
    return data


def _spoil(draw: st.DrawFn, data: Any) -> Any:
    if not isinstance(data, dict | list) or not data or draw(st.integers(0, 5)) == 0:
        return draw(values)
    keys = sorted(data) if isinstance(data, dict) else range(len(data))
    key = draw(st.sampled_from(list(keys)))
    how = draw(st.sampled_from(["deeper", "deeper", "deeper", "deeper", "out", "twice", "other"]))
    if how == "deeper":
        data[key] = _spoil(draw, data[key])
    elif how == "out":
        del data[key]
    elif how == "twice" and isinstance(data, list):
        data.append(data[key])
    elif isinstance(data, dict):
        data[draw(texts)] = draw(values)
    else:
        data.insert(key, draw(values))
    return data


def as_json(data: Any) -> bytes:
    """As text that YAML reads too; halves of characters as they are written in JSON."""
    return json.dumps(data, ensure_ascii=False, indent=1).encode("utf-8", "surrogatepass")


STRANGE_BYTES = [
    *(b"\t", b"\r", b"\x00", b"&a [*a]", b"!!python/object:os.system", b"---\n", b"{" * 40, b"- " * 40, b'"'),
    *(b": ", b"1e999", b"\xff\xfe", b"\xed\xa0\x80", b"<<: *x", b"9" * 400),
]


@st.composite
def torn(draw: st.DrawFn, good: bytes) -> bytes:
    """A good file with bytes cut out, put in or turned over."""
    data = bytearray(good)
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, max(0, len(data) - 1)))
        length = draw(st.sampled_from([0, 1, 1, 7, 500]))
        data[at : at + length] = draw(st.one_of(st.binary(max_size=5), st.sampled_from(STRANGE_BYTES)))
    return bytes(data)
