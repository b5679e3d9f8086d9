package desk

import (
	"context"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"banns/conflicts"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

// subject is what days are weighed for: a wedding, as somebody sees it.
type subject struct {
	wedding  store.Wedding
	plan     *milestones.Plan // whole
	closures milestones.Closures
	key      string // who looks, or empty for a planner
	outside  bool   // it is for somebody who knows nothing of the plan
	avoid    []conflicts.Tradition
	today    milestones.Date
	mark     string // of what the sources hold
}

// subject is what days are weighed for the visitor who asks for a page.
func (d *Desk) subject(r *http.Request, avoid []conflicts.Tradition) (subject, error) {
	s := sightOf(r)
	mark, err := d.Store.SourcesMark(r.Context(), s.ID)
	return subject{wedding: s.Admits.Wedding, plan: s.doc.Plan, closures: s.closures, key: s.key, avoid: avoid, today: s.today, mark: mark}, err
}

// weighingKey is all that the days of a year go by.
type weighingKey struct {
	wedding string
	version int
	mark    string
	key     string
	outside bool
	avoid   string
	today   milestones.Date
	year    int
}

// weighing is one year on the scales. Its days are weighed as they are asked
// for.
type weighing struct {
	mu       sync.Mutex
	scales   *conflicts.Scales                       // nil until it is first asked
	read     bool                                    // some event was
	cautions []string                                // what is not known of the year
	ranks    map[milestones.Date]conflicts.Candidate // without reasons
	days     map[milestones.Date]web.Weighed
}

// weigh is the year of a subject.
func (d *Desk) weigh(ctx context.Context, s subject, year int) (*weighing, error) {
	var avoid []string
	for _, t := range s.avoid {
		avoid = append(avoid, string(t))
	}
	k := weighingKey{s.wedding.ID, s.plan.Version, s.mark, s.key, s.outside, strings.Join(avoid, " "), s.today, year}
	w := d.weighed.at(k)
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.scales != nil {
		return w, nil
	}
	sources, err := d.Store.Sources(ctx, s.wedding.ID)
	if err != nil {
		return nil, err
	}
	w.fill(s, sources, year)
	return w, nil
}

// fill reads what is known of a year. A source that cannot be read any more
// has no events; the page of sources says why.
func (w *weighing) fill(s subject, sources []store.Source, year int) {
	first, last := yearOf(year)
	from, to := first.AddDays(-conflicts.ReachDays), last.AddDays(conflicts.ReachDays)
	var read []conflicts.Event
	for _, src := range sources {
		if l, err := src.Listing(s.plan.Wedding.Location(), from.AddMonths(-12*conflicts.PastYears), to); err == nil {
			read = append(read, l.Events...)
		}
	}
	events, holidays := conflicts.Known(&s.plan.Wedding, read, s.avoid, from, to)
	w.read, w.cautions = len(read) > 0, conflicts.Cautions(&s.plan.Wedding, read, s.avoid, first, last, holidays)
	w.ranks, w.days = map[milestones.Date]conflicts.Candidate{}, map[milestones.Date]web.Weighed{}
	w.scales = conflicts.NewScales(s.plan, s.closures, events, first, last)
	w.scales.Today, w.scales.Outside = s.today, s.outside
	if me, ok := s.plan.Person(s.key); ok {
		w.scales.Hidden = me.Named
	}
}

func yearOf(year int) (first, last milestones.Date) {
	return milestones.Date{Year: year, Month: time.January, Day: 1}, milestones.Date{Year: year, Month: time.December, Day: 31}
}

// rank is how days of the year come out, the best first, without reasons.
func (w *weighing) rank(days []milestones.Date) []conflicts.Candidate {
	w.mu.Lock()
	defer w.mu.Unlock()
	fresh := slices.DeleteFunc(slices.Clone(days), func(day milestones.Date) bool {
		_, done := w.ranks[day]
		return done
	})
	for _, c := range w.scales.Rank(fresh) {
		w.ranks[c.Date] = c
	}
	all := make([]conflicts.Candidate, 0, len(days))
	for _, day := range days {
		all = append(all, w.ranks[day])
	}
	slices.SortStableFunc(all, conflicts.Candidate.Compare)
	return all
}

// day is one day of the year with its reasons.
func (w *weighing) day(day milestones.Date) web.Weighed {
	w.mu.Lock()
	defer w.mu.Unlock()
	one, done := w.days[day]
	if !done {
		one = web.NewWeighed(w.scales.Weigh([]milestones.Date{day}, 0)[0])
		w.days[day] = one
	}
	return one
}

// compare weighs days of any years, the best first, with what is not known of
// those years.
func (d *Desk) compare(ctx context.Context, s subject, days []milestones.Date) (all []web.Weighed, cautions []string, err error) {
	for _, day := range days {
		w, err := d.weigh(ctx, s, day.Year)
		if err != nil {
			return nil, nil, err
		}
		all = append(all, w.day(day))
		for _, says := range w.cautions {
			if !slices.Contains(cautions, says) {
				cautions = append(cautions, says)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b web.Weighed) int { return a.Candidate.Compare(b.Candidate) })
	return all, cautions, nil
}
