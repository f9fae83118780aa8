package sqlite

import (
	"context"
	"database/sql"

	"strutcard/calc/lang"
	"strutcard/server/shop"
	"strutcard/sync/fault"
)

const draftColumns = `d.id, d.title, d.version, d.vehicle, d.base, d.revision, d.created_at, d.changed_at, d.staff, s.name`

const draftTables = ` FROM draft d JOIN staff s ON s.id = d.staff WHERE d.shop = ?`

func scanDraft(row interface{ Scan(...any) error }, more ...any) (shop.Draft, error) {
	var d shop.Draft
	var created, changed int64
	into := append([]any{&d.ID, &d.Title, &d.Version, &d.Vehicle, &d.Base, &d.Revision, &created, &changed, &d.By, &d.ByName}, more...)
	err := row.Scan(into...)
	d.Created, d.Changed = fromMS(created), fromMS(changed)
	return d, err
}

// AddDraft keeps a new draft at revision 1.
func (db *DB) AddDraft(ctx context.Context, id shop.ID, d shop.Draft) error {
	return db.update(ctx, "keep draft", func(tx *sql.Tx) error {
		now := ms(db.now())
		_, err := tx.ExecContext(ctx, `INSERT INTO draft (id, shop, title, version, vehicle, base, revision, body, created_at, changed_at, staff)
			VALUES (?, ?, ?, ?, ?, ?, 1, ?, ?, ?, ?)`, d.ID, id, d.Title, d.Version, d.Vehicle, d.Base, d.Body, now, now, d.By)
		return err
	})
}

// Drafts lists the shop's drafts without their bodies, the last changed first.
func (db *DB) Drafts(ctx context.Context, id shop.ID) ([]shop.Draft, error) {
	rows, err := db.read.QueryContext(ctx, `SELECT `+draftColumns+draftTables+` ORDER BY d.changed_at DESC, d.id`, id)
	return collect(rows, err, "list drafts", func(rows *sql.Rows) (shop.Draft, error) { return scanDraft(rows) })
}

// Draft returns one draft with its body.
func (db *DB) Draft(ctx context.Context, id shop.ID, draft string) (shop.Draft, error) {
	d, err := readDraft(ctx, db.read, id, draft)
	return d, asFault("read draft", err)
}

func readDraft(ctx context.Context, q querier, id shop.ID, draft string) (shop.Draft, error) {
	var body []byte
	d, err := scanDraft(q.QueryRowContext(ctx, `SELECT `+draftColumns+`, d.body`+draftTables+` AND d.id = ?`, id, draft), &body)
	if isNone(err) {
		return d, fault.New(fault.NotFound, "The shop has no such draft. It may have been published or thrown away.", "Look in the list of sheets.")
	}
	d.Body = body
	return d, err
}

// SaveDraft replaces a draft that still stands at d.Revision; the new one is one
// higher. Anything else is a conflict, and nothing is changed.
func (db *DB) SaveDraft(ctx context.Context, id shop.ID, d shop.Draft) error {
	return db.update(ctx, "save draft", func(tx *sql.Tx) error {
		if err := atRevision(ctx, tx, id, d); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `UPDATE draft SET title = ?, version = ?, vehicle = ?, revision = revision + 1, body = ?, changed_at = ?, staff = ?
			WHERE shop = ? AND id = ?`, d.Title, d.Version, d.Vehicle, d.Body, ms(db.now()), d.By, id, d.ID)
		return err
	})
}

// DropDraft throws away a draft that still stands at d.Revision.
func (db *DB) DropDraft(ctx context.Context, id shop.ID, d shop.Draft) error {
	return db.update(ctx, "drop draft", func(tx *sql.Tx) error {
		if err := atRevision(ctx, tx, id, d); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `DELETE FROM draft WHERE shop = ? AND id = ?`, id, d.ID)
		return err
	})
}

// PublishDraft keeps sh as a published sheet and drops the draft it was written
// in, which must still stand at d.Revision. A version is published once a title.
func (db *DB) PublishDraft(ctx context.Context, id shop.ID, d shop.Draft, sh shop.Sheet) error {
	return db.update(ctx, "publish sheet", func(tx *sql.Tx) error {
		if err := atRevision(ctx, tx, id, d); err != nil {
			return err
		}
		var same int
		err := tx.QueryRowContext(ctx, `SELECT count(*) FROM sheet WHERE shop = ? AND published AND title = ? AND version = ?`, id, sh.Title, sh.Version).Scan(&same)
		if err != nil {
			return err
		}
		if same > 0 {
			return fault.New(fault.Conflict, lang.F("A sheet “%s” with the version “%s” is published already. Nothing was published; the draft is kept.", sh.Title, sh.Version),
				"Give the draft another version, then publish it.")
		}
		sh.Published, sh.By = true, d.By
		if err := db.addSheet(ctx, tx, id, sh); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `DELETE FROM draft WHERE shop = ? AND id = ?`, id, d.ID)
		return err
	})
}

// atRevision refuses what was made from another revision than the one that stands.
func atRevision(ctx context.Context, tx *sql.Tx, id shop.ID, d shop.Draft) error {
	had, err := readDraft(ctx, tx, id, d.ID)
	if err != nil || had.Revision == d.Revision {
		return err
	}
	return fault.New(fault.Conflict, lang.F("%s changed this draft after you opened it. What is saved there is kept; what you sent was not saved.", had.ByName),
		"Open the draft as it is now, and make your change again.")
}
