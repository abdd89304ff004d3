"""The text form of sessions: the shorthand of a board, read forgivingly and written in one fixed form."""

from __future__ import annotations

from planner.language.reader import read_sessions, unknown_names
from planner.language.vocabulary import Vocabulary, vocabulary_of
from planner.language.writer import write_session, write_sessions

__all__ = ["Vocabulary", "read_sessions", "unknown_names", "vocabulary_of", "write_session", "write_sessions"]
