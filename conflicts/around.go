package conflicts

import (
	"slices"
	"strings"

	"banns/milestones"
)

// Around is what of the public events somebody will feel who keeps the plan's
// own appointments and occasions, or the wedding itself: by the id of the
// item, the worst first. What has no place of its own is in the wedding's
// town.
func Around(p *milestones.Plan, items []milestones.Item, events []Event) map[string][]Clash {
	all := map[string][]Clash{}
	for n := range items {
		i := &items[n]
		switch i.Kind {
		case milestones.KindAppointment, milestones.KindOccasion, milestones.KindWedding:
		default:
			continue
		}
		if i.Undated() || !i.Done.IsZero() {
			continue
		}
		s := &Scales{plan: p, place: i.Place, start: i.Clock}
		if s.place.Name == "" && s.place.City == "" && s.place.At == nil {
			s.place = milestones.Place{City: p.Wedding.Place.City, At: p.Wedding.Place.At}
		}
		home := p.Wedding.Place
		elsewhere := s.place.At == nil && s.place.City != "" && !strings.EqualFold(s.place.City, home.City)
		for k := range events {
			e := &events[k]
			if e.To.AddDays(1).Before(i.Date) || e.From.AddDays(-1).After(i.Date) {
				continue
			}
			if elsewhere && !e.everywhere() && !strings.EqualFold(e.Place.City, s.place.City) {
				continue
			}
			if c := s.clash(e, i.Date); c.Severity >= Noticeable {
				all[i.ID] = append(all[i.ID], c)
			}
		}
		slices.SortFunc(all[i.ID], worstFirst)
	}
	return all
}
