package conflicts

import (
	"testing"

	"banns/milestones"
)

func TestAround(t *testing.T) {
	p := lakeTown()
	item := func(id string, kind milestones.Kind, on milestones.Date, at milestones.Place) milestones.Item {
		return milestones.Item{ID: id, Kind: kind, Moment: milestones.Moment{Date: on, Clock: &milestones.Clock{Hour: 11}}, Place: at}
	}
	friday := aSaturday.AddDays(-1)
	items := []milestones.Item{
		item("appointments/fitting", milestones.KindAppointment, aSaturday, milestones.Place{Name: "Tern & Thread", City: "Alder Harbor"}),
		item("appointments/far-fitting", milestones.KindAppointment, aSaturday, milestones.Place{City: "Elsewhere"}),
		item("occasions/rehearsal", milestones.KindOccasion, friday, milestones.Place{}),
		item("catering/pay-1", milestones.KindPayment, aSaturday, milestones.Place{}),
		item("appointments/later", milestones.KindAppointment, aSaturday.AddDays(9), milestones.Place{}),
	}
	match := on(aSaturday, "Match", Match, nil, 0, 0)
	match.Place = milestones.Place{Name: "Lakers Field", City: "Alder Harbor"}
	festival := on(aSaturday, "Harbor Days", Festival, &stadium, 0, 1)
	got := Around(p, items, []Event{match, festival})
	for id, want := range map[string][]string{
		"appointments/fitting":     {"Harbor Days", "Match"},
		"appointments/far-fitting": nil,
		"occasions/rehearsal":      {"Harbor Days", "Match"}, // on the eve of both
		"catering/pay-1":           nil,
		"appointments/later":       nil,
	} {
		var names []string
		for _, c := range got[id] {
			names = append(names, c.What)
		}
		if len(names) != len(want) {
			t.Errorf("%s meets %v, not %v", id, names, want)
		}
	}
	for _, c := range got["occasions/rehearsal"] {
		if c.Severity != Noticeable {
			t.Errorf("on the eve %s is %s", c.What, c.Severity)
		}
	}
}
