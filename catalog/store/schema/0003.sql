-- Schema 3: parts of a plate that are scored by themselves.

CREATE TABLE plate_region (     -- a part of the plate, such as the sky
  plate_id TEXT NOT NULL REFERENCES plate (id) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL,
  name     TEXT NOT NULL,
  outline  TEXT NOT NULL,       -- polygon in plate millimetres, as the points of an SVG polygon: 5,5 135,5 135,40
  PRIMARY KEY (plate_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE score_region (     -- what a region scored in one measurement
  score_id     TEXT NOT NULL REFERENCES score (id) DEFERRABLE INITIALLY DEFERRED,
  position     INTEGER NOT NULL,
  name         TEXT NOT NULL,
  outline      TEXT NOT NULL,   -- as it was then
  ink_loss     REAL, ink_loss_u REAL,     -- fraction; NULL: could not be measured
  plate_tone   REAL, plate_tone_u REAL,   -- optical density
  why          TEXT NOT NULL,   -- why something could not be measured
  PRIMARY KEY (score_id, position)
) STRICT, WITHOUT ROWID;
