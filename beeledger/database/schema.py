"""Which schema this program writes, and what of it the tables cannot say themselves."""

from __future__ import annotations

HEAD = "0002"
"""The newest schema revision; a test holds it against the migrations."""

LET_GO: frozenset[str] = frozenset()
"""Names of CHECKs, triggers and unique indexes that a step drops or rewrites on purpose; all others must survive it."""

_OVERLAP = """
CREATE TRIGGER placement_no_overlap_{when} AFTER {when} ON placement
WHEN EXISTS (SELECT 1 FROM placement p WHERE p.colony_id = NEW.colony_id AND p.id <> NEW.id
  AND (p.until_at IS NULL OR p.until_at > NEW.from_at) AND (NEW.until_at IS NULL OR NEW.until_at > p.from_at))
BEGIN SELECT RAISE(ABORT, 'placement overlap'); END
"""
TRIGGERS_SQLITE = tuple(_OVERLAP.format(when=when).strip() for when in ("INSERT", "UPDATE"))
"""No two placements of one colony overlap. Made again after any step that recreates the table."""

EXCLUSION_POSTGRESQL = """
ALTER TABLE placement ADD CONSTRAINT ex_placement_overlap EXCLUDE USING gist
(int8range(colony_id, colony_id, '[]') WITH &&, tstzrange(from_at, until_at, '[)') WITH &&)
""".strip()
"""The same on PostgreSQL; ranges of one number need no extension."""
