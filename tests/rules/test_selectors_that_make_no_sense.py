"""Rules whose selector the kind cannot speak of are refused when they are read.

Before, such a rule was taken, and audit and model measured different things: spacing about hard days counted
every day in the audit; ``together`` with ``each`` forgot its selectors' own patterns in the model.
"""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from tests.rules.universe import rule

HARD = {"hardness": "hard"}
SQUAT = {"pattern": "squat"}


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"kind": "spacing", "where": HARD, "hours": 48}, "use `sequence`"),
        ({"kind": "share", "of": HARD, "to": SQUAT, "within": 1}, "about lines"),
        ({"kind": "share", "of": SQUAT, "to": {"domain": "short"}, "within": 1}, "about lines"),
        ({"kind": "rotate", "what": "movement", "where": {"format": "ladder"}}, "weekday_format"),
        (
            {"kind": "together", "with": SQUAT, "never": {"load": "heavy"}, "each": "pattern"},
            "leave `pattern` out",
        ),
        ({"kind": "together", "with": {}, "needs": SQUAT, "each": "pattern"}, "leave `pattern` out"),
        ({"kind": "limit", "where": HARD, "count": "days", "each": "pattern", "at_most": 1}, "about lines"),
        ({"kind": "limit", "where": HARD, "count": "lines", "at_most": 1}, "counted in days"),
        ({"kind": "limit", "where": SQUAT}, "at_least, at_most"),
        ({"kind": "limit", "where": SQUAT, "at_least": 2, "at_most": 1}, "more than"),
        ({"kind": "limit", "where": SQUAT, "per": "span", "at_most": 1}, "go together"),
        ({"kind": "limit", "where": SQUAT, "each": "movement", "at_least": 1}, "no week has every movement"),
        ({"kind": "sequence", "never": [HARD]}, "two days"),
        ({"kind": "sequence"}, "one of them"),
        ({"kind": "sequence", "never": [HARD, HARD], "differ": "domain"}, "one of them"),
        ({"kind": "limit", "where": SQUAT, "at_most": 1, "must": True, "weight": 2}, "not both"),
    ],
)
def test_refused_with_a_word_on_what_to_write(fields: dict, said: str) -> None:
    with pytest.raises(ValidationError, match=said):
        rule(**fields)
