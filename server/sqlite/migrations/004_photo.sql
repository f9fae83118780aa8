-- +goose Up
-- Which pictures the record names, and in which job: what a phone may send, and
-- who may see it. Computed from event; it can be thrown away and filled again.
CREATE TABLE photo (
  shop   TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  job    TEXT NOT NULL,
  bytes  INTEGER NOT NULL,
  PRIMARY KEY (shop, sha256, job)
) STRICT, WITHOUT ROWID;
INSERT INTO photo
SELECT shop, json_extract(line, '$.data.sha256'), job, max(json_extract(line, '$.data.bytes'))
FROM event WHERE kind = 'photo_taken' GROUP BY 1, 2, 3;
