package store

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// ErrBackup is a file that no store can be restored from.
var ErrBackup = errors.New("this is no backup to restore from")

func notBackup(file, format string, args ...any) error {
	return fmt.Errorf("%s: %w: "+format, append([]any{file, ErrBackup}, args...)...)
}

// bundle is a backup that was read through and found whole.
type bundle struct {
	zip  *zip.ReadCloser
	file string
	made time.Time
	key  []byte
}

// openBundle reads a backup through to its end, and writes nothing.
func openBundle(file string) (*bundle, error) {
	z, err := zip.OpenReader(file)
	switch {
	case errors.Is(err, zip.ErrFormat), errors.Is(err, zip.ErrAlgorithm), errors.Is(err, zip.ErrInsecurePath), errors.Is(err, io.ErrUnexpectedEOF):
		return nil, notBackup(file, "it is no zip file, or cut short")
	case err != nil:
		return nil, notBackup(file, "it cannot be read (%w)", err)
	}
	b := &bundle{zip: z, file: file}
	if err := b.check(); err != nil {
		z.Close()
		return nil, err
	}
	return b, nil
}

func (b *bundle) check() error {
	var label, head bytes.Buffer
	var key bytes.Buffer
	for _, part := range []struct {
		name string
		to   *bytes.Buffer
		most int64
	}{{labelName, &label, 1 << 10}, {keyName, &key, keySize + 1}, {dbName, &head, 100}} {
		f, err := b.zip.Open(part.name)
		if errors.Is(err, fs.ErrNotExist) {
			return notBackup(b.file, "it has no %s", part.name)
		} else if err != nil {
			return notBackup(b.file, "its %s is damaged (%v)", part.name, err)
		}
		_, err = io.Copy(part.to, io.LimitReader(f, part.most))
		_, err2 := io.Copy(io.Discard, f) // to the end, where the checksum is compared
		if err := errors.Join(err, err2, f.Close()); err != nil {
			return notBackup(b.file, "its %s is damaged (%v)", part.name, err)
		}
	}
	var when string
	if _, err := fmt.Sscanf(label.String(), labelForm, &when); err != nil {
		return notBackup(b.file, "its %s is not understood; a newer banns may have written it", labelName)
	}
	made, err := time.Parse(time.RFC3339, when)
	if err != nil {
		return notBackup(b.file, "its %s gives no moment", labelName)
	}
	if key.Len() != keySize {
		return notBackup(b.file, "its %s is no key file", keyName)
	}
	b.made, b.key = made, key.Bytes()
	return b.checkForm(head.Bytes())
}

// checkForm reads the head of the database (https://sqlite.org/fileformat.html
// 1.3): a store of this program, in a form that it knows.
func (b *bundle) checkForm(head []byte) error {
	const magic = "SQLite format 3\x00"
	if len(head) < 100 || string(head[:len(magic)]) != magic {
		return notBackup(b.file, "its %s is no database", dbName)
	}
	known, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		return err
	}
	switch form := int(binary.BigEndian.Uint32(head[60:])); {
	case form == 0:
		return notBackup(b.file, "its %s is no store", dbName)
	case form > len(known):
		return fmt.Errorf("%s: %w: %w", b.file, ErrBackup, newer(form, len(known)))
	}
	return nil
}

// unpack makes a store of the backup in dir, and has SQLite look through it.
func (b *bundle) unpack(ctx context.Context, dir string) (*Store, error) {
	path := filepath.Join(dir, dbName)
	if err := b.extract(path); err != nil {
		return nil, err
	}
	if err := keepFile(filepath.Join(dir, keyName), b.key); err != nil {
		return nil, err
	}
	if says, err := examine(ctx, path); err != nil || says != "ok" {
		return nil, notBackup(b.file, "its database is damaged (%s)", errors.Join(errors.New(says), err))
	}
	return Open(ctx, dir)
}

func (b *bundle) extract(path string) (err error) {
	in, err := b.zip.Open(dbName)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}

// keepFile makes a file that nobody else may read, and has it on the disk.
func keepFile(path string, text []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	return errors.Join(err, f.Sync(), f.Close())
}

// examine is what SQLite says of the database at path: ok, or what is wrong.
func examine(ctx context.Context, path string) (says string, err error) {
	db, err := database(path, "?mode=rw")
	if err != nil {
		return "", err
	}
	defer db.Close()
	if err := db.QueryRowContext(ctx, "pragma integrity_check").Scan(&says); err != nil || says != "ok" {
		return says, err
	}
	rows, err := db.QueryContext(ctx, "pragma foreign_key_check")
	if err != nil {
		return "", err
	}
	defer rows.Close()
	if rows.Next() {
		says = "a row belongs to nothing"
	}
	return says, rows.Err()
}
