package conflicts

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"banns/milestones"
)

// Holidays is the public holidays of a region that touch the days from first
// to last, with the long weekends that they make, in order. A region is what
// it is to ClosuresFor; in the United States the holidays are those of the
// federal offices. The caution is one sentence about what is left out, and is
// empty where nothing is known to be missing.
func Holidays(code string, first, last milestones.Date) (all []Event, caution string) {
	r, caution := find(code)
	c := r.closures()
	var days calendar
	for d := first.AddDays(-margin); !d.After(last.AddDays(margin)); d = d.AddDays(1) {
		day := calendarDay{Date: d, holiday: c.federal.holiday(d)}
		if day.holiday != "" {
			all = append(all, day.event(c.banks.holiday(d) == ""))
		}
		days = append(days, day)
	}
	if r.banks != nil && early(first) != "" {
		caution = strings.Join(slices.DeleteFunc([]string{early(first), caution}, func(s string) bool { return s == "" }), "; ")
	}
	return within(append(all, days.longWeekends()...), first, last), caution
}

// margin is how many days before and after the ones asked for are looked at:
// a long weekend that touches them may begin and end so far outside.
const margin = 14

// calendarDay is one day, with the name of its holiday if it is one.
type calendarDay struct {
	milestones.Date
	holiday string
}

func (d calendarDay) weekend() bool {
	w := d.Weekday()
	return w == time.Saturday || w == time.Sunday
}

func (d calendarDay) free() bool { return d.holiday != "" || d.weekend() }

// name is that of the holiday, wherever it is observed.
func (d calendarDay) name() string { return strings.TrimSuffix(d.holiday, " (observed)") }

func (d calendarDay) event(banksOpen bool) Event {
	e := Event{What: d.holiday, From: d.Date, To: d.Date, Kind: Holiday, Status: Computed}
	if banksOpen && !d.weekend() {
		e.Note = "government offices keep it; banks are open"
	}
	return e
}

// calendar is days in a row.
type calendar []calendarDay

// longWeekends is the weekends that holidays make longer. A Monday or a
// Friday does that by itself; with a Tuesday or a Thursday, some take the one
// working day between as a bridge day.
func (c calendar) longWeekends() (all []Event) {
	for i := 0; i < len(c); {
		if !c[i].free() {
			i++
			continue
		}
		j := i
		for j+1 < len(c) && (c[j+1].free() || c.bridge(j+1)) {
			j++
		}
		if e, ok := c[i : j+1].longWeekend(); ok {
			all = append(all, e)
		}
		i = j + 1
	}
	return all
}

// bridge reports whether day i is a working Monday or Friday between a
// holiday and a weekend.
func (c calendar) bridge(i int) bool {
	if i == 0 || i+1 == len(c) || c[i].free() {
		return false
	}
	switch c[i].Weekday() {
	case time.Monday:
		return c[i+1].holiday != ""
	case time.Friday:
		return c[i-1].holiday != ""
	}
	return false
}

// longWeekend is the event of a run of free days and bridge days; not ok for
// a plain weekend, or a holiday that touches none.
func (c calendar) longWeekend() (e Event, ok bool) {
	var names, why, bridges []string
	weekend := false
	for _, d := range c {
		weekend = weekend || d.weekend()
		switch {
		case !d.free():
			bridges = append(bridges, d.Words())
		case !d.weekend():
			why = append(why, fmt.Sprintf("%s is on %s", d.holiday, d.Words()))
		}
		if d.holiday != "" && !slices.Contains(names, d.name()) {
			names = append(names, d.name())
		}
	}
	if !weekend || why == nil {
		return Event{}, false
	}
	e = Event{
		What: "long weekend of " + listed(names), From: c[0].Date, To: c[len(c)-1].Date,
		Kind: Holiday, Status: Computed, Note: strings.Join(why, ", "),
	}
	if bridges != nil {
		what := "a bridge day"
		if len(bridges) > 1 {
			what = "bridge days"
		}
		e.What += " with " + what
		e.Note += "; some take " + listed(bridges) + " off as " + what
	}
	return e, true
}

// listed is "a, b and c".
func listed(names []string) string {
	if n := len(names) - 1; n > 0 {
		return strings.Join(names[:n], ", ") + " and " + names[n]
	}
	return names[0]
}
