-- +goose Up
-- Which roles somebody has, by words with a space between. Until now everybody
-- could do everything.
ALTER TABLE staff ADD COLUMN roles TEXT NOT NULL DEFAULT '';
ALTER TABLE staff ADD COLUMN ended_at INTEGER NOT NULL DEFAULT 0;
UPDATE staff SET roles = 'administrator';

ALTER TABLE session ADD COLUMN created_at INTEGER NOT NULL DEFAULT 0;
ALTER TABLE session ADD COLUMN used_at INTEGER NOT NULL DEFAULT 0;
UPDATE session SET used_at = unixepoch() * 1000;

ALTER TABLE shop ADD COLUMN keep_days INTEGER NOT NULL DEFAULT 0; -- of finished jobs; 0 keeps them for ever

-- A link for one person: to make an account, or, with staff, to set a new password.
CREATE TABLE staff_link (
  digest     TEXT PRIMARY KEY,
  shop       TEXT NOT NULL REFERENCES shop(id),
  staff      TEXT REFERENCES staff(id),
  roles      TEXT NOT NULL,
  made_by    TEXT REFERENCES staff(id), -- nobody when it was made at the server itself
  expires_at INTEGER NOT NULL
) STRICT;

-- Who did what, for what reason. Names stand in it as they were then; nothing in
-- it is changed or removed.
CREATE TABLE audit (
  id     INTEGER PRIMARY KEY AUTOINCREMENT,
  shop   TEXT NOT NULL REFERENCES shop(id),
  at     INTEGER NOT NULL,
  who    TEXT NOT NULL,
  what   TEXT NOT NULL,
  about  TEXT NOT NULL,
  reason TEXT NOT NULL
) STRICT;
CREATE INDEX audit_shop ON audit (shop, id);
-- +goose StatementBegin
CREATE TRIGGER audit_kept BEFORE DELETE ON audit BEGIN SELECT raise(ABORT, 'the audit is only added to'); END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER audit_unchanged BEFORE UPDATE ON audit BEGIN SELECT raise(ABORT, 'the audit is only added to'); END;
-- +goose StatementEnd

-- Jobs that the shop deleted: a phone that brings one again hears of it. Nothing
-- else is kept of them.
CREATE TABLE deleted_job (
  shop       TEXT NOT NULL,
  job        TEXT NOT NULL,
  deleted_at INTEGER NOT NULL,
  PRIMARY KEY (shop, job)
) STRICT, WITHOUT ROWID;

-- The marks of what was deleted: without them phones would take the server for one
-- that was set back, and send everything again.
CREATE TABLE deleted_mark (
  server_seq INTEGER PRIMARY KEY,
  shop       TEXT NOT NULL,
  mark       TEXT NOT NULL
) STRICT;

-- Pictures whose files are still to be removed.
CREATE TABLE deleted_photo (
  shop   TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  PRIMARY KEY (shop, sha256)
) STRICT, WITHOUT ROWID;
