package desk

import (
	"context"
	"fmt"
	"sync"

	"banns/conflicts"
	"banns/feed"
)

// met is what of the city's events the plan's own dates meet, worked out
// once for what the sources hold.
type met struct {
	mu   sync.Mutex
	done bool
	mark string // of what they held
	by   map[string][]conflicts.Clash
}

// meetsMost is how many events are told of one entry.
const meetsMost = 3

// meets says in sentences what of the city's events somebody will feel who
// keeps an entry. What a source holds is no secret of the plan.
func (d *Desk) meets(ctx context.Context, s *sight) (func(*feed.Entry) []string, error) {
	mark, err := d.Store.SourcesMark(ctx, s.ID)
	if err != nil {
		return nil, err
	}
	a := s.met
	a.mu.Lock()
	defer a.mu.Unlock()
	if !a.done || a.mark != mark {
		sources, err := d.Store.Sources(ctx, s.ID)
		if err != nil {
			return nil, err
		}
		first, last := conflicts.AroundDays(s.items)
		var read []conflicts.Event
		for _, src := range sources {
			if l, err := src.Listing(s.doc.Plan.Wedding.Location(), first.AddMonths(-12*conflicts.PastYears), last.AddDays(1)); err == nil {
				read = append(read, l.Events...)
			}
		}
		a.by, a.mark, a.done = conflicts.Around(s.doc.Plan, s.items, read), mark, true
	}
	by := a.by
	return func(e *feed.Entry) []string {
		var all []string
		for n, c := range by[e.ID] {
			if n == meetsMost {
				all = append(all, fmt.Sprintf("and %d more, none of them worse.", len(by[e.ID])-n))
				break
			}
			all = append(all, c.Says)
		}
		return all
	}, nil
}
