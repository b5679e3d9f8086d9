package store

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"
)

func TestGuessingAcrossAccounts(t *testing.T) {
	tries, now := newTries(), time.Date(2026, time.November, 25, 9, 0, 0, 0, time.UTC)
	for range manyFailures {
		if tries.many(now) {
			t.Fatal("few failures count as many")
		}
		tries.failed(now)
	}
	if !tries.many(now) {
		t.Errorf("%d failures do not count as many", manyFailures)
	}
	if later := now.Add(forgetAfter); tries.many(later) {
		t.Error("nothing was forgotten")
	}
	tries.failed(now.Add(-time.Hour)) // a clock that was set back forgets nothing
	if !tries.many(now.Add(-time.Hour)) {
		t.Error("a clock that was set back forgets")
	}
	for _, row := range []struct {
		failures int
		many     bool
		want     time.Duration
	}{
		{0, false, 0}, {4, false, 0}, {5, false, 2 * time.Second}, {6, false, 4 * time.Second}, {90, false, 15 * time.Minute},
		{0, true, 0}, {1, true, 2 * time.Second}, {90, true, time.Hour},
	} {
		if got := wait(row.failures, row.many); got != row.want {
			t.Errorf("after %d failures, many %t: %s, want %s", row.failures, row.many, got, row.want)
		}
	}
}

func TestStrangersAreRememberedWithinBounds(t *testing.T) {
	tries, now := newTries(), time.Date(2026, time.November, 25, 9, 0, 0, 0, time.UTC)
	tries.strange("Eve", now)
	tries.strange("eVE", now)
	if got := tries.stranger("EVE"); got.times != 2 || got.last != now {
		t.Errorf("Eve has failed %+v", got)
	}
	for n := range 3 * strangersMost {
		tries.strange(fmt.Sprint(n), now)
	}
	if len(tries.strangers) > strangersMost {
		t.Errorf("%d strangers are remembered", len(tries.strangers))
	}
}

func TestTurns(t *testing.T) {
	tries := newTries()
	leave, err := tries.enter(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := tries.enter(gone); !errors.Is(err, context.Canceled) {
		t.Errorf("whoever has gone still waits: %v", err)
	}
	held := make(chan error, waitMost)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	for range waitMost {
		go func() {
			_, err := tries.enter(ctx)
			held <- err
		}()
	}
	for tries.waiting.Load() < waitMost {
		time.Sleep(time.Millisecond)
	}
	if _, err := tries.enter(t.Context()); !errors.Is(err, ErrBusy) {
		t.Errorf("one more waits: %v", err)
	}
	leave()
	if err := <-held; err != nil {
		t.Errorf("the next has no turn: %v", err)
	}
}
