package conflicts

import (
	"slices"

	"banns/milestones"
)

// PastYears is how many years back editions are evidence of the next: common
// practice.
const PastYears = 20

// ReachDays is how far around a day something may lie that meets it.
const ReachDays = 21

// Known is what is known of the days from first to last for a wedding: the
// events that were read of them; the editions that past ones lead one to expect, where
// none was announced; and what stands anyway, by law, calendar and sky.
//
// The caution is one sentence about holidays that are left out, or empty.
func Known(w *milestones.Wedding, read []Event, traditions []Tradition, first, last milestones.Date) (all []Event, caution string) {
	series, nameless := seriesOf(read)
	take := func(held []Event) {
		for _, e := range held {
			if (Edition{e.From, e.To}).meets(Edition{first, last}) {
				all = append(all, e)
			}
		}
	}
	take(nameless)
	d := newDoubter(w.Region)
	for _, s := range series {
		events := held(s.Editions)
		d.doubt(s, events, first.Year, last.Year)
		take(events)
		all = append(all, expectAll(s.Editions, first.Year, last.Year, w.Region)...)
	}
	holidays, caution := Holidays(w.Region, first, last)
	all = append(all, holidays...)
	for _, o := range Observances(traditions, first, last) {
		if o.Custom != Unsaid || !slices.ContainsFunc(holidays, func(h Event) bool { return h.From == o.From && h.To == o.To }) {
			all = append(all, o)
		}
	}
	for _, f := range FamilyDays(w.Region, first, last) {
		if !f.listed(all) {
			all = append(all, f)
		}
	}
	return append(all, ClockChanges(w.Location(), first, last)...), caution
}
