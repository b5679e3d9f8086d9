package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	_ "modernc.org/sqlite" // the database driver
)

// Store is one folder of kept things: banns.db, and beside it banns.key,
// which signs the addresses of feeds. Neither opens a feed without the other.
type Store struct {
	db  *sql.DB
	dir string
	key []byte
}

// ErrUnknown is a wedding, person or address that the store does not have.
var ErrUnknown = errors.New("not in the store")

const pragmas = "?_pragma=busy_timeout(5000)&_pragma=journal_mode(WAL)&_pragma=foreign_keys(1)&_pragma=synchronous(FULL)&_txlock=immediate"

// Open opens the store in dir, makes it where there is none, and brings an
// older one up to date. A newer one is refused.
func Open(ctx context.Context, dir string) (*Store, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("make the folder: %w", err)
	}
	path := filepath.Join(dir, "banns.db")
	_, err := os.Stat(path)
	fresh := errors.Is(err, fs.ErrNotExist)
	key, err := loadKey(filepath.Join(dir, "banns.key"), fresh)
	if err != nil {
		return nil, err
	}
	// The folder's name may hold what a URI would read otherwise.
	db, err := sql.Open("sqlite", "file:"+escapePath(path)+pragmas)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	s := &Store{db: db, dir: dir, key: key}
	if err := s.migrate(ctx); err != nil {
		db.Close()
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	if fresh {
		_ = os.Chmod(path, 0o600)
	}
	return s, nil
}

// Exists reports whether there is a store in dir.
func Exists(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, "banns.db"))
	return err == nil
}

// Close closes the database.
func (s *Store) Close() error { return s.db.Close() }

//go:embed migrations/*.sql
var migrations embed.FS

// migrate runs the migrations that the database has not had yet; how many it
// had is its user_version.
func (s *Store) migrate(ctx context.Context) error {
	names, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		return err
	}
	return s.write(ctx, func(tx *sql.Tx) error {
		var had int
		if err := tx.QueryRowContext(ctx, "pragma user_version").Scan(&had); err != nil {
			return err
		}
		if had > len(names) {
			return fmt.Errorf("a newer banns has written this store (form %d; this one knows up to %d): use the newer program", had, len(names))
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
		_, err := tx.ExecContext(ctx, fmt.Sprintf("pragma user_version = %d", len(names)))
		return err
	})
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

// Setting is what was kept under name, or empty.
func (s *Store) Setting(ctx context.Context, name string) (string, error) {
	var v string
	err := s.db.QueryRowContext(ctx, "select value from setting where name = ?", name).Scan(&v)
	if errors.Is(err, sql.ErrNoRows) {
		return "", nil
	}
	return v, err
}
