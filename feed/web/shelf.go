package web

import (
	"context"
	"crypto/sha256"
	"fmt"
	"log/slog"
	"net/http"
	"sync"
	"sync/atomic"
	"time"

	"banns/feed"
	"banns/store"
)

// shelf keeps published calendars ready to be sent. What an address opens is
// known without a read of the database; a calendar is read once a revision.
type shelf struct {
	store    *store.Store
	log      *slog.Logger
	openings atomic.Pointer[map[string]store.Opening]
	ready    sync.Map   // feed id -> *edition
	reading  sync.Mutex // of one calendar at a time
	held     int        // bytes of what is ready; changed while reading
	most     int        // of held
	looking  sync.Mutex // for what addresses open: what was read last is what stands
}

// shelfMost is how many bytes of calendars are kept ready, plain and gzipped
// together: some 6,000 feeds as long as the demo's. When there are more, all
// are dropped and read again as they are asked for.
const shelfMost = 128 << 20

// edition is one calendar at one revision, as it goes over the wire.
type edition struct {
	revision           int
	changed            time.Time
	plain, gzip        []byte
	plainTag, gzipTag  []string // strong entity tags (RFC 9110 8.8.3); each coding has its own
	plainSize, zipSize []string
	modified           []string
	asked              atomic.Int64 // the last day that was noted, since 1970
}

// refresh reads what every address opens now.
func (s *shelf) refresh(ctx context.Context) error {
	s.looking.Lock()
	defer s.looking.Unlock()
	all, err := s.store.Openings(ctx)
	if err != nil {
		return err
	}
	s.openings.Store(&all)
	return nil
}

// find is what a token opens. A genuine one that is not known yet was issued
// since the last look, so there is another look; a forged one costs none.
func (s *shelf) find(ctx context.Context, token string) (store.Opening, bool) {
	if o, ok := s.known(token); ok || !s.store.Genuine(token) {
		return o, ok
	}
	if err := s.refresh(ctx); err != nil {
		s.log.Error("looking for a new address", "error", err)
	}
	return s.known(token)
}

func (s *shelf) known(token string) (store.Opening, bool) {
	all := s.openings.Load()
	if all == nil {
		return store.Opening{}, false
	}
	o, ok := (*all)[token]
	return o, ok
}

// calendar is the calendar that o opens: the newest, or the last good copy
// where the database does not answer.
func (s *shelf) calendar(ctx context.Context, o store.Opening) (*edition, error) {
	had, _ := s.ready.Load(o.Feed)
	last, _ := had.(*edition)
	if last != nil && last.revision >= o.Revision {
		return last, nil
	}
	fresh, err := s.read(ctx, o)
	if err != nil && last != nil {
		s.log.Error("serving the last good copy of a calendar", "feed", o.Feed, "error", err)
		return last, nil
	}
	return fresh, err
}

// read takes one calendar at a time from the database.
func (s *shelf) read(ctx context.Context, o store.Opening) (*edition, error) {
	s.reading.Lock()
	defer s.reading.Unlock()
	if had, ok := s.ready.Load(o.Feed); ok && had.(*edition).revision >= o.Revision {
		return had.(*edition), nil
	}
	// A client that hangs up is no reason to break off: others wait for this.
	cal, err := s.store.Calendar(context.WithoutCancel(ctx), o.Feed)
	if err != nil {
		return nil, err
	}
	if n := len(cal.Body); n > feed.MostBytes {
		s.log.Warn("a calendar is larger than some phones take", "feed", o.Feed, "whose", cal.Whose, "bytes", n)
	}
	fresh := newCopy(cal)
	s.keep(o.Feed, fresh)
	return fresh, nil
}

// keep puts a calendar on the shelf in place of an older one.
func (s *shelf) keep(feed int64, fresh *edition) {
	held := s.held + fresh.size()
	if had, ok := s.ready.Load(feed); ok {
		held -= had.(*edition).size()
	}
	if held > s.most {
		s.ready.Clear()
		held = fresh.size()
	}
	s.ready.Store(feed, fresh)
	s.held = held
}

func (c *edition) size() int { return len(c.plain) + len(c.gzip) }

func newCopy(cal store.Calendar) *edition {
	sum := sha256.Sum256(cal.Body)
	tag := fmt.Sprintf("%x", sum[:12])
	return &edition{
		revision: cal.Revision, changed: cal.Changed,
		plain: cal.Body, gzip: cal.Gzip,
		plainTag: []string{`"` + tag + `"`}, gzipTag: []string{`"` + tag + `-gzip"`},
		plainSize: []string{fmt.Sprint(len(cal.Body))}, zipSize: []string{fmt.Sprint(len(cal.Gzip))},
		modified: []string{cal.Changed.UTC().Format(http.TimeFormat)},
	}
}
