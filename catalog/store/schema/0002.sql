-- Schema 2: the language of what is printed, and how the printed catalogue is put together.

ALTER TABLE imprint ADD COLUMN language TEXT NOT NULL DEFAULT ''; -- BCP 47; '' English

CREATE TABLE book_part (        -- one part of the printed catalogue; none at all: the usual parts in their usual order
  imprint_id TEXT NOT NULL REFERENCES imprint (id) DEFERRABLE INITIALLY DEFERRED,
  position   INTEGER NOT NULL,
  kind       TEXT NOT NULL,     -- introduction, the plates, index of titles, own text …
  heading    TEXT NOT NULL,     -- instead of the usual one
  text       TEXT NOT NULL,     -- the user's own, with *italic*, **strong**, '## ' before heads
  off        INTEGER NOT NULL CHECK (off IN (0, 1)), -- 1: left out
  PRIMARY KEY (imprint_id, position)
) STRICT, WITHOUT ROWID;
