package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"time"

	_ "modernc.org/sqlite" // the database driver
)

// Store is one folder of kept things: banns.db, and beside it banns.key,
// which signs the addresses of feeds. Neither opens a feed without the other.
type Store struct {
	db    *sql.DB
	key   []byte
	tries *tries
}

// The files of a store's folder.
const (
	dbName  = "banns.db"
	keyName = "banns.key"
)

// ErrUnknown is a wedding, person or address that the store does not have.
var ErrUnknown = errors.New("not in the store")

const pragmas = "?_pragma=busy_timeout(5000)&_pragma=journal_mode(WAL)&_pragma=foreign_keys(1)&_pragma=synchronous(FULL)&_txlock=immediate"

// Open opens the store in dir, makes it where there is none, and brings an
// older one up to date. A newer one is refused.
func Open(ctx context.Context, dir string) (*Store, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("make the folder: %w", err)
	}
	path := filepath.Join(dir, dbName)
	_, err := os.Stat(path)
	fresh := errors.Is(err, fs.ErrNotExist)
	key, err := loadKey(filepath.Join(dir, keyName), fresh)
	if err != nil {
		return nil, err
	}
	if fresh {
		if err := private(path); err != nil {
			return nil, err
		}
	}
	db, err := database(path, pragmas)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	s := &Store{db: db, key: key, tries: newTries()}
	if err := s.migrate(ctx); err != nil {
		db.Close()
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	return s, nil
}

// database is the one at path, whose name may hold what a URI would read
// otherwise.
func database(path, pragmas string) (*sql.DB, error) {
	return sql.Open("sqlite", "file:"+(&url.URL{Path: path}).EscapedPath()+pragmas)
}

// private makes an empty file that nobody else may read. SQLite gives the
// files beside the database the rights that it has. One that is there is left
// alone: closing it would drop the locks that this process has on it.
func private(path string) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return nil
	} else if err != nil {
		return err
	}
	return f.Close()
}

// Exists reports whether there is a store in dir.
func Exists(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, dbName))
	return err == nil
}

// Close closes the database.
func (s *Store) Close() error { return s.db.Close() }

//go:embed migrations/*.sql
var migrations embed.FS

// migrate runs the migrations that the database has not had yet; how many it
// had is its user_version. Where it had them all, nothing is written.
func (s *Store) migrate(ctx context.Context) error {
	names, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		return err
	}
	form := func(q querier) (had int, err error) {
		err = q.QueryRowContext(ctx, "pragma user_version").Scan(&had)
		return had, err
	}
	switch had, err := form(s.db); {
	case err != nil || had == len(names):
		return err
	case had > len(names):
		return newer(had, len(names))
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		had, err := form(tx)
		if err != nil || had >= len(names) { // another process was quicker
			return err
		}
		for i := had; i < len(names); i++ {
			text, err := migrations.ReadFile(names[i])
			if err != nil {
				return err
			}
			if _, err := tx.ExecContext(ctx, string(text)); err != nil {
				return fmt.Errorf("%s: %w", names[i], err)
			}
		}
		_, err = tx.ExecContext(ctx, fmt.Sprintf("pragma user_version = %d", len(names)))
		return err
	})
}

// newer refuses the form of a store that this program does not know.
func newer(form, known int) error {
	return fmt.Errorf("a newer banns has written this store (form %d; this one knows up to %d): use the newer program", form, known)
}

// write runs do in one transaction.
func (s *Store) write(ctx context.Context, do func(*sql.Tx) error) error {
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if err := do(tx); err != nil {
		return err
	}
	return tx.Commit()
}

// stamp is a moment as the database keeps it: UTC, to the second.
func stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format(time.RFC3339)
}

func unstamp(s string) (time.Time, error) {
	if s == "" {
		return time.Time{}, nil
	}
	return time.Parse(time.RFC3339, s)
}
