-- +goose Up
-- Two events may stand at one place of a chain: a phone that was restored from an
-- old copy wrote on. Both happened, so both are kept.
CREATE TABLE event_new (
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
  mark        TEXT NOT NULL DEFAULT (lower(hex(randomblob(8)))), -- of this storing; a file that was put back has others later
  UNIQUE (shop, id)
) STRICT;
INSERT INTO event_new (server_seq, shop, id, job, device, seq, tick, kind, line, received_at, actor)
SELECT server_seq, shop, id, job, device, seq, tick, kind, line, received_at, actor FROM event;
DROP TABLE event;
ALTER TABLE event_new RENAME TO event;
CREATE INDEX event_job ON event (shop, job, server_seq);

-- Who has brought events of which job: what a phone may read. late: others had
-- brought some before, which its cursor may have passed.
DROP TABLE writer;
CREATE TABLE writer (
  shop  TEXT NOT NULL,
  actor TEXT NOT NULL,
  job   TEXT NOT NULL,
  late  INTEGER NOT NULL,
  PRIMARY KEY (shop, actor, job)
) STRICT, WITHOUT ROWID;
INSERT INTO writer SELECT shop, actor, job, MIN(server_seq) > (SELECT MIN(server_seq) FROM event o WHERE o.shop = e.shop AND o.job = e.job)
FROM event e GROUP BY shop, actor, job;
