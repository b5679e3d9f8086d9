package desk

import (
	"fmt"
	"strings"

	"banns/milestones"
)

// stepPicture is what leaving costs, as lines that step from day to day. Its
// paths run over a square of 100 by 100, which the page stretches; what is
// written beside it is text of the page.
type stepPicture struct {
	Title    string
	Least    string   // path of the least that it costs
	Most     string   // and of the most; empty where that is never more
	Sums     []string // at the top, half way and at the bottom
	From, To string   // the first and the last day
}

// newStepPicture draws steps, or nothing where no sum is known.
func newStepPicture(c milestones.Currency, steps []costStep) *stepPicture {
	var highest milestones.Money
	known, doubt := false, false
	for _, step := range steps {
		if !step.Cost.Known {
			continue
		}
		known, highest = true, max(highest, step.Cost.Low)
		if !step.Cost.Open {
			highest = max(highest, step.Cost.High)
			doubt = doubt || step.Cost.High > step.Cost.Low
		}
	}
	if !known {
		return nil
	}
	last := steps[len(steps)-1].To
	at := plot{first: steps[0].From, days: last.DaysSince(steps[0].From) + 1, top: roundUp(c, highest)}
	p := &stepPicture{From: steps[0].From.Words(), To: last.Words(),
		Sums:  []string{short(c, at.top), short(c, at.top/2), short(c, 0)},
		Least: at.path(steps, func(a milestones.Amount) (milestones.Money, bool) { return a.Low, a.Known })}
	if doubt {
		p.Most = at.path(steps, func(a milestones.Amount) (milestones.Money, bool) { return a.High, a.Known && !a.Open })
	}
	return p
}

// roundUp is a sum of one even digit, or 10, 100 and so on, that is no less
// than m: half of it is a whole sum too.
func roundUp(c milestones.Currency, m milestones.Money) milestones.Money {
	unit := milestones.Money(1)
	for range c.Digits() {
		unit *= 10
	}
	for ; ; unit *= 10 {
		for _, digit := range []milestones.Money{2, 4, 6, 8, 10} {
			if digit*unit >= m {
				return digit * unit
			}
		}
	}
}

// short is a whole sum without its minor units.
func short(c milestones.Currency, m milestones.Money) string {
	says, _, _ := strings.Cut(c.Words(m), ".")
	return says
}

// plot is where days and sums stand in a picture.
type plot struct {
	first milestones.Date
	days  int
	top   milestones.Money
}

func (p plot) x(day milestones.Date) float64 {
	return 100 * float64(day.DaysSince(p.first)) / float64(p.days)
}

func (p plot) y(m milestones.Money) float64 { return 100 - 100*float64(m)/float64(p.top) }

// path is a line along one sum of each step. Where there is none, it breaks.
func (p plot) path(steps []costStep, of func(milestones.Amount) (milestones.Money, bool)) string {
	var out strings.Builder
	drawn := false
	for _, step := range steps {
		sum, ok := of(step.Cost)
		switch {
		case ok && drawn:
			fmt.Fprintf(&out, "V%.2f", p.y(sum))
		case ok:
			fmt.Fprintf(&out, "M%.2f %.2f", p.x(step.From), p.y(sum))
		}
		if drawn = ok; ok {
			fmt.Fprintf(&out, "H%.2f", p.x(step.To.AddDays(1)))
		}
	}
	return out.String()
}
