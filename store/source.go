package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"banns/conflicts"
	"banns/milestones"
)

// How often an address is read: once a day, and each hour while that fails.
const (
	SourceEvery = 24 * time.Hour
	SourceRetry = time.Hour
)

// Source is where public events of a wedding are read, with the last good
// copy of what stood there.
type Source struct {
	Wedding  string // its name
	Name     string // what commands call it
	Address  string // where it is read again; empty for a file
	Private  bool   // servers on private networks may be read
	Order    conflicts.Order
	ETag     string // what the server said of the copy
	Modified string
	ReadAt   time.Time // when the copy was last known to be good
	Trouble  string    // why the last try failed; empty where it did not
	Body     []byte
}

// Listing is what a source lists that touches the days from first to last, as
// days of a zone.
func (src Source) Listing(zone *time.Location, first, last milestones.Date) (conflicts.Listing, error) {
	return conflicts.ReadEvents(bytes.NewReader(src.Body), conflicts.Scope{Source: src.Name, Zone: zone, From: first, To: last, Order: src.Order})
}

// AddSource keeps a source of the wedding called src.Wedding. One of the same
// name is replaced. It returns the name, in the letters that names have.
func (s *Store) AddSource(ctx context.Context, src Source, now time.Time) (name string, replaced bool, err error) {
	name = Slug(src.Name, "events")
	err = s.write(ctx, func(tx *sql.Tx) error {
		doc, err := newest(ctx, tx, src.Wedding)
		if err != nil {
			return err
		}
		res, err := tx.ExecContext(ctx, "delete from source where wedding = ? and name = ?", doc.Plan.ID, name)
		if err != nil {
			return err
		}
		if n, err := res.RowsAffected(); err != nil {
			return err
		} else if n > 0 {
			replaced = true
		}
		_, err = tx.ExecContext(ctx, `insert into source (wedding, name, address, private, ordering, etag, modified, read_at, due_at, body)
			values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
			doc.Plan.ID, name, src.Address, src.Private, src.Order, src.ETag, src.Modified, stamp(now), dueAgain(src, now.Add(SourceEvery)), pack(src.Body))
		return err
	})
	return name, replaced, err
}

// RewriteSource changes the table of the wedding's source called name, which
// is a file, in one step; there is none before the first, and none is left
// where nothing is left of it. What change fails with is returned; ErrUnknown
// where the source is an address.
func (s *Store) RewriteSource(ctx context.Context, wedding, name string, change func(table []byte) ([]byte, error), now time.Time) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		doc, err := newest(ctx, tx, wedding)
		if err != nil {
			return err
		}
		var packed, table []byte
		err = tx.QueryRowContext(ctx, "select body from source where wedding = ? and name = ? and address = ''", doc.Plan.ID, name).Scan(&packed)
		switch {
		case errors.Is(err, sql.ErrNoRows):
		case err != nil:
			return err
		default:
			if table, err = unpack(packed); err != nil {
				return err
			}
		}
		if table, err = change(table); err != nil {
			return err
		}
		if len(table) == 0 {
			_, err = tx.ExecContext(ctx, "delete from source where wedding = ? and name = ? and address = ''", doc.Plan.ID, name)
			return err
		}
		return changeOne(tx.ExecContext(ctx, `insert into source (wedding, name, address, private, ordering, etag, modified, read_at, due_at, body)
			values (?, ?, '', false, '', '', '', ?, '', ?)
			on conflict (wedding, name) do update set read_at = excluded.read_at, body = excluded.body where address = ''`,
			doc.Plan.ID, name, stamp(now), pack(table)))
	})
}

// dueAgain is when a source is to be read again: a file never is.
func dueAgain(src Source, at time.Time) string {
	if src.Address == "" {
		return ""
	}
	return stamp(at)
}

// RemoveSource forgets a source and its copy. ErrUnknown where there is none.
func (s *Store) RemoveSource(ctx context.Context, wedding, name string) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		doc, err := newest(ctx, tx, wedding)
		if err != nil {
			return err
		}
		return changeOne(tx.ExecContext(ctx, "delete from source where wedding = ? and name = ?", doc.Plan.ID, name))
	})
}

const selectSource = `select w.name, s.name, s.address, s.private, s.ordering, s.etag, s.modified, s.read_at, s.trouble, s.body
	from source s join wedding w on w.id = s.wedding`

// Sources are those of the wedding called name, by their names.
func (s *Store) Sources(ctx context.Context, name string) ([]Source, error) {
	doc, err := newest(ctx, s.db, name)
	if err != nil {
		return nil, err
	}
	return scanSources(s.db.QueryContext(ctx, selectSource+" where w.id = ? order by s.name", doc.Plan.ID))
}

// SourcesMark changes whenever what the sources of a wedding hold does; it is
// quicker to read than they are. The wedding goes by its lasting id.
func (s *Store) SourcesMark(ctx context.Context, wedding string) (string, error) {
	rows, err := s.db.QueryContext(ctx, "select name, ordering, body from source where wedding = ? order by name", wedding)
	if err != nil {
		return "", err
	}
	defer rows.Close()
	sum := sha256.New()
	for rows.Next() {
		var name, order string
		var packed sql.RawBytes
		if err := rows.Scan(&name, &order, &packed); err != nil {
			return "", err
		}
		fmt.Fprintf(sum, "%q %q %d\n", name, order, len(packed))
		sum.Write(packed)
	}
	return string(sum.Sum(nil)), rows.Err()
}

// DueSources are those that are to be read again, the longest due first.
func (s *Store) DueSources(ctx context.Context, now time.Time) ([]Source, error) {
	return scanSources(s.db.QueryContext(ctx, selectSource+" where s.due_at != '' and s.due_at <= ? order by s.due_at, w.name, s.name", stamp(now)))
}

func scanSources(rows *sql.Rows, err error) ([]Source, error) {
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Source
	for rows.Next() {
		var src Source
		var read string
		var packed []byte
		err := rows.Scan(&src.Wedding, &src.Name, &src.Address, &src.Private, &src.Order, &src.ETag, &src.Modified, &read, &src.Trouble, &packed)
		if err != nil {
			return nil, err
		}
		if src.ReadAt, err = unstamp(read); err != nil {
			return nil, err
		}
		if src.Body, err = unpack(packed); err != nil {
			return nil, fmt.Errorf("the copy of %s: %w", src.Name, err)
		}
		all = append(all, src)
	}
	return all, rows.Err()
}

// KeepCopy keeps what an address gave now, with what its server said of it. A
// nil body says that the copy is still the newest.
func (s *Store) KeepCopy(ctx context.Context, src Source, now time.Time) error {
	var body any
	if src.Body != nil {
		body = pack(src.Body)
	}
	return s.changeSource(ctx, src, `update source set etag = ?, modified = ?, read_at = ?, due_at = ?, trouble = '', body = coalesce(?, body)`,
		src.ETag, src.Modified, stamp(now), dueAgain(src, now.Add(SourceEvery)), body)
}

// KeepTrouble notes why an address could not be read now. The copy stays.
func (s *Store) KeepTrouble(ctx context.Context, src Source, why string, now time.Time) error {
	return s.changeSource(ctx, src, "update source set trouble = ?, due_at = ?", why, dueAgain(src, now.Add(SourceRetry)))
}

// SetOrder settles what 03/04/2027 means in a table. ErrUnknown where there is
// no such source.
func (s *Store) SetOrder(ctx context.Context, wedding, name string, order conflicts.Order) error {
	return changeOne(s.db.ExecContext(ctx, "update source set ordering = ? where wedding = (select id from wedding where name = ?) and name = ?", order, wedding, name))
}

// changeSource changes a source, unless it has been removed, or led elsewhere,
// since src was read.
func (s *Store) changeSource(ctx context.Context, src Source, set string, args ...any) error {
	return s.write(ctx, func(tx *sql.Tx) error {
		args = append(args, src.Wedding, src.Name, src.Address)
		err := changeOne(tx.ExecContext(ctx, set+" where wedding = (select id from wedding where name = ?) and name = ? and address = ?", args...))
		if errors.Is(err, ErrUnknown) {
			return nil
		}
		return err
	})
}

// changeOne is ErrUnknown where a statement changed nothing.
func changeOne(res sql.Result, err error) error {
	if err != nil {
		return err
	}
	n, err := res.RowsAffected()
	if err == nil && n == 0 {
		err = ErrUnknown
	}
	return err
}
