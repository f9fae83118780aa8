-- +goose Up
-- The shop's word on the whole job as it stands: 'accept', 'return', or '' while it
-- waits for one. What waits comes first in the queue. The index holds whatever the
-- queue is narrowed by: a page and its totals are one walk along it.
ALTER TABLE job ADD COLUMN decision TEXT NOT NULL DEFAULT '';
DROP INDEX job_queue;
CREATE INDEX job_queue ON job (shop, (decision <> ''), stops DESC, asks DESC, heard_at DESC, notes, up, finished, decision, first_seq);

-- The open findings of each job by the rule that made them. Computed with the job's
-- row; it can be thrown away and rebuilt.
CREATE TABLE job_finding (
  shop  TEXT NOT NULL,
  job   TEXT NOT NULL,
  rule  TEXT NOT NULL,
  count INTEGER NOT NULL,
  PRIMARY KEY (shop, job, rule)
) STRICT, WITHOUT ROWID;
CREATE INDEX job_finding_rule ON job_finding (shop, rule, job);

-- How many jobs of a shop a rule has something open in: counting them anew for each
-- look at the queue would read all of job_finding.
CREATE TABLE open_rule (
  shop TEXT NOT NULL,
  rule TEXT NOT NULL,
  jobs INTEGER NOT NULL,
  PRIMARY KEY (shop, rule)
) STRICT, WITHOUT ROWID;
-- +goose StatementBegin
CREATE TRIGGER job_finding_added AFTER INSERT ON job_finding BEGIN
  INSERT INTO open_rule VALUES (new.shop, new.rule, 1) ON CONFLICT DO UPDATE SET jobs = jobs + 1;
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER job_finding_removed AFTER DELETE ON job_finding BEGIN
  UPDATE open_rule SET jobs = jobs - 1 WHERE shop = old.shop AND rule = old.rule;
  DELETE FROM open_rule WHERE shop = old.shop AND rule = old.rule AND jobs = 0;
END;
-- +goose StatementEnd

-- What people typed in a job, for the search; its rowid is the job's first_seq.
-- Computed with the job's row. What is deleted leaves the index at once, too.
CREATE VIRTUAL TABLE job_text USING fts5(words, tokenize = "unicode61 remove_diacritics 2");
INSERT INTO job_text (job_text, rank) VALUES ('secure-delete', 1);
