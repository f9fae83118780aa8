-- A link may be made by a phone, and may let its holder comment or release hold
-- points. Who opened it, and under which name, is kept.
-- +goose Up
CREATE TABLE share_new (
  id         TEXT PRIMARY KEY,
  digest     TEXT NOT NULL UNIQUE,
  shop       TEXT NOT NULL REFERENCES shop(id),
  job        TEXT NOT NULL,
  role       TEXT NOT NULL DEFAULT 'look',
  staff      TEXT REFERENCES staff(id),
  device     TEXT,
  created_at INTEGER NOT NULL,
  expires_at INTEGER NOT NULL,
  revoked_at INTEGER NOT NULL DEFAULT 0,
  opened     INTEGER NOT NULL DEFAULT 0,
  CHECK ((staff IS NULL) <> (device IS NULL))
) STRICT;
INSERT INTO share_new (id, digest, shop, job, staff, created_at, expires_at, revoked_at, opened)
SELECT id, digest, shop, job, staff, created_at, expires_at, revoked_at, opened FROM share;

CREATE TABLE session_new (
  digest     TEXT PRIMARY KEY,
  staff      TEXT REFERENCES staff(id),
  share      TEXT REFERENCES share_new(id),
  expires_at INTEGER NOT NULL,
  CHECK ((staff IS NULL) <> (share IS NULL))
) STRICT;
INSERT INTO session_new SELECT digest, staff, share, expires_at FROM session;
DROP TABLE session;
DROP TABLE share;
ALTER TABLE share_new RENAME TO share;
ALTER TABLE session_new RENAME TO session;
CREATE INDEX share_job ON share (shop, job);
CREATE INDEX session_expires ON session (expires_at);

CREATE TABLE visit (
  session   TEXT PRIMARY KEY,
  share     TEXT NOT NULL REFERENCES share(id) ON DELETE CASCADE,
  name      TEXT NOT NULL,
  opened_at INTEGER NOT NULL
) STRICT;
CREATE INDEX visit_share ON visit (share);
