"""The store's tables as they are now; ``migrations.py`` made them."""

from __future__ import annotations

from sqlalchemy import Column, ForeignKey, Integer, LargeBinary, MetaData, String, Table

_metadata = MetaData()

weeks_json = Table(
    "weeks_json",
    _metadata,
    Column("sha256", String, primary_key=True),  # of the week's JSON text
    Column("packed", LargeBinary, nullable=False),
)

revisions = Table(
    "revisions",
    _metadata,
    Column("id", Integer, primary_key=True),
    Column("week", String, nullable=False),
    Column("parent", Integer, ForeignKey("revisions.id")),  # null: the first of the week
    Column("created", String, nullable=False),
    Column("verb", String, nullable=False),
    Column("state", LargeBinary, nullable=False),
    Column("sha256", String, nullable=False),  # of the state's JSON text, which names its weeks' hashes
)

moves = Table(
    "moves",
    _metadata,
    Column("id", Integer, primary_key=True),
    Column("week", String, nullable=False),
    Column("revision", Integer, ForeignKey("revisions.id")),  # null: undone to before the first
    Column("kind", String, nullable=False),
)
"""The last row of a week says where it stands."""
