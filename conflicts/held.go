package conflicts

import (
	"fmt"
	"slices"
	"strings"

	"banns/milestones"
)

// heldBack is how many of the events before it one is compared with: sources
// that list more of one name on one day are not of a town.
const heldBack = 8

// held is the editions of one series, in order of their days, each as it is
// held: what is entered day by day is one event, and so is what several
// sources list. A month of daily entries is a season by that, and no thirty
// festivals.
func held(editions []Event) []Event {
	var out []Event
next:
	for _, e := range editions {
		for n := len(out) - 1; n >= 0 && n >= len(out)-heldBack; n-- {
			if out[n].join(&e) {
				continue next
			}
		}
		out = append(out, e)
	}
	return out
}

// ListedIn is where an event is listed: "town, line 4, and in region, line 7".
// It is empty for what is computed.
func (e *Event) ListedIn() string {
	said := e.Source.String()
	for _, s := range e.Also {
		said += ", and in " + s.String()
	}
	return said
}

func (s Source) String() string {
	if s.Line == 0 {
		return s.Name
	}
	return fmt.Sprintf("%s, line %d", s.Name, s.Line)
}

// join takes f, which is of the same series and begins no earlier, into e if
// the two are one event, and reports whether they are.
func (e *Event) join(f *Event) bool {
	overlap := !f.From.After(e.To)
	switch {
	case !mayBeOne(e.Place, f.Place), f.From.After(e.To.AddDays(1)):
		return false
	case e.Status != f.Status && !overlap:
		return false
	case e.Status == Expected && f.Status != Expected: // what is announced has the days
		*f, *e = *e, *f
	case e.Status == f.Status:
		e.stretch(f)
	}
	e.fillIn(f)
	return true
}

// stretch is e on the days of f too.
func (e *Event) stretch(f *Event) {
	daily := (e.Daily || e.From == e.To) && f.From == f.To && sameClock(e.Start, f.Start) && sameClock(e.End, f.End)
	if f.From == e.From && f.Start != nil && (e.Start == nil || compareClocks(f.Start, e.Start) < 0) {
		e.Start = f.Start
	}
	switch {
	case f.To.After(e.To):
		e.To, e.End = f.To, f.End
	case f.To == e.To && compareClocks(f.End, e.End) > 0:
		e.End = f.End
	}
	e.Daily = daily && e.Start != nil && e.To.After(e.From)
}

func sameClock(a, b *milestones.Clock) bool {
	return (a == nil) == (b == nil) && compareClocks(a, b) == 0
}

// fillIn is what f tells that e does not.
func (e *Event) fillIn(f *Event) {
	if e.Kind == Other {
		e.Kind = f.Kind
	}
	if e.Place.Name == "" {
		e.Place.Name = f.Place.Name
	}
	if e.Place.City == "" {
		e.Place.City = f.Place.City
	}
	if e.Place.At == nil {
		e.Place.At = f.Place.At
	}
	if e.Note == "" {
		e.Note = f.Note
	}
	for _, other := range append([]Source{f.Source}, f.Also...) {
		same := func(s Source) bool { return s.Name == other.Name }
		if !same(e.Source) && !slices.ContainsFunc(e.Also, same) {
			e.Also = append(slices.Clip(e.Also), other)
		}
	}
}

// mayBeOne reports whether two places may be one, as far as they are known.
func mayBeOne(a, b milestones.Place) bool {
	nameA, behindA := nameOf(a)
	nameB, behindB := nameOf(b)
	switch {
	case a.At != nil && b.At != nil && distance(*a.At, *b.At) > doorKm,
		a.City != "" && b.City != "" && !strings.EqualFold(a.City, b.City),
		elsewhere(behindA, b.City), elsewhere(behindB, a.City):
		return false
	}
	return nameA == "" || nameB == "" || strings.EqualFold(nameA, nameB)
}
