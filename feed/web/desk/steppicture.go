package desk

import (
	"fmt"
	"strings"

	"banns/milestones"
)

// The picture's own measures. It is drawn to be read on the smallest phone,
// where one of these units is about one pixel.
const (
	pictureWide, pictureHigh = 320, 200
	letterWide               = 8.5 // of the sums beside it
	rightMargin              = 8
	topMargin                = 12
	footRoom                 = 34 // for the days under it
)

// stepPicture is what leaving costs, as lines that step from day to day.
type stepPicture struct {
	Title      string
	Wide, High int
	Left       float64 // where the lines begin
	Right      int
	Bottom     int
	Least      string // path of the least that it costs
	Most       string // and of the most, where that is more; empty where it never is
	Sums       []pictureSum
	From, To   string // the first and the last day
}

// pictureSum is a sum beside the picture.
type pictureSum struct {
	Y    float64
	Says string
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
	top := roundUp(c, highest)
	p := &stepPicture{Wide: pictureWide, High: pictureHigh, Right: pictureWide - rightMargin, Bottom: pictureHigh - footRoom,
		From: steps[0].From.Words(), To: steps[len(steps)-1].To.Words()}
	at := plot{first: steps[0].From, days: steps[len(steps)-1].To.DaysSince(steps[0].From) + 1, top: top}
	for _, sum := range []milestones.Money{0, top / 2, top} {
		says := short(c, sum)
		p.Left = max(p.Left, letterWide*float64(len([]rune(says)))+6)
		p.Sums = append(p.Sums, pictureSum{at.y(sum), says})
	}
	at.left = p.Left
	p.Least = at.path(steps, func(a milestones.Amount) (milestones.Money, bool) { return a.Low, a.Known })
	if doubt {
		p.Most = at.path(steps, func(a milestones.Amount) (milestones.Money, bool) { return a.High, a.Known && !a.Open })
	}
	return p
}

// roundUp is a sum with one digit, or one and a half, that is no less than m.
func roundUp(c milestones.Currency, m milestones.Money) milestones.Money {
	unit := milestones.Money(1)
	for range c.Digits() {
		unit *= 10
	}
	for {
		for _, top := range []milestones.Money{2, 4, 6, 8, 10} {
			if top*unit >= m {
				return top * unit
			}
		}
		unit *= 10
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
	left  float64
}

func (p plot) x(day milestones.Date) float64 {
	return p.left + (pictureWide-rightMargin-p.left)*float64(day.DaysSince(p.first))/float64(p.days)
}

func (p plot) y(m milestones.Money) float64 {
	const bottom = pictureHigh - footRoom
	return bottom - (bottom-topMargin)*float64(m)/float64(p.top)
}

// path is a line along one sum of each step. Where there is none, it breaks.
func (p plot) path(steps []costStep, of func(milestones.Amount) (milestones.Money, bool)) string {
	var out strings.Builder
	drawn := false
	for _, step := range steps {
		sum, ok := of(step.Cost)
		switch {
		case ok && drawn:
			fmt.Fprintf(&out, "V%.1f", p.y(sum))
		case ok:
			fmt.Fprintf(&out, "M%.1f %.1f", p.x(step.From), p.y(sum))
		}
		if drawn = ok; ok {
			fmt.Fprintf(&out, "H%.1f", p.x(step.To.AddDays(1)))
		}
	}
	return out.String()
}
