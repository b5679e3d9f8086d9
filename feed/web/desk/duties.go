package desk

import (
	"cmp"
	"fmt"
	"slices"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
)

// duty is one thing that somebody has to do, or to be at.
type duty struct {
	Date    web.Date
	Door    *web.Door
	By      string // the day in full
	In      string // how long until then
	Who     string
	Cost    string // what happens if it is missed
	risk    string // the same in a few words
	Wedding string // whose it is, on pages of several
	kind    milestones.Kind
}

// duties are what has to be done or attended from today on, and what is late.
// What is only quoted binds nobody; what comes back is somebody else's to pay,
// until it is late.
func (s *sight) duties(at string) (late, coming []duty) {
	entries := s.live()
	for n := range entries {
		e := &entries[n]
		state := e.StateOn(s.today)
		switch {
		case e.Option() || e.Standing == milestones.Quoted:
		case state == milestones.Overdue:
			late = append(late, s.duty(at, e))
		case state == milestones.Open && e.Kind != milestones.KindRefund:
			coming = append(coming, s.duty(at, e))
		}
	}
	slices.SortStableFunc(late, func(a, b duty) int {
		return cmp.Or(cmp.Compare(behind(a.kind), behind(b.kind)), a.Date.Day.Compare(b.Date.Day))
	})
	slices.SortStableFunc(coming, func(a, b duty) int { return a.Date.Day.Compare(b.Date.Day) })
	return late, coming
}

// behind puts what no contract sets behind what one does.
func behind(k milestones.Kind) int {
	if k == milestones.KindMilestone {
		return 1
	}
	return 0
}

func (s *sight) duty(at string, e *feed.Entry) duty {
	p := published([]feed.Entry{*e})
	d := duty{Date: web.NewDate(&p[0], s.today), Door: s.door(at, e), By: e.Day().Words(), In: until(e.Day(), s.today), Who: capital(s.doer(e)), Cost: e.Missed(), risk: e.Risk(), kind: e.Kind}
	d.Date.Hidden = s.hiddenFrom(e)
	if d.Date.Day.Year != s.today.Year {
		d.Date.When = d.By
	}
	if hours := e.Hours(); hours != "" && !e.Deadline() {
		d.By += ", " + hours
	}
	return d
}

// toldCosts have what happens if something is missed told in full once among
// several, and in a few words from then on.
type toldCosts map[string]bool

func (told toldCosts) once(d *duty) {
	if d.risk != "" && told[d.Cost] {
		d.Cost = capital(d.risk) + "."
		return
	}
	told[d.Cost] = true
}

// tellCosts tells of each duty once what happens if it is missed.
func tellCosts(all []duty) {
	told := toldCosts{}
	for n := range all {
		told.once(&all[n])
	}
}

// until is how far a day is from today.
func until(day, today milestones.Date) string {
	switch n := day.DaysSince(today); {
	case n == 0:
		return "today"
	case n == 1:
		return "tomorrow"
	case n > 1:
		return fmt.Sprintf("in %d days", n)
	case n == -1:
		return "yesterday"
	default:
		return fmt.Sprintf("%d days ago", -n)
	}
}
