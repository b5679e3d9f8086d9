package store

import (
	"context"
	"crypto/sha256"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// tries is what is remembered of sign-ins while the program runs: how many
// fail in all, so that guessing at one account after the other is slowed as
// guessing at one is; and how often names failed that nobody has, so that the
// wait does not tell which names somebody has.
type tries struct {
	turn    chan struct{} // held by the one that is looked at
	waiting atomic.Int32

	mu        sync.Mutex
	level     float64 // failures of late
	at        time.Time
	strangers map[[sha256.Size]byte]failures // by a hash of their name
}

// failures are those in a row.
type failures struct {
	times int
	last  time.Time
}

const (
	// waitMost is how many may wait for their turn. Each takes a moment and
	// 64 MiB; without a bound a crowd would keep everybody waiting.
	waitMost = 32
	// manyFailures are so many that somebody is guessing: one is forgotten
	// every forgetAfter.
	manyFailures = 30
	forgetAfter  = 2 * time.Minute
	// strangersMost is how many names are remembered that nobody has.
	strangersMost = 1000
)

func newTries() *tries {
	return &tries{turn: make(chan struct{}, 1), strangers: map[[sha256.Size]byte]failures{}}
}

// enter waits for its turn: tries that are sent at once count like tries in
// a row only if they are looked at in a row.
func (t *tries) enter(ctx context.Context) (leave func(), err error) {
	defer t.waiting.Add(-1)
	if t.waiting.Add(1) > waitMost {
		return nil, ErrBusy
	}
	select {
	case t.turn <- struct{}{}:
		return func() { <-t.turn }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// failed counts a failure.
func (t *tries) failed(now time.Time) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.level, t.at = t.levelOn(now)+1, now
}

// many reports whether so many fail that somebody is guessing.
func (t *tries) many(now time.Time) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.levelOn(now) >= manyFailures
}

func (t *tries) levelOn(now time.Time) float64 {
	return max(0, t.level-max(0, float64(now.Sub(t.at))/float64(forgetAfter)))
}

// stranger is how often a name failed that nobody has.
func (t *tries) stranger(name string) failures {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.strangers[nameless(name)]
}

// strange counts a failure of a name that nobody has.
func (t *tries) strange(name string, now time.Time) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.strangers) >= strangersMost {
		clear(t.strangers)
	}
	hash := nameless(name)
	t.strangers[hash] = failures{t.strangers[hash].times + 1, now}
}

// nameless is a name in few bytes, in whatever case it was typed.
func nameless(name string) [sha256.Size]byte { return sha256.Sum256([]byte(strings.ToLower(name))) }

// wait is how long the next try has to wait after so many failures in a row:
// longer where many fail.
func wait(failures int, many bool) time.Duration {
	free, most := 5, 15*time.Minute
	if many {
		free, most = 1, time.Hour
	}
	if failures < free {
		return 0
	}
	return min(most, time.Second<<min(failures-free+1, 12))
}
