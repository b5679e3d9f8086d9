package milestones

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// fixture is something of the plan that milestones may wait for or serve: a
// change or a paper of an agreement that binds, an appointment, an occasion.
type fixture struct {
	*Item
	name    string   // as people call it, folded
	service []string // the words of its agreement's service
	hidden  bool     // from somebody
	bare    bool     // nobody asks what it is in words
}

// fixtures are those of the items so far that have a day.
func (s *schedule) fixtures() []fixture {
	var all []fixture
	for n := range s.items {
		i := &s.items[n]
		name, service := i.Title, ""
		switch i.Kind {
		case KindAppointment, KindOccasion:
		case KindChangeBy, KindPaper:
			if i.Standing != Signed || i.Term == Postponing {
				continue
			}
			a, _ := s.plan.Agreement(i.Agreement)
			name, service = strings.TrimPrefix(i.Title, i.With+": "), a.Service
		default:
			continue
		}
		if !i.Undated() {
			kept := *i // the items move as more are added
			all = append(all, fixture{Item: &kept, name: strings.ToLower(name), service: serviceWords(service), hidden: len(i.Hide) > 0, bare: s.bare})
		}
	}
	return all
}

// found are the fixtures that any of these things means, in order. What is
// hidden from somebody counts for nothing: a milestone would show by its day,
// or by not being there, that it is.
func (d *drawing) found(things []thing) []fixture {
	var all []fixture
	for _, f := range d.fixtures {
		if !f.hidden && slices.ContainsFunc(things, func(t thing) bool { return t.means(f) }) {
			all = append(all, f)
		}
	}
	return all
}

func (t thing) means(f fixture) bool {
	if t.meeting != (f.Agreement == "") || len(t.services) > 0 && !isService(f.service, t.services) {
		return false
	}
	return slices.ContainsFunc(t.words, func(w string) bool { return strings.Contains(f.name, w) })
}

// serviceWords are the words of a service, folded.
func serviceWords(service string) []string {
	return strings.FieldsFunc(strings.ToLower(service), func(r rune) bool { return r == ' ' || r == ',' || r == '/' })
}

// isService reports whether a service goes by one of these words: "hotel
// rooms" is a room, and a suite is no suit.
func isService(service, words []string) bool {
	for _, said := range service {
		for _, w := range words {
			if said == w || said == w+"s" || len(w) > 4 && strings.HasPrefix(said, w) {
				return true
			}
		}
	}
	return false
}

// ours are the agreements that bind and that everybody may know of.
func (d *drawing) ours(words []string) []*Agreement {
	var all []*Agreement
	for i := range d.plan.Agreements {
		if a := &d.plan.Agreements[i]; len(a.Hide) == 0 && isService(d.services[i], words) {
			all = append(all, a)
		}
	}
	return all
}

// serves reports whether an agreement for one of these services binds.
func (d *drawing) serves(words []string) bool {
	return slices.ContainsFunc(d.ours(words), (*Agreement).Binding)
}

// ordered is the day on which the last of the agreements for these services
// was signed; zero while there is none, or one is only quoted.
func (d *drawing) ordered(words []string) (last Date) {
	for _, a := range d.ours(words) {
		switch {
		case a.Standing == Quoted, a.Binding() && a.Signed.IsZero():
			return Date{}
		case a.Binding() && a.Signed.After(last):
			last = a.Signed
		}
	}
	return last
}

// someone reports whether the plan names somebody of that part.
func (d *drawing) someone(part Part) bool {
	return slices.ContainsFunc(d.plan.People, func(p Person) bool { return p.Part == part })
}

// guests is the largest number of guests that an agreement everybody may know
// of is priced for, or 0 where none says.
func (d *drawing) guests() (most int) {
	for i := range d.plan.Agreements {
		if a := &d.plan.Agreements[i]; a.Binding() && len(a.Hide) == 0 {
			price := d.r.price(a)
			most = max(most, cmp.Or(price.Count, price.AtMost))
		}
	}
	return most
}

// says is f with its day.
func (f fixture) says() string { return f.Title + ", " + f.Day().Words() }

// after is the day from which something that waits for f can begin, gap days
// later. A term that is not done yet can be done on the first day of planning.
func (f fixture) after(from Date, gap int) bound {
	day := f.Date
	switch {
	case f.Agreement == "":
	case !f.Done.IsZero():
		day = f.Done
	case day.Before(from):
		day = from
	}
	b := bound{day: day.AddDays(gap)}
	if f.hidden || f.bare {
		return b
	}
	b.id = f.ID
	if b.what = fmt.Sprintf("%s on %s", f.Title, f.Date.Words()); f.Agreement != "" {
		b.what = fmt.Sprintf("the %s of %s", f.name, f.With)
	}
	return b
}

// deadline is the last day before f, with gap days between. What is done or
// has been needs nothing more.
func (f fixture) deadline(from Date, gap int) (b bound, holds bool) {
	if !f.Done.IsZero() || f.Agreement == "" && f.Date.Before(from) {
		return bound{}, false
	}
	b = bound{day: f.Day().AddDays(-gap)}
	switch {
	case f.hidden || f.bare:
	case f.Agreement != "":
		b.id, b.with = f.ID, f.With
		b.what = fmt.Sprintf("the %s that %s needs by %s", f.name, f.With, f.Day().Words())
	default:
		b.id = f.ID
		b.what = fmt.Sprintf("%s on %s", f.Title, f.Date.Words())
	}
	return b, true
}

// known is the fixture of that id as a bound without its day; nothing where it
// is hidden from somebody.
func (d *drawing) known(to ref) bound {
	for _, f := range d.fixtures {
		if f.ID == string(to) && !f.hidden {
			return f.after(Date{}, 0)
		}
	}
	return bound{}
}
