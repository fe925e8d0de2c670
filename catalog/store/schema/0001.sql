-- Pullbook catalogue, schema 1. One printmaker's or one press's catalogue.
--
-- Habits of this file, true of every table:
--   * id columns hold 16 lower-case base-32 characters, made once at random and never changed.
--   * '' (text) and 0 (numbers) mean "not recorded"; NULL stands for an empty reference and for a
--     quantity that was not measured. A table's not_known column lists, as a JSON array, the
--     fields that were looked into and found not to be known.
--   * times are UTC, written 2006-01-02T15:04:05.000Z; '' is not recorded.
--   * dates of the world are two columns: x_text as somebody wrote it, x_edtf its reading in the
--     Extended Date/Time Format (ISO 8601-2), '' where it could not be read.
--   * sizes are two columns, height and width, in millimetres.
--   * measured quantities are two columns: x, and x_u its standard uncertainty (k = 1).
--   * lists are child tables in which position counts from 0.
--   * references are checked at the end of a transaction.

CREATE TABLE person (           -- somebody with a part in the work
  id        TEXT NOT NULL PRIMARY KEY,
  name      TEXT NOT NULL,      -- as printed
  sort      TEXT NOT NULL,      -- as indexed: family name first
  born_text TEXT NOT NULL, born_edtf TEXT NOT NULL,
  died_text TEXT NOT NULL, died_edtf TEXT NOT NULL,
  roles     TEXT NOT NULL,      -- printmaker, printer, publisher
  note      TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE holder (           -- a person or institution that has or had impressions
  id      TEXT NOT NULL PRIMARY KEY,
  name    TEXT NOT NULL,
  place   TEXT NOT NULL,
  private INTEGER NOT NULL CHECK (private IN (0, 1)), -- 1: may be printed as "private collection"
  short   TEXT NOT NULL,        -- abbreviation used in entries
  note    TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE paper (            -- one stock of paper
  id                 TEXT NOT NULL PRIMARY KEY,
  name               TEXT NOT NULL,
  maker              TEXT NOT NULL,
  kind               TEXT NOT NULL, -- wove, laid, chine collé, japan
  weight_gsm         REAL NOT NULL, -- grams per square metre
  watermark          TEXT NOT NULL,
  watermark_photo_id TEXT REFERENCES photograph (id) DEFERRABLE INITIALLY DEFERRED,
  chain_line_mm      REAL NOT NULL, -- distance of chain lines
  note               TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE ink (
  id     TEXT NOT NULL PRIMARY KEY,
  name   TEXT NOT NULL,
  maker  TEXT NOT NULL,
  colour TEXT NOT NULL,
  note   TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE press (            -- a printing press
  id   TEXT NOT NULL PRIMARY KEY,
  name TEXT NOT NULL,
  note TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE literature (       -- a published or unpublished source
  id        TEXT NOT NULL PRIMARY KEY,
  short     TEXT NOT NULL,      -- how entries cite it
  authors   TEXT NOT NULL,
  title     TEXT NOT NULL,
  published TEXT NOT NULL,      -- place, publisher, series
  year_text TEXT NOT NULL, year_edtf TEXT NOT NULL,
  catalogue INTEGER NOT NULL CHECK (catalogue IN (0, 1)), -- 1: an earlier catalogue of the work
  note      TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE exhibition (
  id        TEXT NOT NULL PRIMARY KEY,
  short     TEXT NOT NULL,
  title     TEXT NOT NULL,
  venue     TEXT NOT NULL,
  place     TEXT NOT NULL,
  date_text TEXT NOT NULL, date_edtf TEXT NOT NULL,
  note      TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE plate_group (      -- a portfolio, series, set or book of plates
  id        TEXT NOT NULL PRIMARY KEY,
  title     TEXT NOT NULL,
  kind      TEXT NOT NULL,
  date_text TEXT NOT NULL, date_edtf TEXT NOT NULL,
  note      TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE imprint (          -- what the catalogue says of itself; one row, id 'imprint'
  id           TEXT NOT NULL PRIMARY KEY CHECK (id = 'imprint'),
  title        TEXT NOT NULL,
  subtitle     TEXT NOT NULL,
  maker_id     TEXT REFERENCES person (id) DEFERRABLE INITIALLY DEFERRED,
  author       TEXT NOT NULL,
  publisher    TEXT NOT NULL,
  place        TEXT NOT NULL,
  year         TEXT NOT NULL,
  introduction TEXT NOT NULL,
  rights       TEXT NOT NULL,
  colophon     TEXT NOT NULL,
  loss_limit   REAL NOT NULL,   -- default limit of wear loss for a good impression, fraction
  tone_limit   REAL NOT NULL,   -- default limit of plate tone, optical density
  dry_hours    INTEGER NOT NULL -- hours from pull to dry, 48 unless changed
) STRICT, WITHOUT ROWID;

CREATE TABLE plate (            -- one worked plate and the work of art made with it
  id            TEXT NOT NULL PRIMARY KEY,
  number_prefix TEXT NOT NULL,  -- catalogue number 'R 31a': prefix R, n 31, suffix a
  number_n      INTEGER NOT NULL,
  number_suffix TEXT NOT NULL,
  standing      TEXT NOT NULL CHECK (standing IN ('', 'accepted', 'doubtful', 'rejected')),
  date_text     TEXT NOT NULL, date_edtf TEXT NOT NULL,
  maker_id      TEXT REFERENCES person (id) DEFERRABLE INITIALLY DEFERRED, -- the printmaker
  metal         TEXT NOT NULL,
  copper_height_mm REAL NOT NULL, copper_width_mm REAL NOT NULL, -- the metal itself
  mark_height_mm   REAL NOT NULL, mark_width_mm   REAL NOT NULL, -- the plate mark as printed
  thickness_mm  REAL NOT NULL,
  bevel_mm      REAL NOT NULL,
  steel_faced   INTEGER NOT NULL CHECK (steel_faced IN (0, 1)),
  steel_faced_at_pull INTEGER NOT NULL,
  fate          TEXT NOT NULL,  -- kept, cancelled, destroyed, lost, not known
  fate_note     TEXT NOT NULL,
  fate_date_text TEXT NOT NULL, fate_date_edtf TEXT NOT NULL,
  loss_limit    REAL NOT NULL,  -- limit of wear loss for a good impression, fraction; 0: the imprint's
  remarks       TEXT NOT NULL,
  not_known     TEXT NOT NULL   -- JSON array of field names
) STRICT, WITHOUT ROWID;

CREATE TABLE plate_title (      -- titles; position 0 is the title used
  plate_id TEXT NOT NULL REFERENCES plate (id) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL,
  text     TEXT NOT NULL,
  language TEXT NOT NULL,       -- BCP 47
  given    TEXT NOT NULL,       -- artist, supplied, other
  PRIMARY KEY (plate_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE plate_technique (
  plate_id  TEXT NOT NULL REFERENCES plate (id) DEFERRABLE INITIALLY DEFERRED,
  position  INTEGER NOT NULL,
  technique TEXT NOT NULL,
  PRIMARY KEY (plate_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE plate_subject (
  plate_id TEXT NOT NULL REFERENCES plate (id) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL,
  subject  TEXT NOT NULL,
  PRIMARY KEY (plate_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE plate_in_group (
  plate_id TEXT NOT NULL REFERENCES plate (id) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL,
  group_id TEXT NOT NULL REFERENCES plate_group (id) DEFERRABLE INITIALLY DEFERRED,
  PRIMARY KEY (plate_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE plate_inscription ( -- writing in the plate; line ends are kept
  plate_id TEXT NOT NULL REFERENCES plate (id) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL,
  text     TEXT NOT NULL,
  place    TEXT NOT NULL,
  medium   TEXT NOT NULL,
  by_whom  TEXT NOT NULL,
  PRIMARY KEY (plate_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE plate_citation (   -- places in the literature that speak of the plate
  plate_id TEXT NOT NULL REFERENCES plate (id) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL,
  work_id  TEXT REFERENCES literature (id) DEFERRABLE INITIALLY DEFERRED,
  pages    TEXT NOT NULL,
  number   TEXT NOT NULL,       -- the other catalogue's number
  state    INTEGER NOT NULL,    -- the state as that work counts it
  note     TEXT NOT NULL,
  PRIMARY KEY (plate_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE plate_showing (    -- exhibitions in which the plate's work was shown
  plate_id      TEXT NOT NULL REFERENCES plate (id) DEFERRABLE INITIALLY DEFERRED,
  position      INTEGER NOT NULL,
  exhibition_id TEXT REFERENCES exhibition (id) DEFERRABLE INITIALLY DEFERRED,
  number        TEXT NOT NULL,
  note          TEXT NOT NULL,
  PRIMARY KEY (plate_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE state (            -- a plate as it stood between two campaigns of work
  id          TEXT NOT NULL PRIMARY KEY,
  plate_id    TEXT NOT NULL REFERENCES plate (id) DEFERRABLE INITIALLY DEFERRED,
  n           INTEGER NOT NULL, -- from 1; printed in roman figures
  description TEXT NOT NULL,    -- by what it is told from the state before
  date_text   TEXT NOT NULL, date_edtf TEXT NOT NULL,
  reference_id       TEXT REFERENCES impression (id) DEFERRABLE INITIALLY DEFERRED, -- reference pull
  reference_photo_id TEXT REFERENCES photograph (id) DEFERRABLE INITIALLY DEFERRED,
  remarks     TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE state_change (     -- patches of new or removed work, in the plate's frame:
  state_id TEXT NOT NULL REFERENCES state (id) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL,    -- x right, y down from the top-left corner of the plate mark
  kind     TEXT NOT NULL CHECK (kind IN ('added', 'removed')),
  x0_mm REAL NOT NULL, y0_mm REAL NOT NULL, x1_mm REAL NOT NULL, y1_mm REAL NOT NULL,
  area_mm2 REAL NOT NULL,
  sure     REAL NOT NULL,       -- 0..1
  words    TEXT NOT NULL,
  ruling   TEXT NOT NULL CHECK (ruling IN ('', 'accepted', 'rejected')),
  PRIMARY KEY (state_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE state_work (       -- the work log of the campaign that made the state
  state_id      TEXT NOT NULL REFERENCES state (id) DEFERRABLE INITIALLY DEFERRED,
  position      INTEGER NOT NULL,
  kind          TEXT NOT NULL,  -- bite, burin, drypoint, burnishing, ...
  date_text     TEXT NOT NULL, date_edtf TEXT NOT NULL,
  note          TEXT NOT NULL,
  tool          TEXT NOT NULL,
  mordant       TEXT NOT NULL,  -- for a bite, as are the next four
  strength      TEXT NOT NULL,
  temperature_c REAL NOT NULL,
  minutes       REAL NOT NULL,
  stopped_out   TEXT NOT NULL,
  PRIMARY KEY (state_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE state_technique (  -- techniques of the work added; none: the plate's
  state_id  TEXT NOT NULL REFERENCES state (id) DEFERRABLE INITIALLY DEFERRED,
  position  INTEGER NOT NULL,
  technique TEXT NOT NULL,
  PRIMARY KEY (state_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE state_citation (   -- the state in the literature: another catalogue may count differently
  state_id TEXT NOT NULL REFERENCES state (id) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL,
  work_id  TEXT REFERENCES literature (id) DEFERRABLE INITIALLY DEFERRED,
  pages    TEXT NOT NULL,
  number   TEXT NOT NULL,
  state    INTEGER NOT NULL,
  note     TEXT NOT NULL,
  PRIMARY KEY (state_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE edition (          -- impressions of one state issued together
  id           TEXT NOT NULL PRIMARY KEY,
  plate_id     TEXT NOT NULL REFERENCES plate (id) DEFERRABLE INITIALLY DEFERRED,
  state_id     TEXT REFERENCES state (id) DEFERRABLE INITIALLY DEFERRED,
  name         TEXT NOT NULL,
  kind         TEXT NOT NULL,   -- edition, restrike, posthumous
  date_text    TEXT NOT NULL, date_edtf TEXT NOT NULL,
  size         INTEGER NOT NULL, -- numbered impressions, 1/N to N/N
  artists      INTEGER NOT NULL, -- artist's proofs
  printers     INTEGER NOT NULL, -- printer's proofs
  hors_commerce INTEGER NOT NULL,
  trials       INTEGER NOT NULL,
  others       INTEGER NOT NULL,
  scheme       TEXT NOT NULL,   -- arabic, roman, unnumbered
  paper_id     TEXT REFERENCES paper (id) DEFERRABLE INITIALLY DEFERRED,
  publisher_id TEXT REFERENCES person (id) DEFERRABLE INITIALLY DEFERRED,
  printer_id   TEXT REFERENCES person (id) DEFERRABLE INITIALLY DEFERRED,
  plate_after  TEXT NOT NULL,   -- the plate's fate once printed
  signed       TEXT NOT NULL,
  stamps       TEXT NOT NULL,
  price        TEXT NOT NULL,
  statement    TEXT NOT NULL,   -- as printed or certified
  remarks      TEXT NOT NULL,
  not_known    TEXT NOT NULL    -- JSON array of field names
) STRICT, WITHOUT ROWID;

CREATE TABLE printing_day (     -- one day's work at the press
  id       TEXT NOT NULL PRIMARY KEY,
  plate_id TEXT NOT NULL REFERENCES plate (id) DEFERRABLE INITIALLY DEFERRED,
  state_id TEXT REFERENCES state (id) DEFERRABLE INITIALLY DEFERRED,
  began    TEXT NOT NULL,
  ended    TEXT NOT NULL,
  note     TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE impression (       -- one printed sheet
  id              TEXT NOT NULL PRIMARY KEY,
  plate_id        TEXT NOT NULL REFERENCES plate (id) DEFERRABLE INITIALLY DEFERRED,
  state_id        TEXT REFERENCES state (id) DEFERRABLE INITIALLY DEFERRED, -- NULL: not yet told
  pull            INTEGER NOT NULL, -- count of pull of this plate from its first
  kind            TEXT NOT NULL CHECK (kind IN ('', 'trial proof', 'state proof', 'bon à tirer', 'numbered',
                    'artist''s proof', 'printer''s proof', 'hors commerce', 'cancellation proof', 'unnumbered')),
  edition_id      TEXT REFERENCES edition (id) DEFERRABLE INITIALLY DEFERRED,
  written         TEXT NOT NULL,    -- the number as written on the sheet
  ordinal         INTEGER NOT NULL, -- '7/30' read as 7 ...
  out_of          INTEGER NOT NULL, -- ... of 30
  paper_id        TEXT REFERENCES paper (id) DEFERRABLE INITIALLY DEFERRED,
  sheet_height_mm REAL NOT NULL, sheet_width_mm REAL NOT NULL,
  watermark       TEXT NOT NULL,    -- where on this sheet, what part shows
  ink_id          TEXT REFERENCES ink (id) DEFERRABLE INITIALLY DEFERRED,
  wiping          TEXT NOT NULL,
  printer_id      TEXT REFERENCES person (id) DEFERRABLE INITIALLY DEFERRED,
  press_id        TEXT REFERENCES press (id) DEFERRABLE INITIALLY DEFERRED,
  day_id          TEXT REFERENCES printing_day (id) DEFERRABLE INITIALLY DEFERRED,
  pulled_at       TEXT NOT NULL,
  printed_text    TEXT NOT NULL, printed_edtf TEXT NOT NULL, -- where pulled_at is not known exactly
  dry_from        TEXT NOT NULL,
  signature       TEXT NOT NULL,
  condition       TEXT NOT NULL,
  holder_id       TEXT REFERENCES holder (id) DEFERRABLE INITIALLY DEFERRED,
  inventory       TEXT NOT NULL,    -- the holder's own number
  decision        TEXT NOT NULL,    -- keep, proof, tear up, sign, '' none yet
  decision_reason TEXT NOT NULL,
  decision_by     TEXT NOT NULL,
  decision_at     TEXT NOT NULL,
  remarks         TEXT NOT NULL,
  not_known       TEXT NOT NULL     -- JSON array of field names
) STRICT, WITHOUT ROWID;

CREATE TABLE impression_inscription (
  impression_id TEXT NOT NULL REFERENCES impression (id) DEFERRABLE INITIALLY DEFERRED,
  position      INTEGER NOT NULL,
  text          TEXT NOT NULL,
  place         TEXT NOT NULL,
  medium        TEXT NOT NULL,
  by_whom       TEXT NOT NULL,
  PRIMARY KEY (impression_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE provenance (       -- who had the sheet, oldest first
  impression_id TEXT NOT NULL REFERENCES impression (id) DEFERRABLE INITIALLY DEFERRED,
  position      INTEGER NOT NULL,
  holder_id     TEXT REFERENCES holder (id) DEFERRABLE INITIALLY DEFERRED,
  name          TEXT NOT NULL,  -- where there is no holder record
  from_text     TEXT NOT NULL, from_edtf TEXT NOT NULL,
  to_text       TEXT NOT NULL, to_edtf TEXT NOT NULL,
  how           TEXT NOT NULL,  -- purchased, gift, bequest
  note          TEXT NOT NULL,
  PRIMARY KEY (impression_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE impression_showing (
  impression_id TEXT NOT NULL REFERENCES impression (id) DEFERRABLE INITIALLY DEFERRED,
  position      INTEGER NOT NULL,
  exhibition_id TEXT REFERENCES exhibition (id) DEFERRABLE INITIALLY DEFERRED,
  number        TEXT NOT NULL,
  note          TEXT NOT NULL,
  PRIMARY KEY (impression_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE impression_citation (
  impression_id TEXT NOT NULL REFERENCES impression (id) DEFERRABLE INITIALLY DEFERRED,
  position      INTEGER NOT NULL,
  work_id       TEXT REFERENCES literature (id) DEFERRABLE INITIALLY DEFERRED,
  pages         TEXT NOT NULL,
  number        TEXT NOT NULL,
  state         INTEGER NOT NULL,
  note          TEXT NOT NULL,
  PRIMARY KEY (impression_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE shooting_session ( -- one set-up of camera and lamps
  id             TEXT NOT NULL PRIMARY KEY,
  began          TEXT NOT NULL,
  camera         TEXT NOT NULL,
  lamps          TEXT NOT NULL,
  blank_photo_id TEXT REFERENCES photograph (id) DEFERRABLE INITIALLY DEFERRED,
  wedge_photo_id TEXT REFERENCES photograph (id) DEFERRABLE INITIALLY DEFERRED,
  note           TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE photograph (       -- one picture file: photographs/<first two of sha256>/<sha256><ext>
  id            TEXT NOT NULL PRIMARY KEY,
  impression_id TEXT REFERENCES impression (id) DEFERRABLE INITIALLY DEFERRED, -- NULL: not yet filed
  view          TEXT NOT NULL CHECK (view IN ('', 'whole sheet', 'detail', 'raking light', 'transmitted light',
                  'blank sheet', 'grey wedge')),
  sha256        TEXT NOT NULL,  -- of the file's bytes, 64 lower-case hex digits
  ext           TEXT NOT NULL,  -- with its dot: .jpg
  bytes         INTEGER NOT NULL,
  name          TEXT NOT NULL,  -- the file's own name when taken in
  width_px      INTEGER NOT NULL,
  height_px     INTEGER NOT NULL,
  orientation   INTEGER NOT NULL, -- EXIF 1..8, 0 none
  taken_at      TEXT NOT NULL,
  camera        TEXT NOT NULL,
  lens          TEXT NOT NULL,
  profile       TEXT NOT NULL,  -- colour profile found, or 'assumed sRGB'
  added_at      TEXT NOT NULL,
  session_id    TEXT REFERENCES shooting_session (id) DEFERRABLE INITIALLY DEFERRED,
  credit        TEXT NOT NULL,
  mark_px       TEXT NOT NULL,  -- JSON [[x,y]*4] or '': corners of the plate mark in stored pixels (before any
                                -- EXIF turn), pixel centres at whole numbers: top-left, top-right, bottom-right,
                                -- bottom-left as the reference stands upright
  mark_by       TEXT NOT NULL,  -- found, by hand, from the reference
  mark_sure     REAL NOT NULL,  -- 0..1
  quality       TEXT NOT NULL,  -- JSON of the measuring room
  filed_by      TEXT NOT NULL,  -- slip, recognised, time order, by hand
  filed_sure    REAL NOT NULL,  -- 0..1
  note          TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE score (            -- one measurement of one photograph against its state's reference pull
  id                 TEXT NOT NULL PRIMARY KEY,
  impression_id      TEXT REFERENCES impression (id) DEFERRABLE INITIALLY DEFERRED,
  photo_id           TEXT REFERENCES photograph (id) DEFERRABLE INITIALLY DEFERRED,
  state_id           TEXT REFERENCES state (id) DEFERRABLE INITIALLY DEFERRED,
  reference_photo_id TEXT REFERENCES photograph (id) DEFERRABLE INITIALLY DEFERRED,
  method             TEXT NOT NULL, -- version of the method
  loss_limit         REAL NOT NULL, -- the limit the verdict was judged against, fraction
  verdict            TEXT NOT NULL, -- within, outside, cannot tell, refused
  reason             TEXT NOT NULL,
  ink_loss        REAL, ink_loss_u        REAL,  -- fraction of the line ink
  wear_loss       REAL, wear_loss_u       REAL,  -- fraction
  plate_tone      REAL, plate_tone_u      REAL,  -- optical density
  tone_unevenness REAL, tone_unevenness_u REAL,  -- optical density
  burr_loss       REAL, burr_loss_u       REAL,  -- fraction
  lines_lost_mm   REAL, lines_lost_mm_u   REAL,  -- mm
  lines_lost      REAL, lines_lost_u      REAL,  -- fraction of the reference's line length
  over_inking     REAL, over_inking_u     REAL,
  registration_mm REAL NOT NULL,
  tone_p5         REAL NOT NULL,
  tone_p95        REAL NOT NULL,
  at              TEXT NOT NULL,
  tiles           TEXT NOT NULL, -- JSON: ink-loss map, row by row from the plate's top-left, null where not measured
  tile_mm         REAL NOT NULL  -- edge of a tile
) STRICT, WITHOUT ROWID;

CREATE INDEX plate_by_number         ON plate (number_prefix, number_n, number_suffix);
CREATE INDEX plate_in_group_by_group ON plate_in_group (group_id);
CREATE INDEX state_by_plate          ON state (plate_id, n);
CREATE INDEX edition_by_plate        ON edition (plate_id);
CREATE INDEX printing_day_by_plate   ON printing_day (plate_id, began);
CREATE INDEX impression_by_plate     ON impression (plate_id, pull = 0, pull, edition_id, ordinal, id); -- pages of sheets
CREATE INDEX impression_by_time      ON impression (pulled_at DESC, pull DESC, id);
CREATE INDEX impression_counts       ON impression (plate_id, pull, pulled_at); -- the list of plates
CREATE INDEX impression_by_state     ON impression (state_id);
CREATE INDEX impression_by_edition   ON impression (edition_id, ordinal);
CREATE INDEX impression_by_holder    ON impression (holder_id);
CREATE INDEX impression_by_day       ON impression (day_id);
CREATE INDEX impression_by_paper     ON impression (paper_id);
CREATE INDEX provenance_by_holder    ON provenance (holder_id);
CREATE INDEX photograph_by_impression ON photograph (impression_id, view, taken_at, added_at);
CREATE INDEX photograph_by_sha256    ON photograph (sha256);
CREATE INDEX photograph_by_session   ON photograph (session_id);
CREATE INDEX score_by_impression     ON score (impression_id, at);
CREATE INDEX score_by_photo          ON score (photo_id);
CREATE INDEX score_by_reference      ON score (reference_photo_id);
CREATE INDEX score_by_state          ON score (state_id);

-- What happened to the catalogue. Rows are only ever added; the standing column alone is changed.
CREATE TABLE action (
  n        INTEGER PRIMARY KEY, -- in order of time
  session  INTEGER NOT NULL,    -- sittings, counted from 1; undo reaches back to the start of its sitting
  who      TEXT NOT NULL,
  at       TEXT NOT NULL,
  label    TEXT NOT NULL,       -- what was done, in the window's words
  kind     TEXT NOT NULL CHECK (kind IN ('do', 'undo', 'redo')),
  of       INTEGER REFERENCES action (n), -- the action that was undone or redone
  standing TEXT NOT NULL CHECK (standing IN ('done', 'undone', 'dropped')) -- of a 'do': in force, taken back, or
                                -- taken back and overtaken by other work
) STRICT;
CREATE INDEX action_by_standing ON action (session, kind, standing, n);

CREATE TABLE change (           -- one record altered by an action of kind 'do'
  action    INTEGER NOT NULL REFERENCES action (n),
  seq       INTEGER NOT NULL,
  noun      TEXT NOT NULL,      -- name of the record's table
  record_id TEXT NOT NULL,
  kind      TEXT NOT NULL CHECK (kind IN ('created', 'changed', 'removed')),
  old       TEXT,               -- JSON object: the fields that differ, as they were; NULL when created
  new       TEXT,               -- JSON object: the fields that differ, as they became; NULL when removed
  PRIMARY KEY (action, seq)
) STRICT, WITHOUT ROWID;
CREATE INDEX change_by_record ON change (record_id, action);

-- What may be searched: made from the records above, can be made again at any time.
CREATE TABLE search_text (
  n         INTEGER PRIMARY KEY,
  noun      TEXT NOT NULL,
  record_id TEXT NOT NULL UNIQUE,
  plate_id  TEXT,
  head      TEXT NOT NULL,      -- what the record is called
  body      TEXT NOT NULL,      -- everything else worth finding
  folded    TEXT NOT NULL       -- head and body, lower case without accents
) STRICT;
CREATE INDEX search_text_by_plate ON search_text (plate_id);
CREATE INDEX search_text_brief    ON search_text (n, noun, record_id, plate_id); -- to pass over the long texts

CREATE TABLE keeping (          -- the program's own bookkeeping
  key   TEXT NOT NULL PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO keeping VALUES ('session', '0'), ('closed', 'yes'), ('search_index', 'none'), ('last_backup', '');
