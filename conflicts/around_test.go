package conflicts

import (
	"slices"
	"strings"
	"testing"

	"banns/milestones"
)

func TestAround(t *testing.T) {
	p := lakeTown()
	item := func(id string, kind milestones.Kind, on milestones.Date, at milestones.Place) milestones.Item {
		return milestones.Item{ID: id, Kind: kind, Moment: milestones.Moment{Date: on, Clock: &milestones.Clock{Hour: 11}}, Place: at}
	}
	friday := aSaturday.AddDays(-1)
	settled := item("appointments/settled", milestones.KindAppointment, aSaturday, milestones.Place{})
	settled.Done = friday
	items := []milestones.Item{
		item("appointments/fitting", milestones.KindAppointment, aSaturday, milestones.Place{Name: "Tern & Thread", City: "Alder Harbor"}),
		item("appointments/far-fitting", milestones.KindAppointment, aSaturday, milestones.Place{City: "Elsewhere"}),
		item("appointments/on-the-eve", milestones.KindAppointment, friday, milestones.Place{}),
		item("appointments/labor-day", milestones.KindAppointment, d(2027, 9, 6), milestones.Place{}),
		item("appointments/long-ago", milestones.KindAppointment, d(1999, 9, 6), milestones.Place{}), // Labor Day too
		item("occasions/rehearsal", milestones.KindOccasion, friday, milestones.Place{}),
		item("wedding", milestones.KindWedding, aSaturday, p.Wedding.Place),
		item("catering/pay-1", milestones.KindPayment, aSaturday, milestones.Place{}),
		item("appointments/later", milestones.KindAppointment, aSaturday.AddDays(9), milestones.Place{}),
		settled,
	}
	match := hours(on(aSaturday, "Match", Match, nil, 0, 0), 14, 17)
	match.Place = milestones.Place{Name: "Lakers Field", City: "Alder Harbor"}
	events := []Event{match, on(aSaturday, "Harbor Days", Festival, &stadium, 0, 1), on(aSaturday, "Colours", Festival, nil, -20, 20),
		placed(on(aSaturday, "Shop closed", Works, nil, -8, 8), "Tern & Thread, 5 Sail Lane, Alder Harbor", nil)}
	for year := 2021; year <= 2026; year++ { // the Friday before the third Saturday of September, to be expected
		events = append(events, on(nthOf(year, 9, 6, 3).AddDays(-1), "Night of lights", Festival, nil, 0, 0))
	}
	p.Wedding.Region = "US"
	got := Around(p, items, events)
	for id, want := range map[string][]string{
		"appointments/fitting": {
			"Shop closed (at the place itself) runs from Fri 10 Sep to Sun 26 Sep 2027: the place is closed.",
			"Harbor Days runs from Sat 18 Sep to Sun 19 Sep 2027: streets and car parks are full.",
			"Match (Lakers Field, 14:00 to 17:00) is on that day: streets and car parks are full, though not at the appointment's hours."},
		"appointments/on-the-eve": {"Night of lights is expected on that day: streets and car parks are full."},
		"appointments/labor-day": {
			"Long weekend of Labor Day runs from Sat 4 Sep to Mon 6 Sep 2027: ask whether they are open.",
			"Labor Day is on that day: ask whether they are open."},
		"occasions/rehearsal": {
			"Night of lights is expected on that day: rooms are few and dear.",
			"Harbor Days (2 km away) runs from Sat 18 Sep to Sun 19 Sep 2027, which begins the day after: rooms are few and dear from the night of the occasion on.",
			"Match (Lakers Field, 14:00 to 17:00) is on Sat 18 Sep 2027, which is the day after: rooms are few and dear from the night of the occasion on."},
		"wedding": {
			"Harbor Days (2 km away) runs from Sat 18 Sep to Sun 19 Sep 2027: rooms are few and dear.",
			"Match (Lakers Field, 14:00 to 17:00) is on that day: rooms are few and dear.",
			"Night of lights is expected on Fri 17 Sep 2027, which is the day before: rooms are few and dear on the night before the wedding."},
	} {
		var says []string
		for _, c := range got[id] {
			says = append(says, c.Says)
		}
		if !slices.Equal(says, want) {
			t.Errorf("%s meets\n%s\nwant\n%s", id, strings.Join(says, "\n"), strings.Join(want, "\n"))
		}
		delete(got, id)
	}
	for id, all := range got {
		t.Errorf("%s meets %v", id, all)
	}
}
