package desk

import (
	"net/http"
	"slices"
	"strings"

	"banns/feed"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var countdownTemplate = page("countdown.html", "licence_window.html")

// countdownPage is what is done by when, where no contract says it.
type countdownPage struct {
	pageFrame
	Wanted  bool
	From    string   // the day from which planning begins
	Late    []target // late: cannot be met as it stands, or over and not done
	Months  []stepMonth
	Undated []target
	Done    []target
	Left    []leftOut
	Held    []leftOut
	Chain   string
	Room    string
	Overdue int // how many are over and not done
	Begin   form
	Licence *licenceWindow
}

type stepMonth struct {
	Name  string
	Steps []target
}

// target is one milestone.
type target struct {
	duty
	Key   string
	Room  string // how far it can slip, in words
	Why   []string
	Late  string // what gives
	Waits string
	Holds bool
	Open  bool   // it is to do
	At    string // the way to the front page
}

// leftOut is a milestone that the plan does without, and why.
type leftOut struct {
	Key, Title, Why string
	Dropped         bool
}

// countdown answers GET of the countdown.
func (d *Desk) countdown(w http.ResponseWriter, r *http.Request) error {
	return d.showCountdown(w, r, http.StatusOK, beginForm(sightOf(r)))
}

func (d *Desk) showCountdown(w http.ResponseWriter, r *http.Request, status int, begin form) error {
	s := sightOf(r)
	p := countdownPage{pageFrame: newPageFrame(r, "The countdown", "countdown"), Wanted: s.plan.Countdown.Wanted, From: s.plan.Countdown.From.Words(), Begin: begin, Licence: s.licenceWindow()}
	var open []target
	for n := range s.entries {
		e := &s.entries[n]
		if e.Kind != milestones.KindMilestone {
			continue
		}
		one := s.target(p.At, e)
		switch state := e.StateOn(s.today); {
		case state == milestones.Done:
			p.Done = append(p.Done, one)
		case state == milestones.Undated:
			p.Undated = append(p.Undated, one)
		case state == milestones.Overdue:
			p.Overdue++
			p.Late = append(p.Late, one)
		case e.LateBy != nil:
			p.Late = append(p.Late, one)
		default:
			open = append(open, one)
		}
	}
	p.Months = stepMonths(open)
	s.around(&p)
	return web.Show(w, r, status, countdownTemplate, p)
}

// step is a milestone as the page shows it.
func (s *sight) target(at string, e *feed.Entry) target {
	one := target{Key: strings.TrimPrefix(e.ID, "countdown/"), Waits: e.WaitsFor, Open: e.Done.IsZero(), At: at}
	if !e.Date.IsZero() {
		one.duty = s.duty(at, e)
	}
	one.Who, one.Date.What = capital(s.doer(e)), e.What()
	if e.Aim != nil {
		one.Why, one.Late, one.Holds = e.Aim.Why, e.Aim.Late, e.Aim.HoldsUp
	}
	switch {
	case e.LateBy != nil:
		one.Room = plural(*e.LateBy, "day") + " too late"
	case e.Slack == nil || !e.Done.IsZero():
	case *e.Slack == 0:
		one.Room = "cannot slip"
	default:
		one.Room = "can slip " + plural(*e.Slack, "day")
	}
	return one
}

// stepMonths puts steps in order, under their months.
func stepMonths(all []target) []stepMonth {
	slices.SortStableFunc(all, func(a, b target) int { return a.Date.Day.Compare(b.Date.Day) })
	var months []stepMonth
	for _, one := range all {
		name := monthName(one.Date.Day)
		if n := len(months); n == 0 || months[n-1].Name != name {
			months = append(months, stepMonth{Name: name})
		}
		day := one.Date.Day.Words()
		one.Date.When = day[:strings.LastIndex(day, " ")] // the month's name has the year
		last := &months[len(months)-1]
		last.Steps = append(last.Steps, one)
	}
	return months
}

// around is what stands about the milestones: what holds them up, and what
// the plan does without. Both may speak of anything in the plan, so that a
// partner reads only what was left out, whether or not anything is hidden
// from them.
func (s *sight) around(p *countdownPage) {
	drawn := milestones.CountDown(s.doc.Plan, s.closures)
	for _, l := range drawn.Left {
		one := leftOut{l.Key, l.Title, l.Why, slices.Contains(s.plan.Countdown.Drop, l.Key)}
		switch {
		case one.Dropped:
			p.Left = append(p.Left, one)
		case !s.planner():
		case l.Held:
			p.Held = append(p.Held, one)
		default:
			p.Left = append(p.Left, one)
		}
	}
	for _, m := range s.plan.Countdown.Add {
		if slices.Contains(s.plan.Countdown.Drop, m.Key) {
			p.Left = append(p.Left, leftOut{m.Key, m.What, "the plan drops it", true})
		}
	}
	if len(drawn.Chain) == 0 || !s.planner() {
		return
	}
	p.Chain = capital(strings.Join(drawn.Chain, ", then ")) + "."
	switch {
	case drawn.Room < 0:
		p.Room = "There are " + plural(-drawn.Room, "day") + " too few."
	case drawn.Room == 0:
		p.Room = "No day can be lost along the way."
	default:
		p.Room = "In all, " + plural(drawn.Room, "day") + " can be lost along the way."
	}
}

// beginForm asks from which day everything is planned.
func beginForm(s *sight) form {
	f := newForm(s.doc, field{Path: "countdown/planning from", Label: "Plan from", Kind: dateKind,
		Hint: "Whatever is not done gets a day, none before this one"})
	f.Fields[0].Value = s.today.String()
	return f
}

// planFrom answers POST of the day from which everything is planned.
func (d *Desk) planFrom(w http.ResponseWriter, r *http.Request) error {
	f := beginForm(sightOf(r))
	return d.save(w, r, &f, "countdown", func(status int) error { return d.showCountdown(w, r, status, f) })
}

// tickMilestone answers POST of a milestone that was done today.
func (d *Desk) tickMilestone(w http.ResponseWriter, r *http.Request, key string) error {
	s := sightOf(r)
	return d.setCountdown(w, r, store.Set{Path: s.donePath(key), Value: []string{s.today.String()}})
}

// donePath is where the plan says on which day a milestone was done.
func (s *sight) donePath(key string) string {
	if own := "countdown/add/" + key + "/done"; s.doc.At(own) != nil {
		return own
	}
	return "countdown/done/" + key
}

// dropMilestone answers POST of a milestone that the plan is to do without.
func (d *Desk) dropMilestone(w http.ResponseWriter, r *http.Request, key string) error {
	dropped := sightOf(r).plan.Countdown.Drop
	if !slices.Contains(dropped, key) {
		dropped = append(slices.Clone(dropped), key)
	}
	return d.setCountdown(w, r, store.Set{Path: "countdown/drop", Value: dropped, List: true})
}

// bringMilestone answers POST of a milestone that the plan is to have again.
func (d *Desk) bringMilestone(w http.ResponseWriter, r *http.Request, key string) error {
	s := sightOf(r)
	hidden := s.milestone(key) == nil && !s.own(key) && slices.ContainsFunc(s.doc.Plan.Countdown.Add, func(m milestones.Milestone) bool { return m.Key == key })
	if hidden || s.milestone(key) == nil && !slices.Contains(s.plan.Countdown.Drop, key) {
		return nothing(w, r)
	}
	dropped := slices.DeleteFunc(slices.Clone(s.plan.Countdown.Drop), func(one string) bool { return one == key })
	return d.setCountdown(w, r, store.Set{Path: "countdown/drop", Value: dropped, List: true})
}

// setCountdown saves one change to the countdown as it is now.
func (d *Desk) setCountdown(w http.ResponseWriter, r *http.Request, set store.Set) error {
	s := sightOf(r)
	f := form{Seen: s.plan.Version}
	return d.save(w, r, &f, "countdown", func(status int) error {
		begin := beginForm(s)
		begin.Faults = f.Faults
		return d.showCountdown(w, r, status, begin)
	}, set)
}
