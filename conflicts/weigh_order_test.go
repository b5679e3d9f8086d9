package conflicts

import (
	"testing"

	"banns/milestones"
)

// An invented lake town, with the wedding's place on the quay.
var (
	quay      = [2]float64{44.760, -85.620}
	door      = [2]float64{44.762, -85.620} // 222 m off
	stadium   = [2]float64{44.745, -85.600} // 2.3 km off
	nextTown  = [2]float64{44.310, -85.600} // 50 km off
	farAway   = [2]float64{42.330, -83.050} // 340 km off
	aSaturday = d(2027, 9, 18)
	aSunday   = d(2027, 9, 19)
	another   = d(2027, 10, 16) // later, so that being earlier decides nothing
)

func lakeTown() *milestones.Plan {
	return &milestones.Plan{
		Wedding: milestones.Wedding{Title: "Maren and Theo", Start: &milestones.Clock{Hour: 16, Minute: 30}, Zone: "America/Detroit",
			Place: milestones.Place{Name: "The Net Loft", City: "Alder Harbor", At: &quay}, Region: "US-MI", Currency: milestones.Currency("USD")},
		People: []milestones.Person{
			{Key: "maren", Name: "Maren", Part: milestones.Couple},
			{Key: "priya", Name: "Priya", Part: milestones.Attendant},
			{Key: "rev", Name: "The Rev. Ames", Part: milestones.Officiant},
		},
	}
}

// on is an event of one day, or of days before (from < 0) and after it.
func on(day milestones.Date, what string, kind Kind, at *[2]float64, from, to int) Event {
	return Event{What: what, Kind: kind, From: day.AddDays(from), To: day.AddDays(to), Status: Announced,
		Place: milestones.Place{At: at}, Source: Source{Name: "town.ics", Line: 1}}
}

func hours(e Event, from, to int) Event {
	e.Start, e.End = &milestones.Clock{Hour: from}, &milestones.Clock{Hour: to}
	return e
}

func expected(e Event) Event {
	e.Status = Expected
	return e
}

// Each row is two days, and which of them a practitioner would rather have,
// and why. They were written before the code that has to agree. Five of them
// are required: nobody in the trade would have it the other way round, and a
// scale that did would not be trusted with the rest.
func TestOrder(t *testing.T) {
	required := 0
	for _, row := range []struct {
		better, worse string
		because       string
		required      string // why it is one of the five
		good, bad     []Event
		away          *milestones.Absence // on the worse day
	}{
		{better: "a concert across town", worse: "a marathon past the door",
			because:  "nobody gets to the church, vendors least of all; the concert is heard by nobody",
			required: "nearness and kind together: what blocks the way outweighs what is merely on",
			good:     []Event{on(another, "Concert", Concert, &stadium, 0, 0)},
			bad:      []Event{on(aSaturday, "Marathon", Race, &quay, 0, 0)}},
		{better: "a stadium match that is expected", worse: "one that is announced",
			because:  "the fixture list may still move it",
			required: "of the same thing the surer is the worse: a guess is to give way to what is published",
			good:     []Event{expected(on(another, "Match", Match, &stadium, 0, 0))},
			bad:      []Event{on(aSaturday, "Match", Match, &stadium, 0, 0)}},
		{better: "a parade across town", worse: "graduation weekend",
			because: "a parade is a detour for a morning, a graduation takes every room in town for two nights",
			good:    []Event{on(another, "Parade", Parade, &stadium, 0, 0)},
			bad:     []Event{on(aSaturday, "Graduation", Graduation, &stadium, -1, 1)}},
		{better: "a festival that ends the day before", worse: "one that runs on the day",
			because: "the last night's rooms are taken, but the town is itself again by noon",
			good:    []Event{on(another, "Festival", Festival, &stadium, -3, -1)},
			bad:     []Event{on(aSaturday, "Festival", Festival, &stadium, -2, 0)}},
		{better: "nothing", worse: "a festival that ends the day before",
			because: "guests who come early find no rooms",
			bad:     []Event{on(aSaturday, "Festival", Festival, &stadium, -3, -1)}},
		{better: "a month of harbour lights", worse: "one match",
			because:  "what runs all month is there whichever Saturday is chosen",
			required: "a season must not drown the day: it would make every day of it alike",
			good:     []Event{on(another, "Harbour lights", Festival, &stadium, -14, 14)},
			bad:      []Event{on(aSaturday, "Match", Match, &stadium, 0, 0)}},
		{better: "a match and a graduation elsewhere", worse: "works at the place itself",
			because:  "without the place there is no wedding",
			required: "what makes the day impossible is behind any number of things that make it dear",
			good:     []Event{on(another, "Match", Match, &stadium, 0, 0), on(another, "Graduation", Graduation, &stadium, 0, 0)},
			bad: []Event{{What: "New roof", Kind: Works, From: aSaturday.AddDays(-5), To: aSaturday.AddDays(5), Status: Announced,
				Place: milestones.Place{Name: "the net loft"}, Source: Source{Name: "town.csv", Line: 2}}}},
		{better: "a match", worse: "a new roof on the place, for three weeks",
			because: "works that go on for weeks are no season where they are: on each of their days there is no place",
			good:    []Event{on(another, "Match", Match, &stadium, 0, 0)},
			bad: []Event{{What: "New roof", Kind: Works, From: aSaturday.AddDays(-9), To: aSaturday.AddDays(10), Status: Announced,
				Place: milestones.Place{Name: "The Net Loft, 3 Quay St, Alder Harbor"}, Source: Source{Name: "town.ics", Line: 2}}}},
		{better: "one match", worse: "a match and a congress",
			because: "two crowds want more rooms than one",
			good:    []Event{on(another, "Match", Match, &stadium, 0, 0)},
			bad:     []Event{on(aSaturday, "Match", Match, &stadium, 0, 0), on(aSaturday, "Congress", Congress, &stadium, 0, 0)}},
		{better: "three small things", worse: "one match",
			because: "no number of small things is a stadium",
			good: []Event{on(another, "Quiz", Other, &stadium, 0, 0), on(another, "Concert", Concert, &stadium, 0, 0),
				on(another, "Works", Works, &stadium, 0, 0)},
			bad: []Event{on(aSaturday, "Match", Match, &stadium, 0, 0)}},
		{better: "a run past the door in the morning", worse: "one past the door all day",
			because: "the streets are open again before the first van comes",
			good:    []Event{hours(on(another, "Morning run", Race, &quay, 0, 0), 7, 11)},
			bad:     []Event{hours(on(aSaturday, "Relay", Race, &quay, 0, 0), 9, 18)}},
		{better: "a concert at the door the evening before, until after midnight", worse: "one on the evening itself",
			because: "what ends in the small hours is over before the first van comes",
			good:    []Event{hours(on(another, "Concert", Concert, &door, -1, 0), 20, 1)},
			bad:     []Event{hours(on(aSaturday, "Concert", Concert, &door, 0, 1), 20, 1)}},
		{better: "a festival in the next town", worse: "a festival in this one",
			because: "rooms an hour's drive away are the next to go, not the first",
			good:    []Event{on(another, "Festival", Festival, &nextTown, 0, 0)},
			bad:     []Event{on(aSaturday, "Festival", Festival, &stadium, 0, 0)}},
		{better: "a long weekend", worse: "an attendant away",
			because: "a long weekend costs money, and Priya cannot be replaced",
			good:    []Event{{What: "Labor Day weekend", Kind: Holiday, From: another.AddDays(-1), To: another.AddDays(2), Status: Computed}},
			away:    &milestones.Absence{Who: "priya", From: aSaturday.AddDays(-3), To: aSaturday}},
		{better: "a match on the day", worse: "the officiant away",
			because:  "rooms can be found, and without the officiant nobody is married",
			required: "the plan's own people count as the city does, and those who cannot be replaced above it",
			good:     []Event{on(another, "Match", Match, &stadium, 0, 0)},
			away:     &milestones.Absence{Who: "rev", From: aSaturday, To: aSaturday}},
	} {
		if row.required != "" {
			required++
		}
		plan := lakeTown()
		if row.away != nil {
			plan.Away = []milestones.Absence{*row.away}
		}
		s := NewScales(plan, milestones.NoClosures{}, append(row.good, row.bad...), d(2027, 1, 1), d(2027, 12, 31))
		for _, days := range [][]milestones.Date{{another, aSaturday}, {aSaturday, another}} {
			got := s.Weigh(days, 0)
			if got[0].Date != another {
				t.Errorf("%s is better than %s, because %s; the scales say %s and %s: %v", row.better, row.worse, row.because,
					got[1].Verdict, got[0].Verdict, got[1].Clashes)
			}
		}
	}
	if required != 5 {
		t.Errorf("%d pairs are marked as required, and five are", required)
	}
}

// Of days alike the earlier comes first, so that no row above passes by
// chance: there, the better day is the later.
func TestOrderOfLikeDays(t *testing.T) {
	far := on(aSaturday, "Derby", Match, &farAway, 0, 0)
	s := NewScales(lakeTown(), milestones.NoClosures{}, []Event{far}, d(2027, 1, 1), d(2027, 12, 31))
	got := s.Weigh([]milestones.Date{another, aSaturday}, 0)
	if got[0].Date != aSaturday || got[0].Verdict != Clear || len(got[0].Clashes) != 0 {
		t.Errorf("a match 340 km off counts: %v", got[0])
	}
}
