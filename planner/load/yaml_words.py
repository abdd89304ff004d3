"""What the YAML parser found wrong, in words for a coach."""

from __future__ import annotations

# In the parser's words, pure and compiled; the first that is part of what it says.
_WORDS = {
    "',' or ']'": "a list in square brackets is not closed, or a comma is missing in it",
    "',' or '}'": "a set in braces is not closed, or a comma is missing in it",
    "'-' indicator": "a line of a list has no dash before it, or is indented otherwise than the others",
    "expected ':'": "a key has no colon after it",
    "expected key": "a key is missing here, or this line is indented otherwise than those above",
    "mapping values are not allowed": "a colon stands where none can be, or the line is indented too far",
    "mapping keys are not allowed": "a key stands where none can be",
    "block sequence entries are not allowed": "a dash stands where no list can begin",
    "cannot start any token": "a value begins with a character that needs quotes around it",
    "unexpected end of stream": "a quote is not closed",
    "unexpected document indicator": "a quote is not closed",
    "escape c": "a backslash in quotes is followed by what it cannot be",
    "expected whitespace": "a space is missing here",
    "expected comment or line break": "something follows that does not belong on this line",
    "node content": "a value is missing here",
    "nesting depth": "this is nested far too deep",
    "<document start>": "something follows after the end of the file's content",
}
ADVICE = (
    "Look at this line and the one before it: the indentation, a colon without a space after it, "
    "a bracket or a quote that does not close."
)


def in_words(said: str) -> str:
    """What the parser says, as a sentence about the line.

    Args:
        said: by the parser: "did not find expected key".
    """
    known = next((words for part, words in _WORDS.items() if part in said), "")
    return f"this is not YAML: {known or 'this line cannot be made out'}"
