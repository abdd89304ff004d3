"""The two smallest changes to a word that all who speak to a coach need."""

from __future__ import annotations


def spoken(name: str) -> str:
    """An id as said aloud."""
    return name.replace("_", " ")


def capital(text: str) -> str:
    """A text that begins with a capital; the rest, with its names, stays as it is."""
    return text[:1].upper() + text[1:]
