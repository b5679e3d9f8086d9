package conflicts

import (
	"slices"

	"banns/milestones"
)

// Scales weigh the days of a stretch for one wedding. One goroutine at a time
// may use them.
type Scales struct {
	Today milestones.Date // a day before it is past; zero: none is
	// Hidden is whether what is hidden from these people is kept out; nil: nothing is.
	Hidden func(from []string) bool
	// Outside is for readers who are to choose among the days and know nothing
	// of the plan: nobody and no agreement is named, and what is hidden from
	// anybody is kept out.
	Outside bool

	plan     *milestones.Plan
	closures milestones.Closures
	place    milestones.Place
	start    *milestones.Clock
	kind     milestones.Kind // what is weighed: the wedding, or one of its appointments or occasions
	hours    *[2]int         // of a day that matter to it; nil: not known

	from    milestones.Date // the first day of the stretch
	tallies []tally         // of public events alone, by day of the stretch
	begin   [][]*Event      // those of less than a season, by first day, from reach days before the stretch to weekendGap after it
	seasons []*Event
	years   map[int]bool               // of which an event has been read
	fixed   map[string]milestones.Date // of what does not move with the wedding, by id; nil: not worked out yet
}

// reach is how many days before a day something may begin that meets it, or
// meets the days before it, and is no season.
const reach = seasonDays

// NewScales takes in the plan of a wedding, the closures of its region, and
// every public event; only what meets the days from from to to is kept.
// Events may be in any order. It takes time in proportion to their number.
func NewScales(p *milestones.Plan, c milestones.Closures, events []Event, from, to milestones.Date) *Scales {
	days := max(0, to.DaysSince(from)+1)
	s := &Scales{plan: p, closures: c, place: p.Wedding.Place, start: p.Wedding.Start, from: from,
		kind: milestones.KindWedding, hours: busy(p.Wedding.Start),
		tallies: make([]tally, days+1), begin: make([][]*Event, reach+days+weekendGap), years: map[int]bool{}}
	for n := range events {
		e := &events[n]
		firstDay, lastDay := s.days(e)
		first, last := firstDay.DaysSince(from), lastDay.DaysSince(from)
		b := s.bear(e)
		if last < first || last+weekendGap < 0 || first-weekendGap >= days || b.on == 0 {
			continue
		}
		if e.Status != Computed {
			s.years[e.From.Year] = true
		}
		s.countOwn(e, &b, first, last)
		s.count(first-1, first-1, b.beside, e.Status)
		s.count(last+1, last+1, b.beside, e.Status)
		for _, n := range [...]int{first - weekendGap, last + weekendGap} {
			if b.weekend > 0 && sameWeekend(firstDay, lastDay, from.AddDays(n)) {
				s.count(n, n, b.weekend, e.Status)
			}
		}
		if last-first >= seasonDays-1 {
			s.seasons = append(s.seasons, e)
		} else {
			s.begin[first+reach] = append(s.begin[first+reach], e)
		}
	}
	s.tallies = s.tallies[:days]
	for n := 1; n < days; n++ {
		s.tallies[n].add(s.tallies[n-1])
	}
	return s
}

// hidden reports whether something is kept out that is hidden from these people.
func (s *Scales) hidden(from []string) bool {
	return s.Outside && len(from) > 0 || s.Hidden != nil && s.Hidden(from)
}

// count has a clash in the tallies of the days from first to last. While the
// events are taken in, a tally is how its day differs from the day before,
// so that a season costs no more than a day.
func (s *Scales) count(first, last int, sev Severity, st Status) {
	first, last = max(first, 0), min(last, len(s.tallies)-2)
	if sev > 0 && first <= last {
		s.tallies[first][class(sev, st)]++
		s.tallies[last+1][class(sev, st)]--
	}
}

// countOwn has an event in the tallies of its own days. By its hours it may
// miss the wedding on the first and on the last, or on all.
func (s *Scales) countOwn(e *Event, b *bearing, first, last int) {
	start, end := s.days(e)
	if e.Daily && s.over(e, start) {
		s.count(first, last, b.over, e.Status)
		return
	}
	from, to := first, last
	if s.over(e, start) {
		s.count(first, first, b.over, e.Status)
		from++
	}
	if end != start && s.over(e, end) {
		s.count(last, last, b.over, e.Status)
		to--
	}
	s.count(from, to, b.on, e.Status)
}

// season reports whether e lasts so long that it tells no day from the next.
func (e *Event) season() bool { return e.Season || e.To.DaysSince(e.From) >= seasonDays-1 }

// public are the public events that clash with a day.
func (s *Scales) public(day milestones.Date) []Clash {
	n := day.DaysSince(s.from)
	if n < 0 || n >= len(s.tallies) {
		return nil
	}
	var all []Clash
	for _, list := range append(slices.Clip(s.begin[n:n+reach+weekendGap+1]), s.seasons) {
		for _, e := range list {
			if c := s.clash(e, day); c.Severity > 0 {
				all = append(all, c)
			}
		}
	}
	return all
}

// tally counts clashes by severity and by how sure they are, the worst and
// surest first. Of two days the one whose tally comes first is the better:
// the worst clash decides, then how many there are, then what is less bad.
type tally [2 * severities]int32

// class is the place of a clash in a tally.
func class(s Severity, st Status) int {
	n := 2 * (severities - int(s))
	if st == Expected {
		n++
	}
	return n
}

func (t *tally) add(o tally) {
	for n := range t {
		t[n] += o[n]
	}
}

func (t *tally) compare(o tally) int { return slices.Compare(t[:], o[:]) }

// verdict is what the worst clash makes of a day. What is only expected is to
// be watched, and no more, until its organiser announces it; unless nothing
// could be held at all.
func (t *tally) verdict() Verdict {
	for n, count := range t {
		if count == 0 {
			continue
		}
		sev := Severity(severities - n/2)
		if n%2 == 1 && sev > Noticeable {
			sev--
		}
		return verdicts[sev]
	}
	return Clear
}
