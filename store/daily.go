package store

import (
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"time"
)

// DailyKept is how many daily backups are kept: two weeks of them.
const DailyKept = 14

// Daily makes the backup of the day it is (UTC) in dir, unless it is there
// already, and keeps the newest DailyKept. What is due stands in the folder,
// so a minute that was missed is made up for by the next. It returns the file
// it made, or empty. It removes nothing but files of its own naming, and of
// this very store: several may share a folder.
func (s *Store) Daily(ctx context.Context, dir string, now time.Time) (file string, err error) {
	file = filepath.Join(dir, "banns-"+now.UTC().Format(time.DateOnly)+s.dailyEnd())
	if _, err := os.Lstat(file); err == nil {
		return "", nil
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("make the folder of backups: %w", err)
	}
	if _, err := s.Backup(ctx, file, false, now); err != nil {
		return "", fmt.Errorf("back up to %s: %w", file, err)
	}
	return file, s.prune(dir)
}

// dailyEnd is how the names of this store's daily backups end. Its mark comes
// of the key, and does not give it away.
func (s *Store) dailyEnd() string {
	return "-" + hex.EncodeToString(s.mac([]byte("daily"))[:4]) + ".zip"
}

// prune removes all but the newest daily backups, and what was left of ones
// that were cut short.
func (s *Store) prune(dir string) error {
	all, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	const day = `banns-\d{4}-\d{2}-\d{2}`
	whole := regexp.MustCompile("^" + day + regexp.QuoteMeta(s.dailyEnd()) + "$")
	part := regexp.MustCompile(`^\.` + day + regexp.QuoteMeta(s.dailyEnd()) + `\.\d+$`)
	var kept []string
	for _, f := range all {
		switch {
		case f.Type().IsRegular() && whole.MatchString(f.Name()):
			kept = append(kept, f.Name())
		case f.IsDir() && part.MatchString(f.Name()):
			err = errors.Join(err, os.RemoveAll(filepath.Join(dir, f.Name())))
		}
	}
	slices.Sort(kept) // by day
	for _, name := range kept[:max(0, len(kept)-DailyKept)] {
		err = errors.Join(err, os.Remove(filepath.Join(dir, name)))
	}
	return err
}
