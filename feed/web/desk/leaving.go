package desk

import (
	"net/http"
	"slices"
	"strings"

	"banns/feed/web"
	"banns/milestones"
)

var leavingTemplate = page("leaving.html", "sums.html", "steps.html")

// leavingPage is what leaving costs: on a day, and from today to the wedding.
type leavingPage struct {
	pageFrame
	On, Hour  field
	Faults    []fault
	Lead      string
	When      string // the day asked about, and its hour, in words
	Costs     sumTable
	Questions []string
	Whole     bool      // nothing is hidden from the visitor
	Signed    bool      // something can be left at all
	Over      *overTime // nil where there is no time between today and the wedding
	Open      bool      // the wedding has no day
}

// leaving answers GET of what leaving costs.
func (d *Desk) leaving(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	p := leavingPage{pageFrame: newPageFrame(r, "What leaving costs", "leaving"), Whole: s.planner(), Open: s.plan.Wedding.Date.IsZero(),
		On:   field{Path: "on", Label: "If you leave on", Kind: dateKind, Value: s.today.String()},
		Hour: field{Path: "at", Label: "At what hour, if it matters", Kind: timeKind}}
	day, at := p.asked(r, s.today)
	if p.Faults != nil {
		return web.Show(w, r, http.StatusUnprocessableEntity, leavingTemplate, p)
	}
	p.When = day.Words()
	if at != nil {
		p.When += ", " + at.String()
	}
	for _, a := range s.plan.Agreements {
		p.Signed = p.Signed || a.Binding() && s.sumsOf(a.Key)
	}
	from, to := s.plan.Minutes(day, at)
	p.fill(s, s.leaves(milestones.Leaving(s.doc.Plan, s.closures, from, to)))
	p.Over = s.overTime()
	return web.Show(w, r, http.StatusOK, leavingTemplate, p)
}

// asked reads the day, and its hour where there is one.
func (p *leavingPage) asked(r *http.Request, day milestones.Date) (milestones.Date, *milestones.Clock) {
	q := r.URL.Query()
	wrong := func(f *field, err error) {
		f.Fault = err.Error()
		p.Faults = append(p.Faults, fault{f.ID(), f.Label + ": " + f.Fault})
	}
	if text := strings.TrimSpace(q.Get("on")); text != "" {
		p.On.Value = text
		var err error
		if day, err = milestones.ParseDate(text); err != nil {
			wrong(&p.On, err)
		}
	}
	text := strings.TrimSpace(q.Get("at"))
	if text == "" {
		return day, nil
	}
	p.Hour.Value = text
	at, err := milestones.ParseClock(text)
	if err != nil {
		wrong(&p.Hour, err)
	}
	return day, &at
}

func (p *leavingPage) fill(s *sight, each []milestones.Leave) {
	p.Costs = sumTable{ID: "costs", Caption: "Leaving on " + p.When + ", paid or not", Head: []string{"costs", "paid or due by then", "still to pay", "comes back"}}
	add := func(name string, one milestones.Leave) *sumRow {
		return p.Costs.add(name, s.words(one.Cost), s.some(one.Paid), s.some(one.ToPay), s.some(one.Back))
	}
	for _, one := range each {
		add(one.With, one).To = p.At + "agreements/" + one.Agreement
		for _, q := range one.Questions {
			if q = sentence(q); !slices.Contains(p.Questions, q) {
				p.Questions = append(p.Questions, q)
			}
		}
	}
	if len(each) > 0 {
		add("In all", milestones.Together(each)).Total = true
	}
}

// leaves are those whose sums the visitor may see.
func (s *sight) leaves(each []milestones.Leave) []milestones.Leave {
	return slices.DeleteFunc(slices.Clone(each), func(one milestones.Leave) bool { return !s.sumsOf(one.Agreement) })
}

// overTime is what leaving costs from today to the wedding.
type overTime struct {
	From, To string
	All      costs
	Each     []costs
}

// costs are the steps of what one agreement costs to leave, or all together.
type costs struct {
	Name    string
	Now     string // what it costs at first
	Last    string // and in the end, where that is something else
	Picture *stepPicture
	Steps   sumTable
}

// costStep is a stretch of days, both included, over which leaving costs the
// same.
type costStep struct {
	From, To milestones.Date
	Cost     milestones.Amount
}

func (s *sight) overTime() *overTime {
	from, to := s.today, s.plan.Wedding.Date
	if to.IsZero() || to.Before(from) {
		return nil
	}
	steps := milestones.LeavingSteps(s.doc.Plan, s.closures, from, to)
	for n := range steps {
		steps[n].Each = s.leaves(steps[n].Each)
	}
	o := overTime{From: from.Words(), To: to.Words()}
	all := costSteps(steps, func(each []milestones.Leave) (milestones.Amount, bool) {
		return milestones.Together(each).Cost, len(each) > 0
	})
	if len(all) == 0 {
		return nil
	}
	o.All = s.costs("All together", "steps-all", all)
	for _, a := range s.plan.Agreements {
		one := costSteps(steps, func(each []milestones.Leave) (milestones.Amount, bool) {
			n := slices.IndexFunc(each, func(l milestones.Leave) bool { return l.Agreement == a.Key })
			if n < 0 {
				return milestones.Amount{}, false
			}
			return each[n].Cost, true
		})
		if len(one) > 0 {
			o.Each = append(o.Each, s.costs(a.With, "steps-"+a.Key, one))
		}
	}
	return &o
}

// costSteps are the steps of one cost among those of all; of reports whether
// there is such a cost.
func costSteps(steps []milestones.LeavingStep, of func([]milestones.Leave) (milestones.Amount, bool)) []costStep {
	var all []costStep
	for _, step := range steps {
		cost, ok := of(step.Each)
		if n := len(all); !ok {
			continue
		} else if n > 0 && all[n-1].Cost == cost {
			all[n-1].To = step.To
			continue
		}
		all = append(all, costStep{step.From, step.To, cost})
	}
	return all
}

func (s *sight) costs(name, id string, steps []costStep) costs {
	first, last := s.words(steps[0].Cost), s.words(steps[len(steps)-1].Cost)
	c := costs{Name: name, Now: first, Picture: newStepPicture(s.plan.Wedding.Currency, steps),
		Steps: sumTable{ID: id, Caption: name + ", step by step", Head: []string{"costs"}}}
	if last != first {
		c.Last = last
	}
	for _, step := range steps {
		days := step.From.Words()
		if step.To != step.From {
			days += " to " + step.To.Words()
		}
		c.Steps.add(days, s.words(step.Cost))
	}
	if c.Picture != nil {
		c.Picture.Title = name + ": leaving costs " + first + " on " + steps[0].From.Words() + ", and " + last + " on " + steps[len(steps)-1].To.Words() + ". The table has every step."
	}
	return c
}
