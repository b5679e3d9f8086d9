package conflicts

import (
	"time"

	"github.com/rickar/cal/v2"
)

// What becomes of a holiday that falls on a weekend, for observing.
var (
	nearestWeekday = []cal.AltDay{{Day: time.Saturday, Offset: -1}, {Day: time.Sunday, Offset: 1}}
	nextWeekday    = []cal.AltDay{{Day: time.Saturday, Offset: 2}, {Day: time.Sunday, Offset: 1}}
	sundayToMonday = []cal.AltDay{{Day: time.Sunday, Offset: 1}}
)

// observing is the holidays with one rule for their weekends.
func observing(weekends []cal.AltDay, holidays ...*cal.Holiday) []*cal.Holiday {
	out := make([]*cal.Holiday, len(holidays))
	for i, h := range holidays {
		out[i] = h.Clone(&cal.Holiday{Observed: weekends})
	}
	return out
}

// amend is a list of the library's with some holidays put right and others
// added. The library's own list stays as it is.
func amend(list []*cal.Holiday, right map[*cal.Holiday]*cal.Holiday, more ...*cal.Holiday) []*cal.Holiday {
	out := make([]*cal.Holiday, 0, len(list)+len(more))
	for _, h := range list {
		if r, ok := right[h]; ok {
			h = r
		}
		out = append(out, h)
	}
	return append(out, more...)
}

// named is h under the name by which people know it.
func named(name string, h *cal.Holiday) *cal.Holiday {
	return h.Clone(&cal.Holiday{Name: name})
}

// yearly is a holiday on the same day every year, from a first year on.
func yearly(name string, from int, m time.Month, day int) *cal.Holiday {
	return &cal.Holiday{Name: name, StartYear: from, Month: m, Day: day, Func: cal.CalcDayOfMonth}
}

// once is a holiday of a single year.
func once(name string, year int, m time.Month, day int) *cal.Holiday {
	h := yearly(name, year, m, day)
	h.EndYear = year
	return h
}

// orthodox is a holiday so many days after the Easter of the Orthodox
// churches.
func orthodox(name string, days int) *cal.Holiday {
	return &cal.Holiday{Name: name, Offset: days, Func: orthodoxEaster}
}

// orthodoxEaster is Pascha, moved by the days of h. The library's own is 13
// days from the Julian one in every century.
func orthodoxEaster(h *cal.Holiday, year int) time.Time {
	p := Pascha(year).AddDays(h.Offset)
	return time.Date(p.Year, p.Month, p.Day, 0, 0, 0, 0, time.UTC)
}
