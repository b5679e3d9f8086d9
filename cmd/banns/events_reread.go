package main

import (
	"bytes"
	"context"
	"errors"
	"log/slog"
	"time"

	"banns/conflicts"
	"banns/conflicts/fetch"
	"banns/store"
)

// reread reads every calendar that is due again. What does not come back
// whole, and as a calendar or a table, does not replace the copy that is
// there. The log names a source and never its address, which may be a secret.
func reread(e *env, s *store.Store, log *slog.Logger) error {
	due, err := s.DueSources(e.ctx, e.now())
	if err != nil {
		return err
	}
	for _, src := range due {
		got, why := readAgain(e.ctx, src)
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
func readAgain(ctx context.Context, src store.Source) (store.Source, error) {
	got, err := fetch.Fetcher{Private: src.Private}.Get(ctx, src.Address, fetch.Seen{ETag: src.ETag, Modified: src.Modified})
	if err != nil {
		return src, err
	}
	src.ETag, src.Modified, src.Body = got.Seen.ETag, got.Seen.Modified, got.Body
	if got.Unchanged {
		return src, nil
	}
	// Any zone and no days will do to see whether it can be read at all.
	_, err = conflicts.ReadEvents(bytes.NewReader(got.Body), conflicts.Scope{Source: src.Name, Zone: time.UTC})
	return src, err
}
