package conflicts

import (
	"slices"
	"strings"

	"banns/milestones"
)

// AroundYears is how many years before the last of a plan's days are looked
// at: nobody plans a wedding for longer.
const AroundYears = 5

// AroundDays is the first and the last day that Around looks at; no days where
// nothing is to be kept.
func AroundDays(items []milestones.Item) (first, last milestones.Date) {
	for n := range items {
		if i := &items[n]; attended(i) {
			if d := i.Date; first.IsZero() || d.Before(first) {
				first = d
			}
			if i.Date.After(last) {
				last = i.Date
			}
		}
	}
	if early := last.AddMonths(-12 * AroundYears); !last.IsZero() && first.Before(early) {
		first = early
	}
	return first, last
}

// attended reports whether somebody has to be somewhere for an item, on a day that
// is known, and has not been yet.
func attended(i *milestones.Item) bool {
	switch i.Kind {
	case milestones.KindAppointment, milestones.KindOccasion, milestones.KindWedding:
		return !i.Undated() && i.Done.IsZero()
	}
	return false
}

// Around is what of the public events somebody will feel who keeps the plan's
// own appointments and occasions, or the wedding itself: by the id of the
// item, the worst first. What has no place of its own is in the wedding's
// town.
func Around(p *milestones.Plan, items []milestones.Item, read []Event) map[string][]Clash {
	first, last := AroundDays(items)
	if first.IsZero() {
		return nil
	}
	events, _ := Known(&p.Wedding, read, nil, first.AddDays(-1), last.AddDays(2))
	byDay := map[milestones.Date][]*Event{}
	var seasons []*Event
	for n := range events {
		e := &events[n]
		if e.season() {
			seasons = append(seasons, e)
			continue
		}
		for d := e.From.AddDays(-2); !d.After(e.To.AddDays(1)); d = d.AddDays(1) {
			byDay[d] = append(byDay[d], e)
		}
	}
	all := map[string][]Clash{}
	for n := range items {
		i := &items[n]
		if !attended(i) || i.Date.Before(first) {
			continue
		}
		s := scalesOf(p, i)
		elsewhere := s.place.At == nil && s.place.City != "" && !strings.EqualFold(s.place.City, p.Wedding.Place.City)
		for _, e := range byDay[i.Date] {
			if elsewhere && !e.everywhere() && !strings.EqualFold(e.Place.City, s.place.City) {
				continue
			}
			if c := s.clash(e, i.Date); c.Severity >= Noticeable {
				all[i.ID] = append(all[i.ID], c)
			}
		}
		for _, e := range seasons { // nobody keeps away for one, unless it has taken the place
			if c := s.clash(e, i.Date); slices.Contains(c.Effects, Closed) {
				all[i.ID] = append(all[i.ID], c)
			}
		}
		slices.SortFunc(all[i.ID], worstFirst)
	}
	return all
}

// scalesOf are scales for one item of a plan, where it is and at its hours.
func scalesOf(p *milestones.Plan, i *milestones.Item) *Scales {
	s := &Scales{plan: p, place: i.Place, kind: i.Kind, hours: busy(i.Clock)}
	if s.place.Name == "" && s.place.City == "" && s.place.At == nil {
		s.place = milestones.Place{City: p.Wedding.Place.City, At: p.Wedding.Place.At}
	}
	if i.Kind != milestones.KindWedding && i.Clock != nil {
		end := i.Clock.Hour + meetingHours
		if i.Until != nil && i.Until.Hour >= i.Clock.Hour {
			end = i.Until.Hour + 1
		}
		s.hours = &[2]int{i.Clock.Hour - wayHours, end + wayHours}
	}
	return s
}
