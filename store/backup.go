package store

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// Backup is one file that holds a whole store as it stood at one moment: a
// zip of
//
//	banns.txt  the form of the backup, the moment, and words for people
//	banns.db   the database
//	banns.key  the key file
//
// A zip has a checksum for each part, so what was cut short or damaged is
// told from what is whole; and anybody can open it where this program is not
// at hand. With the key in it, it opens every private link.
type Backup struct {
	File     string
	Made     time.Time // no later than what it holds, to the second, UTC
	Size     int64     // bytes
	Weddings []BackedUp
}

// BackedUp is what a backup holds of one wedding.
type BackedUp struct {
	Wedding
	Versions int
	People   int // who have a feed
}

// labelName is the part of a backup that says what it is; labelForm is its
// text, with the moment in it.
const (
	labelName = "banns.txt"
	labelForm = "banns backup 1\nmade %s\n"
	labelSays = `
This file opens every private link of its weddings: keep it as you keep keys.
Put it back with "banns restore", not by hand: phones ignore a calendar that
seems older than what they have.
`
)

// Backup writes the store into file, while others may read and write it.
// Nobody else may read the file, and it has its name only once it is whole
// and on the disk. fs.ErrExist where there is one and over is not asked for.
func (s *Store) Backup(ctx context.Context, file string, over bool, now time.Time) (b Backup, err error) {
	if _, err := os.Lstat(file); err == nil && !over {
		return b, fmt.Errorf("%s: %w", file, fs.ErrExist)
	}
	if file, err = filepath.Abs(file); err != nil {
		return b, err
	}
	work, err := os.MkdirTemp(filepath.Dir(file), "."+filepath.Base(file)+".*")
	if err != nil {
		return b, err
	}
	defer os.RemoveAll(work)
	b.File, b.Made = file, now.UTC().Truncate(time.Second)
	copied := filepath.Join(work, dbName)
	if err := s.copyTo(ctx, copied); err != nil {
		return b, fmt.Errorf("copy the database: %w", err)
	}
	if b.Weddings, err = contentsAt(ctx, copied); err != nil {
		return b, err
	}
	whole := filepath.Join(work, "backup")
	if b.Size, err = s.bundle(whole, copied, b.Made); err != nil {
		return b, err
	}
	if err := os.Rename(whole, file); err != nil {
		return b, err
	}
	return b, syncFolder(filepath.Dir(file))
}

// copyTo makes a consistent copy of the database, as of one moment.
func (s *Store) copyTo(ctx context.Context, path string) error {
	if err := private(path); err != nil {
		return err
	}
	_, err := s.db.ExecContext(ctx, "vacuum into ?", path)
	return err
}

// contentsAt are the weddings of the database at path.
func contentsAt(ctx context.Context, path string) ([]BackedUp, error) {
	db, err := database(path, "?mode=ro")
	if err != nil {
		return nil, err
	}
	defer db.Close()
	return contents(ctx, db)
}

func contents(ctx context.Context, q querier) ([]BackedUp, error) {
	rows, err := q.QueryContext(ctx, `select id, name, title, version,
		(select count(*) from version where wedding = id),
		(select count(distinct person) from carries where wedding = id)
		from wedding order by name`)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []BackedUp
	for rows.Next() {
		var w BackedUp
		if err := rows.Scan(&w.ID, &w.Name, &w.Title, &w.Version, &w.Versions, &w.People); err != nil {
			return nil, err
		}
		all = append(all, w)
	}
	return all, rows.Err()
}

// bundle writes the backup with the copied database to path, and has it on
// the disk.
func (s *Store) bundle(path, copied string, made time.Time) (size int64, err error) {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	z := zip.NewWriter(f)
	add := func(name string, write func(io.Writer) error) error {
		h := &zip.FileHeader{Name: name, Method: zip.Deflate, Modified: made}
		h.SetMode(0o600)
		w, err := z.CreateHeader(h)
		if err != nil {
			return err
		}
		return write(w)
	}
	err = errors.Join(
		add(labelName, func(w io.Writer) error {
			_, err := fmt.Fprintf(w, labelForm+labelSays, stamp(made))
			return err
		}),
		add(keyName, func(w io.Writer) error { _, err := w.Write(s.key); return err }),
		add(dbName, func(w io.Writer) error { return pour(w, copied) }),
		z.Close(), f.Sync())
	if err != nil {
		return 0, err
	}
	info, err := f.Stat()
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}

// pour writes the file at path to w.
func pour(w io.Writer, path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = io.Copy(w, f)
	return err
}

// syncFolder has the names in dir on the disk.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	return nil
}
