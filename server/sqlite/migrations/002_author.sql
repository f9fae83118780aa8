-- +goose Up
ALTER TABLE sheet ADD COLUMN staff TEXT REFERENCES staff(id); -- who published it

-- A sheet that is being written. Every save names the revision it was made from.
CREATE TABLE draft (
  id         TEXT PRIMARY KEY,
  shop       TEXT NOT NULL REFERENCES shop(id),
  title      TEXT NOT NULL,
  version    TEXT NOT NULL,
  vehicle    TEXT NOT NULL,
  base       TEXT NOT NULL,
  revision   INTEGER NOT NULL,
  body       BLOB NOT NULL,
  created_at INTEGER NOT NULL,
  changed_at INTEGER NOT NULL,
  staff      TEXT NOT NULL REFERENCES staff(id)
) STRICT;
CREATE INDEX draft_shop ON draft (shop, changed_at DESC);

-- Sheets taken back from use. A row is never changed or removed.
CREATE TABLE withdrawal (
  shop         TEXT NOT NULL,
  hash         TEXT NOT NULL,
  reason       TEXT NOT NULL,
  before_step  TEXT NOT NULL,
  withdrawn_at INTEGER NOT NULL,
  staff        TEXT NOT NULL REFERENCES staff(id),
  PRIMARY KEY (shop, hash),
  FOREIGN KEY (shop, hash) REFERENCES sheet(shop, hash)
) STRICT, WITHOUT ROWID;
