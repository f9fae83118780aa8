-- +goose Up
CREATE TABLE meta (
  name  TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT;

CREATE TABLE shop (
  id         TEXT PRIMARY KEY,
  name       TEXT NOT NULL,
  created_at INTEGER NOT NULL
) STRICT;

CREATE TABLE staff (
  id         TEXT PRIMARY KEY,
  shop       TEXT NOT NULL REFERENCES shop(id),
  name       TEXT NOT NULL UNIQUE COLLATE NOCASE,
  password   TEXT NOT NULL,
  created_at INTEGER NOT NULL
) STRICT;

-- A phone that joined. jti is looked up at every use of its token.
CREATE TABLE device (
  shop       TEXT NOT NULL REFERENCES shop(id),
  id         TEXT NOT NULL,
  name       TEXT NOT NULL,
  jti        TEXT NOT NULL UNIQUE,
  joined_at  INTEGER NOT NULL,
  heard_at   INTEGER NOT NULL DEFAULT 0,
  revoked_at INTEGER NOT NULL DEFAULT 0,
  PRIMARY KEY (shop, id)
) STRICT;

-- Links and sessions are kept as digests: this file alone opens nothing.
CREATE TABLE invitation (
  digest     TEXT PRIMARY KEY,
  shop       TEXT NOT NULL REFERENCES shop(id),
  staff      TEXT NOT NULL REFERENCES staff(id),
  device     TEXT NOT NULL DEFAULT '',
  created_at INTEGER NOT NULL,
  expires_at INTEGER NOT NULL
) STRICT;

CREATE TABLE share (
  id         TEXT PRIMARY KEY,
  digest     TEXT NOT NULL UNIQUE,
  shop       TEXT NOT NULL REFERENCES shop(id),
  job        TEXT NOT NULL,
  staff      TEXT NOT NULL REFERENCES staff(id),
  created_at INTEGER NOT NULL,
  expires_at INTEGER NOT NULL,
  revoked_at INTEGER NOT NULL DEFAULT 0,
  opened     INTEGER NOT NULL DEFAULT 0
) STRICT;
CREATE INDEX share_job ON share (shop, job);

CREATE TABLE session (
  digest     TEXT PRIMARY KEY,
  staff      TEXT REFERENCES staff(id),
  share      TEXT REFERENCES share(id),
  expires_at INTEGER NOT NULL,
  CHECK ((staff IS NULL) <> (share IS NULL))
) STRICT;
CREATE INDEX session_expires ON session (expires_at);

CREATE TABLE sheet (
  shop        TEXT NOT NULL REFERENCES shop(id),
  hash        TEXT NOT NULL,
  title       TEXT NOT NULL,
  version     TEXT NOT NULL,
  vehicle     TEXT NOT NULL,
  published   INTEGER NOT NULL,
  device      TEXT NOT NULL DEFAULT '', -- the phone that made it, when it is one installer's own
  body        BLOB NOT NULL,
  received_at INTEGER NOT NULL,
  PRIMARY KEY (shop, hash)
) STRICT;

-- The truth. A line is the event's canonical JSON; the other columns only find it.
-- Unique within a shop: a phone that moves to another shop brings its whole log.
CREATE TABLE event (
  server_seq  INTEGER PRIMARY KEY AUTOINCREMENT,
  shop        TEXT NOT NULL REFERENCES shop(id),
  id          TEXT NOT NULL,
  job         TEXT NOT NULL,
  device      TEXT NOT NULL,
  seq         INTEGER NOT NULL,
  tick        INTEGER NOT NULL,
  kind        TEXT NOT NULL,
  line        TEXT NOT NULL,
  received_at INTEGER NOT NULL,
  actor       TEXT NOT NULL,
  UNIQUE (shop, id),
  UNIQUE (shop, job, device, seq)
) STRICT;
CREATE INDEX event_job ON event (shop, job, server_seq);

-- Which device has written in which job: what a phone may read.
CREATE TABLE writer (
  shop   TEXT NOT NULL,
  device TEXT NOT NULL,
  job    TEXT NOT NULL,
  PRIMARY KEY (shop, device, job)
) STRICT, WITHOUT ROWID;

-- The queue, computed from event and sheet; it can be thrown away and rebuilt.
CREATE TABLE job (
  shop      TEXT NOT NULL,
  id        TEXT NOT NULL,
  sheet     TEXT NOT NULL,
  title     TEXT NOT NULL,
  vehicle   TEXT NOT NULL,
  opened_at INTEGER NOT NULL,
  heard_at  INTEGER NOT NULL,
  first_seq INTEGER NOT NULL,
  up        INTEGER NOT NULL,
  not_final INTEGER NOT NULL,
  stops     INTEGER NOT NULL,
  asks      INTEGER NOT NULL,
  notes     INTEGER NOT NULL,
  finished  INTEGER NOT NULL,
  PRIMARY KEY (shop, id)
) STRICT, WITHOUT ROWID;
CREATE INDEX job_queue ON job (shop, stops DESC, asks DESC, heard_at DESC);
CREATE INDEX job_sheet ON job (shop, sheet);
CREATE INDEX job_first ON job (shop, first_seq);
