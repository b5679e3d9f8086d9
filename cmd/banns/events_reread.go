package main

import (
	"errors"
	"fmt"
	"log/slog"
	"time"

	"banns/conflicts/fetch"
	"banns/milestones"
	"banns/store"
)

// reread reads every calendar that is due again. What does not come back
// whole, and as a calendar or a table, does not replace the copy that is
// there. A server that does not answer costs the others its fetcher's patience
// and no more. The log names a source and never its address, which may be a
// secret.
func reread(e *env, s *store.Store, log *slog.Logger) error {
	due, err := s.DueSources(e.ctx, e.now())
	if err != nil {
		return err
	}
	for _, src := range due {
		got, why := readAgain(e, src)
		if e.ctx.Err() != nil {
			return nil
		}
		if why != nil {
			log.Warn("a calendar of public events keeps its last good copy", "wedding", src.Wedding, "source", src.Name, "error", why)
			err = errors.Join(err, s.KeepTrouble(e.ctx, src, why.Error(), e.now()))
			continue
		}
		err = errors.Join(err, s.KeepCopy(e.ctx, got, e.now()))
	}
	return err
}

// readAgain reads the address of a source. Where nothing has changed there,
// the source comes back without a body.
func readAgain(e *env, src store.Source) (store.Source, error) {
	seen := fetch.Seen{ETag: src.ETag, Modified: src.Modified}
	got, err := fetch.Fetcher{Private: src.Private, Patience: e.patience}.Get(e.ctx, src.Address, seen)
	if err != nil {
		return src, err
	}
	if !got.Unchanged {
		err = replaces(src, got.Body)
	}
	src.ETag, src.Modified, src.Body = got.Seen.ETag, got.Seen.Modified, got.Body
	return src, err
}

// replaces says why what an address gave is not to stand for the copy of it
// that is there, or nil: it has to be readable, whole, and of events where
// those were. A copy that was cut off itself is replaced by another such: some
// programs never write the end.
func replaces(src store.Source, body []byte) error {
	fresh := src
	fresh.Body = body
	// Any zone and no days will do to see what can be read at all.
	now, err := fresh.Listing(time.UTC, milestones.Date{}, milestones.Date{})
	if err != nil {
		return err
	}
	before, err := src.Listing(time.UTC, milestones.Date{}, milestones.Date{})
	switch {
	case err != nil:
		return nil // there is nothing good to keep
	case now.Cut && !before.Cut:
		return fmt.Errorf("it was cut off: of its events, %d came whole and the rest did not", now.Told)
	case now.Told == 0 && before.Told > 0:
		return fmt.Errorf("it lists no events any more, where there were %d; remove it if that is right", before.Told)
	}
	return nil
}
