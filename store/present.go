package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// ErrInUse is a store that another process has open.
var ErrInUse = errors.New("another process has the store open")

// present is what stands in a folder into which a backup is restored, held
// so that nobody else can use it meanwhile.
type present struct {
	dir   string
	lock  *sql.DB // on the database; nil where there is none, or none that SQLite can read
	there bool    // a database, readable or not
	key   []byte  // the key file as it is; nil where there is none
	aside string  // the folder in which all of it is kept; empty where nothing is
	old   *Store  // the copy in aside; nil where there is none that can be read
	why   error   // why not
}

// hold takes the store in dir for itself. A server that runs, even one that
// idles, has a shared lock on a database with a write-ahead log, and so the
// log cannot be done away with (https://sqlite.org/wal.html 8). Whoever opens
// the database after that waits for the lock, and then finds it replaced:
// SQLite refuses to write to a database that is no longer at its path.
func hold(ctx context.Context, dir string) (*present, error) {
	p := &present{dir: dir, there: Exists(dir)}
	key, err := os.ReadFile(p.path(keyName))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	p.key = key
	if !p.there {
		return p, nil
	}
	if p.lock, err = database(p.path(dbName), "?mode=rw&_pragma=locking_mode(exclusive)"); err != nil {
		return nil, err
	}
	p.lock.SetMaxOpenConns(1)
	err = p.take(ctx)
	switch code := codeOf(err); {
	case err == nil:
		return p, nil
	case code == sqlite3.SQLITE_BUSY || code == sqlite3.SQLITE_LOCKED:
		err = fmt.Errorf("%w (%s)", ErrInUse, dir)
	case code == sqlite3.SQLITE_NOTADB || code == sqlite3.SQLITE_CORRUPT:
		p.lock.Close()
		p.lock, p.why = nil, err
		return p, nil
	}
	p.lock.Close()
	return nil, err
}

// take gets the lock, which stays with the one connection.
func (p *present) take(ctx context.Context) error {
	var mode string
	if err := p.lock.QueryRowContext(ctx, "pragma journal_mode = delete").Scan(&mode); err != nil {
		return err
	}
	if mode != "delete" {
		return fmt.Errorf("%w (%s)", ErrInUse, p.dir)
	}
	if _, err := p.lock.ExecContext(ctx, "begin exclusive; commit"); err != nil {
		return err
	}
	known, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		return err
	}
	var form int
	if err := p.lock.QueryRowContext(ctx, "pragma user_version").Scan(&form); err != nil {
		return err
	}
	if form > len(known) {
		return newer(form, len(known))
	}
	return nil
}

// codeOf is the primary result code of SQLite in err, or 0.
func codeOf(err error) int {
	var e *sqlite.Error
	if errors.As(err, &e) {
		return e.Code() & 0xff
	}
	return 0
}

func (p *present) path(name string) string { return filepath.Join(p.dir, name) }

// beside are the files that SQLite has beside a database. None may be left
// for the one that takes its place: it would be read into it.
var beside = []string{dbName + "-wal", dbName + "-shm", dbName + "-journal"}

// keep copies what is present into a folder of its own, and opens the copy:
// key signs its addresses where the key file is missing. A database that
// cannot be read is moved there by clear.
func (p *present) keep(ctx context.Context, key []byte, now time.Time) error {
	if !p.there && (p.key == nil || bytes.Equal(p.key, key)) {
		return nil
	}
	if err := p.makeAside(now); err != nil {
		return err
	}
	name := keyName
	if len(p.key) != keySize {
		name = keyName + ".unusable"
		if err := keepFile(filepath.Join(p.aside, keyName), key); err != nil {
			return err
		}
	}
	if p.key != nil {
		if err := keepFile(filepath.Join(p.aside, name), p.key); err != nil {
			return err
		}
	}
	if p.lock == nil {
		return nil
	}
	copied := filepath.Join(p.aside, dbName)
	if err := private(copied); err != nil {
		return err
	}
	if _, err := p.lock.ExecContext(ctx, "vacuum into ?", copied); err != nil {
		if code := codeOf(err); code != sqlite3.SQLITE_CORRUPT && code != sqlite3.SQLITE_NOTADB {
			return err
		}
		p.why = err
		return os.Remove(copied)
	}
	p.old, p.why = Open(ctx, p.aside)
	return ctx.Err()
}

func (p *present) makeAside(now time.Time) (err error) {
	name := p.path("before-restore-" + now.UTC().Format("20060102T150405Z"))
	p.aside = name
	for n := 2; ; n++ {
		if err = os.Mkdir(p.aside, 0o700); !errors.Is(err, fs.ErrExist) {
			return err
		}
		p.aside = fmt.Sprintf("%s-%d", name, n)
	}
}

// clear does away with what is beside the database, and moves aside a
// database of which there is no copy that can be read.
func (p *present) clear(now time.Time) error {
	copied := p.lock != nil && p.why == nil
	for _, name := range append([]string{dbName}, beside...) {
		if _, err := os.Lstat(p.path(name)); errors.Is(err, fs.ErrNotExist) || copied && name == dbName {
			continue
		}
		if copied { // with the lock, nothing is in it that the database has not
			if err := os.Remove(p.path(name)); err != nil {
				return err
			}
			continue
		}
		if p.aside == "" {
			if err := p.makeAside(now); err != nil {
				return err
			}
		}
		if err := os.Rename(p.path(name), filepath.Join(p.aside, name)); err != nil {
			return err
		}
	}
	return nil
}

// closeOld closes the copy, and has it on the disk.
func (p *present) closeOld() error {
	if p.old == nil {
		return nil
	}
	f, err := os.Open(filepath.Join(p.aside, dbName))
	if err != nil {
		return err
	}
	defer f.Close()
	return errors.Join(p.old.Close(), f.Sync(), syncFolder(p.aside))
}

// release lets others have the database again.
func (p *present) release() {
	p.closeOld()
	if p.lock != nil {
		p.lock.Close()
	}
}
