package store

import (
	"bytes"
	"compress/gzip"
	"context"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"time"

	"banns/milestones"
)

// Wedding is a wedding of the store.
type Wedding struct {
	ID      string
	Name    string // what commands call it
	Title   string // as of its newest plan
	Version int    // the newest
}

// ErrStale is an import over a newer version than the one it began from.
var ErrStale = errors.New("the stored plan is newer")

// ErrHeld is an import of a wedding that the store has, from a file that
// names no version: as a person's own first file is.
var ErrHeld = errors.New("the store has this wedding already")

// ErrTaken is a name that another wedding has.
var ErrTaken = errors.New("the name is taken")

// Import is a plan file to be stored.
type Import struct {
	Document *Document
	Name     string // for a wedding that is new; empty: from its title
	Over     bool   // replace a newer version
	By       string // who or what saves it, in words
}

// Imported is what an import came to.
type Imported struct {
	Wedding
	New       bool             // the wedding was not there before
	Was, Is   *milestones.Plan // the version before and this one; Was is empty where the wedding is new
	Newcomers []Newcomer
	Keeping
}

// Import saves a plan as the next version of its wedding, and publishes what
// changed, in one transaction. Lines get the keys they had; new ones get new
// keys. What is done, paid, given and answered outlives a file that does not
// know of it. ErrStale, or ErrHeld, where the file is not the newest
// version's and Over is not asked for.
func (s *Store) Import(ctx context.Context, in Import, now time.Time) (done Imported, err error) {
	err = s.write(ctx, func(tx *sql.Tx) error {
		done, err = s.save(ctx, tx, in, now)
		return err
	})
	return done, err
}

func (s *Store) save(ctx context.Context, tx *sql.Tx, in Import, now time.Time) (Imported, error) {
	plan, last := in.Document.Plan, &Document{Plan: &milestones.Plan{}}
	w, err := find(ctx, tx, in)
	isNew := errors.Is(err, ErrUnknown)
	switch {
	case isNew:
		w, err = begin(ctx, tx, in)
	case err == nil && plan.Version != w.Version && !in.Over:
		err = behind(w, plan.Version)
	case err == nil:
		last, err = load(ctx, tx, w, w.Version)
	}
	if err != nil {
		return Imported{}, err
	}
	used, err := usedKeys(ctx, tx, w.ID)
	if err != nil {
		return Imported{}, err
	}
	n, err := nextVersion(ctx, tx, w)
	if err != nil {
		return Imported{}, err
	}
	doc, err := in.Document.keyed(last.Plan, used, w.ID, n)
	if err != nil {
		return Imported{}, err
	}
	unseen := allUnseen
	if plan.Version == w.Version {
		unseen = in.Document.unseen(doc.Plan, last.Plan)
	}
	doc, kept, err := doc.keeping(last, fileWins, unseen)
	if err != nil {
		return Imported{}, err
	}
	done, err := s.saveNext(ctx, tx, w, last.Plan, doc, in.By, now)
	done.New, done.Keeping = isNew, kept
	return done, err
}

// saveNext saves doc as the version of w after last, and publishes it.
func (s *Store) saveNext(ctx context.Context, tx *sql.Tx, w Wedding, last *milestones.Plan, doc *Document, by string, now time.Time) (done Imported, err error) {
	renamed := doc.Plan.Wedding.Title != w.Title
	w.Title, w.Version = doc.Plan.Wedding.Title, doc.Plan.Version
	if err := keep(ctx, tx, w, doc, by, now); err != nil {
		return Imported{}, err
	}
	done = Imported{Wedding: w, Was: last, Is: doc.Plan}
	if done.Newcomers, err = s.welcome(ctx, tx, w, last, doc.Plan, now); err != nil {
		return Imported{}, err
	}
	return done, s.publish(ctx, tx, doc.Plan, now, renamed, true)
}

// behind says why a file made from that version does not go over the newest.
func behind(w Wedding, version int) error {
	if version == 0 {
		return fmt.Errorf("%w: it has version %d of %s, and the file does not say which version it was made from", ErrHeld, w.Version, w.Name)
	}
	return fmt.Errorf("%w: the store has version %d of %s, and the file was made from version %d", ErrStale, w.Version, w.Name, version)
}

// begin is a wedding that was not there before.
func begin(ctx context.Context, tx *sql.Tx, in Import) (Wedding, error) {
	w := Wedding{ID: in.Document.Plan.ID, Name: in.name(), Title: in.Document.Plan.Wedding.Title}
	if w.ID == "" {
		w.ID = hex.EncodeToString(newID(8))
	}
	_, err := tx.ExecContext(ctx, "insert into wedding values (?, ?, ?, 0)", w.ID, w.Name, w.Title)
	return w, err
}

// find is the stored wedding that the import is of: by the id in the file,
// or, where it has none, by name.
func find(ctx context.Context, tx *sql.Tx, in Import) (Wedding, error) {
	id, name := in.Document.Plan.ID, in.name()
	if id != "" {
		w, err := scanWedding(tx.QueryRowContext(ctx, selectWedding+" where id = ?", id))
		if !errors.Is(err, ErrUnknown) {
			return w, err
		}
	}
	w, err := scanWedding(tx.QueryRowContext(ctx, selectWedding+" where name = ?", name))
	if err == nil && id != "" {
		return w, fmt.Errorf("%w: another wedding is called %q", ErrTaken, name)
	}
	return w, err
}

// name is what the wedding will be called where it is new.
func (in Import) name() string {
	if in.Name != "" {
		return slug(in.Name) // a command takes what has a dot or a slash for a file
	}
	return slug(in.Document.Plan.Wedding.Title)
}

const selectWedding = "select id, name, title, version from wedding"

func scanWedding(row *sql.Row) (w Wedding, err error) {
	err = row.Scan(&w.ID, &w.Name, &w.Title, &w.Version)
	if errors.Is(err, sql.ErrNoRows) {
		return w, ErrUnknown
	}
	return w, err
}

// keep writes the version and the keys it uses.
func keep(ctx context.Context, tx *sql.Tx, w Wedding, doc *Document, by string, now time.Time) error {
	text, err := doc.Text()
	if err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "insert into version (wedding, n, saved_at, document, by) values (?, ?, ?, ?, ?)",
		w.ID, w.Version, stamp(now), pack(text), by); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "update wedding set version = ?, title = ? where id = ?", w.Version, w.Title, w.ID); err != nil {
		return err
	}
	for id := range lineIDs(doc.Plan) {
		if _, err := tx.ExecContext(ctx, "insert or ignore into used_key values (?, ?)", w.ID, id); err != nil {
			return err
		}
	}
	return nil
}

func usedKeys(ctx context.Context, tx *sql.Tx, wedding string) (map[string]bool, error) {
	used := map[string]bool{}
	rows, err := tx.QueryContext(ctx, "select id from used_key where wedding = ?", wedding)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var id string
		if err := rows.Scan(&id); err != nil {
			return nil, err
		}
		used[id] = true
	}
	return used, rows.Err()
}

// querier is a database or a transaction on it.
type querier interface {
	QueryRowContext(context.Context, string, ...any) *sql.Row
	QueryContext(context.Context, string, ...any) (*sql.Rows, error)
}

func load(ctx context.Context, q querier, w Wedding, n int) (*Document, error) {
	var packed []byte
	err := q.QueryRowContext(ctx, "select document from version where wedding = ? and n = ?", w.ID, n).Scan(&packed)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, fmt.Errorf("version %d of %s: %w", n, w.Name, ErrUnknown)
	} else if err != nil {
		return nil, err
	}
	return unpacked(w, n, packed)
}

func unpacked(w Wedding, n int, packed []byte) (*Document, error) {
	text, err := unpack(packed)
	if err != nil {
		return nil, err
	}
	return ReadPlan(fmt.Sprintf("%s version %d", w.Name, n), text)
}

// Load is the newest plan of the wedding called name.
func (s *Store) Load(ctx context.Context, name string) (*Document, error) {
	return newest(ctx, s.db, name)
}

func newest(ctx context.Context, q querier, name string) (*Document, error) {
	w, err := weddingCalled(ctx, q, name)
	if err != nil {
		return nil, err
	}
	return load(ctx, q, w, w.Version)
}

// weddingCalled is the wedding with that id or that name.
func weddingCalled(ctx context.Context, q querier, name string) (Wedding, error) {
	w, err := scanWedding(q.QueryRowContext(ctx, selectWedding+" where id = ?1 or name = ?1 order by id = ?1 desc limit 1", name))
	if err != nil {
		err = fmt.Errorf("%q: %w", name, err)
	}
	return w, err
}

// WeddingCalled is the wedding with that id or that name.
func (s *Store) WeddingCalled(ctx context.Context, name string) (Wedding, error) {
	return weddingCalled(ctx, s.db, name)
}

// Weddings are all weddings by name.
func (s *Store) Weddings(ctx context.Context) ([]Wedding, error) { return weddings(ctx, s.db) }

func weddings(ctx context.Context, q querier) ([]Wedding, error) {
	rows, err := q.QueryContext(ctx, selectWedding+" order by name")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []Wedding
	for rows.Next() {
		var w Wedding
		if err := rows.Scan(&w.ID, &w.Name, &w.Title, &w.Version); err != nil {
			return nil, err
		}
		all = append(all, w)
	}
	return all, rows.Err()
}

// lineIDs are the ids of all lines of the plan's agreements.
func lineIDs(p *milestones.Plan) map[string]bool {
	ids := map[string]bool{}
	for i := range p.Agreements {
		a := &p.Agreements[i]
		for _, l := range a.Lines() {
			ids[a.Key+"/"+l.Key] = true
		}
	}
	return ids
}

func pack(b []byte) []byte {
	var buf bytes.Buffer
	w := gzip.NewWriter(&buf)
	w.Write(b) // a buffer takes all
	w.Close()
	return buf.Bytes()
}

func unpack(b []byte) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(b))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
}
