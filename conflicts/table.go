package conflicts

import (
	"sync"
	"time"

	"banns/milestones"

	"github.com/rickar/cal/v2"
)

// A table is the holidays that one kind of office keeps. A count of business
// days asks about the same two or three years day by day, so each year is
// worked out once, when it is first asked for. Several goroutines may ask.
type table struct {
	rules []*cal.Holiday

	mu    sync.Mutex
	years map[int]bool
	names map[milestones.Date]string
}

func newTable(rules []*cal.Holiday) *table {
	return &table{rules: rules, years: map[int]bool{}, names: map[milestones.Date]string{}}
}

func (t *table) holiday(d milestones.Date) string {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.fill(d.Year)
	// Next year too: New Year's Day of 2028 is observed on 31 December 2027.
	t.fill(d.Year + 1)
	return t.names[d]
}

// fill adds the holidays of one year, wherever they are observed. The day of
// every holiday comes first, so that what is moved off a weekend finds the
// next day free: with Christmas on a Sunday, Boxing Day keeps its Monday and
// Christmas is observed on the Tuesday.
func (t *table) fill(year int) {
	if t.years[year] {
		return
	}
	t.years[year] = true
	for _, h := range t.rules {
		if d := dayOf(h, year); !d.IsZero() && t.names[d] == "" {
			t.names[d] = h.Name
		}
	}
	for _, h := range t.rules {
		d := dayOf(h, year)
		if d.IsZero() {
			continue
		}
		if n := shift(h, d.Weekday()); n != 0 {
			t.names[t.free(d.AddDays(n))] = h.Name + " (observed)"
		}
	}
}

// free is d, or the first day after it that is no holiday yet.
func (t *table) free(d milestones.Date) milestones.Date {
	for t.names[d] != "" {
		d = d.AddDays(1)
	}
	return d
}

// dayOf is the day on which h falls in a year, not the one on which it is
// observed; no day in a year without it.
func dayOf(h *cal.Holiday, year int) milestones.Date {
	day, _ := h.Calc(year)
	if day.IsZero() {
		return milestones.Date{}
	}
	// The library gives midnight in the machine's own zone, and where a clock
	// change takes that midnight away, an instant of the evening before. Noon
	// is on the right day everywhere.
	return milestones.DateOf(day.Add(12 * time.Hour))
}

// shift is by how many days a holiday that falls on w is moved.
func shift(h *cal.Holiday, w time.Weekday) int {
	for _, alt := range h.Observed {
		if alt.Day == w {
			return alt.Offset
		}
	}
	return 0
}
