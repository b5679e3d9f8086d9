package conflicts

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"banns/milestones"
)

// Distances from the city pairs of the FAI's sphere: New York to London is
// 5,570 km by the haversine on the mean radius (from memory, to 10 km), and a
// degree of latitude is 111.195 km by 2*pi*6371.0088/360.
func TestDistance(t *testing.T) {
	for _, row := range []struct {
		a, b     [2]float64
		km, give float64
	}{
		{[2]float64{0, 0}, [2]float64{1, 0}, 111.195, 0.001},
		{[2]float64{60, 10}, [2]float64{60, 11}, 55.597, 0.01}, // half a degree's worth, less the great circle's gain
		{[2]float64{40.7128, -74.0060}, [2]float64{51.5074, -0.1278}, 5570, 10},
		{[2]float64{0, 0}, [2]float64{0, 180}, math.Pi * earthKm, 0.001},
	} {
		if got := distance(row.a, row.b); math.Abs(got-row.km) > row.give {
			t.Errorf("%v to %v: %.3f km, not %.3f", row.a, row.b, got, row.km)
		}
	}
}

func TestVerdict(t *testing.T) {
	for _, row := range []struct {
		events []Event
		want   Verdict
	}{
		{nil, Clear},
		{[]Event{on(aSaturday, "Concert", Concert, &stadium, 0, 0)}, Clear},
		{[]Event{on(aSaturday, "Congress", Congress, &stadium, 0, 0)}, Watch},
		{[]Event{on(aSaturday, "Match", Match, &stadium, 0, 0)}, Avoid},
		{[]Event{expected(on(aSaturday, "Match", Match, &stadium, 0, 0))}, Watch},
		{[]Event{expected(on(aSaturday, "Congress", Congress, &stadium, 0, 0))}, Watch},
		{[]Event{expected(on(aSaturday, "Concert", Concert, &stadium, 0, 0))}, Clear},
		{[]Event{{What: "Fair", Kind: Congress, From: aSaturday, To: aSaturday, Place: milestones.Place{Name: "The Net Loft"}, Status: Announced}}, Blocked},
		{[]Event{{What: "Fair", Kind: Congress, From: aSaturday, To: aSaturday, Place: milestones.Place{Name: "The Net Loft", City: "Elsewhere"}, Status: Announced}}, Clear},
		// What is at the place itself takes it, for however many days.
		{[]Event{placed(on(aSaturday, "New roof", Works, nil, -9, 10), "The Net Loft", nil)}, Blocked},
		{[]Event{placed(on(aSaturday, "Sail show", Festival, nil, -9, 10), "The Net Loft", nil)}, Blocked},
		{[]Event{on(aSaturday, "Sail show", Festival, &quay, -9, 10)}, Blocked},
		{[]Event{on(aSaturday, "Road works", Works, &quay, -9, 10)}, Clear}, // past the door, not in it
		// A calendar's LOCATION has the address behind the name.
		{[]Event{placed(on(aSaturday, "Boat show", Congress, nil, 0, 0), "the  Net Loft, 3 Quay St, Alder Harbor, MI 49600", nil)}, Blocked},
		{[]Event{placed(on(aSaturday, "Boat show", Congress, nil, 0, 0), "The Net Loft, upstairs", nil)}, Blocked},
		{[]Event{placed(on(aSaturday, "Boat show", Congress, nil, 0, 0), "The Net Loft, 9 High St, Elsewhere", nil)}, Watch},
		{[]Event{placed(on(aSaturday, "Boat show", Congress, nil, 0, 0), "The Net Loft Inn, 3 Quay St, Alder Harbor", nil)}, Watch},
		// What ends in the small hours was on the evening before, whatever the wedding's hours.
		{[]Event{hours(on(aSaturday, "Concert", Concert, &door, -1, 0), 20, 0)}, Clear},
		{[]Event{hours(on(aSaturday, "Concert", Concert, &door, 0, 1), 20, 0)}, Avoid},
		{[]Event{hours(on(aSaturday, "Match", Match, &stadium, -1, 0), 20, 1)}, Watch}, // its guests sleep in town that night
		{[]Event{hours(on(aSaturday, "Boat show", Congress, &quay, -1, 0), 20, 2)}, Clear},
		// On the first and the last of its days it has the hours that it has there.
		{[]Event{hours(on(aSaturday, "Relay", Race, &door, -1, 0), 9, 11)}, Watch},
		{[]Event{hours(on(aSaturday, "Relay", Race, &door, -1, 0), 9, 18)}, Avoid},
		{[]Event{hours(on(aSaturday, "Relay", Race, &door, -1, 1), 9, 11)}, Avoid},
		// A place is also known on the map, within a stone's throw, where no other house is named.
		{[]Event{placed(on(aSaturday, "Boat show", Congress, nil, 0, 0), "", &[2]float64{44.7605, -85.6205})}, Blocked},         // 68 m
		{[]Event{placed(on(aSaturday, "Boat show", Congress, nil, 0, 0), "Net Loft", &[2]float64{44.7605, -85.6205})}, Blocked}, // as people call it
		{[]Event{placed(on(aSaturday, "Boat show", Congress, nil, 0, 0), "Quay Hall", &[2]float64{44.7605, -85.6205})}, Watch},  // next door
		{[]Event{placed(on(aSaturday, "Boat show", Congress, nil, 0, 0), "", &[2]float64{44.762, -85.620})}, Watch},             // 222 m
		{[]Event{placed(on(aSaturday, "Boat show", Congress, nil, 0, 0), "The Net Loft", &nextTown)}, Clear},                    // a namesake
	} {
		s := NewScales(lakeTown(), milestones.NoClosures{}, row.events, aSaturday, aSaturday)
		if got := s.Weigh([]milestones.Date{aSaturday}, 0)[0]; got.Verdict != row.want {
			t.Errorf("%v: %s, not %s", got.Clashes, got.Verdict, row.want)
		}
	}
}

// placed is e at a place by name, or on the map, or both.
func placed(e Event, name string, at *[2]float64) Event {
	e.Place = milestones.Place{Name: name, At: at}
	return e
}

// randomEvents are n events of a year around aSaturday, of every kind, near
// and far, short and long.
func randomEvents(r *rand.Rand, n int) []Event {
	kinds := []Kind{Holiday, Observance, Match, Festival, Race, Parade, Concert, Graduation, Congress, Works, Other, "of no kind"}
	places := []milestones.Place{{}, {At: &quay}, {At: &stadium}, {At: &nextTown}, {At: &farAway}, {Name: "The Net Loft"}, {City: "Elsewhere"}}
	all := make([]Event, n)
	for i := range all {
		from := aSaturday.AddDays(r.IntN(365) - 180)
		all[i] = Event{What: fmt.Sprintf("event %d", i), From: from, To: from.AddDays(r.IntN(4) * r.IntN(10)), Kind: kinds[r.IntN(len(kinds))],
			Place: places[r.IntN(len(places))], Status: []Status{Computed, Announced, Expected}[r.IntN(3)]}
		switch r.IntN(4) {
		case 0:
			all[i] = hours(all[i], r.IntN(12), 12+r.IntN(12))
			all[i].Daily = all[i].To.After(all[i].From) && r.IntN(2) == 0
		case 1:
			all[i] = hours(all[i], r.IntN(24), r.IntN(24)) // past midnight, where it has several days
		}
	}
	return all
}

// What a day is ranked by, and what it is shown with, are worked out apart;
// they must tell of the same clashes, on every day and at both ends.
func TestTallyIsOfTheClashesShown(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	seen := 0
	for range 20 {
		from, to := aSaturday.AddDays(-r.IntN(90)), aSaturday.AddDays(r.IntN(90))
		s := NewScales(lakeTown(), milestones.NoClosures{}, randomEvents(r, 200), from, to)
		for day := from; !day.After(to); day = day.AddDays(1) {
			var want tally
			for _, c := range s.public(day) {
				want[class(c.Severity, c.Status)]++
				seen++
			}
			if got := s.tallyOf(day); got != want {
				t.Fatalf("%s is ranked by %v and shown with %v", day, got, want)
			}
		}
	}
	if seen < 1000 {
		t.Errorf("only %d clashes were looked at", seen)
	}
}

// Guests who come from afar stay from Friday to Sunday: what fills the rooms
// on one of these days is felt on the others, and what fills the streets is not.
func TestWeekend(t *testing.T) {
	friday, thursday := aSaturday.AddDays(-1), aSaturday.AddDays(-2)
	for _, row := range []struct {
		e    Event
		day  milestones.Date
		want string
	}{
		{on(friday, "Match", Match, nil, 0, 0), aSunday, "slight: Match is on Fri 17 Sep 2027, two days before: rooms are few and dear all weekend."},
		{hours(on(friday, "Match", Match, nil, 0, 1), 20, 1), aSunday, "slight: Match (20:00 to 01:00) is on Fri 17 Sep 2027, two days before: rooms are few and dear all weekend."},
		{on(aSunday, "Match", Match, nil, 0, 0), friday, "slight: Match is on Sun 19 Sep 2027, two days after: rooms are few and dear all weekend."},
		{on(aSunday, "Harbor Days", Festival, &stadium, 0, 2), friday, "slight: Harbor Days (2 km away) runs from Sun 19 Sep to Tue 21 Sep 2027, which begins two days after: rooms are few and dear all weekend."},
		{on(friday, "Congress", Congress, nil, -2, 0), aSunday, "slight: Congress runs from Wed 15 Sep to Fri 17 Sep 2027, two days before: rooms are few and dear all weekend."},
		{on(friday, "Match", Match, nil, 0, 0), aSaturday, "noticeable: Match is on Fri 17 Sep 2027, which is the day before: rooms are few and dear on the night before the wedding."},
		{on(friday, "Marathon", Race, &quay, 0, 0), aSunday, ""},
		{on(friday, "Match", Match, &nextTown, 0, 0), aSunday, ""},
		{on(thursday, "Match", Match, nil, 0, 0), aSaturday, ""},
		{on(aSunday, "Match", Match, nil, 0, 0), aSunday.AddDays(2), ""},
		{on(friday, "Colours", Festival, nil, -20, 0), aSunday, ""},
	} {
		s := NewScales(lakeTown(), milestones.NoClosures{}, []Event{row.e}, row.day, row.day)
		said := ""
		for _, c := range s.public(row.day) {
			said += c.Severity.String() + ": " + c.Says
		}
		if said != row.want {
			t.Errorf("%s: %q\nwant %q", row.day.Words(), said, row.want)
		}
	}
}

// What is wholly in the small hours belongs to the night before, as people call
// it: the ceremony of the day by whose date it goes is half a day later, and the
// party of the evening before is still on.
func TestSmallHours(t *testing.T) {
	friday := aSaturday.AddDays(-1)
	late := func(e Event) Event {
		e = hours(e, 0, 3)
		e.Start.Minute = 30
		return e
	}
	nightly := late(on(aSaturday, "Lights", Concert, &door, 0, 2))
	nightly.Daily = true
	for _, row := range []struct {
		because string
		e       Event
		day     milestones.Date
		start   int
		want    string
	}{
		{"it was over twelve hours before the ceremony", late(on(aSaturday, "Gig", Concert, &door, 0, 0)), aSaturday, 16, ""},
		{"it begins while Friday's party dances", late(on(aSaturday, "Gig", Concert, &door, 0, 0)), friday, 16,
			"serious: Gig (at the door, 00:30 to 03:00) is in the night after that day: it can be heard, and there are crowds and full car parks around it."},
		{"Friday's party from noon is over by then", late(on(aSaturday, "Gig", Concert, &door, 0, 0)), friday, 12,
			"noticeable: Gig (at the door, 00:30 to 03:00) is in the night after that day: it can be heard, though not at the wedding's hours."},
		{"two kilometres off nobody hears it; who drives home meets its crowd", late(on(aSaturday, "Gig", Concert, &stadium, 0, 0)), friday, 16,
			"slight: Gig (2 km away, 00:30 to 03:00) is in the night after that day: there are crowds and full car parks around it."},
		{"whoever came for it slept in town on the night before", late(on(aSaturday, "Match", Match, nil, 0, 0)), aSaturday, 16,
			"noticeable: Match (00:30 to 03:00) is in the night after Fri 17 Sep 2027, which is the day before: rooms are few and dear on the night before the wedding."},
		{"on Thursday it lies a night ahead", late(on(aSaturday, "Gig", Concert, &door, 0, 0)), friday.AddDays(-1), 16, ""},
		{"of three nights the last is Sunday's", nightly, aSunday, 16,
			"serious: Lights (at the door, 00:30 to 03:00 each day) runs from Fri 17 Sep to Sun 19 Sep 2027, in the night after each: it can be heard, and there are crowds and full car parks around it."},
		{"and none is left for Monday", nightly, aSunday.AddDays(1), 16, ""},
		{"who marries at dawn has the vans there by then", late(on(aSaturday, "Gig", Concert, &door, 0, 0)), aSaturday, 6,
			"serious: Gig (at the door, 00:30 to 03:00) is on that day: it can be heard, and there are crowds and full car parks around it."},
	} {
		p := lakeTown()
		p.Wedding.Start = &milestones.Clock{Hour: row.start}
		s := NewScales(p, milestones.NoClosures{}, []Event{row.e}, row.day, row.day)
		said, want := "", tally{}
		for _, c := range s.public(row.day) {
			said += c.Severity.String() + ": " + c.Says
			want[class(c.Severity, c.Status)]++
		}
		if said != row.want || s.tallyOf(row.day) != want {
			t.Errorf("%s at %d: %q, ranked by %v\nwant, because %s, %q", row.day.Words(), row.start, said, s.tallyOf(row.day), row.because, row.want)
		}
	}
}

// Where the wedding's hours are not known, only the small hours are known not
// to be among them.
func TestVerdictWithoutHours(t *testing.T) {
	for _, row := range []struct {
		e    Event
		want Verdict
	}{
		{hours(on(aSaturday, "Concert", Concert, &door, 0, 0), 1, 4), Clear}, // of the night before
		{hours(on(aSunday, "Concert", Concert, &door, 0, 0), 1, 4), Watch},   // of the wedding's own
		{hours(on(aSaturday, "Concert", Concert, &door, -1, 0), 20, 1), Clear},
		{hours(on(aSaturday, "Concert", Concert, &door, 0, 0), 7, 9), Avoid},
	} {
		p := lakeTown()
		p.Wedding.Start = nil
		s := NewScales(p, milestones.NoClosures{}, []Event{row.e}, aSaturday, aSaturday)
		if got := s.Weigh([]milestones.Date{aSaturday}, 0)[0]; got.Verdict != row.want {
			t.Errorf("%v: %s, not %s", got.Clashes, got.Verdict, row.want)
		}
	}
}

// One more clash never makes a day better, whatever is on.
func TestMoreIsNeverBetter(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		events := randomEvents(r, 1+r.IntN(60))
		less := NewScales(lakeTown(), milestones.NoClosures{}, events[1:], aSaturday, aSaturday).tallyOf(aSaturday)
		more := NewScales(lakeTown(), milestones.NoClosures{}, events, aSaturday, aSaturday).tallyOf(aSaturday)
		if more.compare(less) < 0 {
			t.Fatalf("%v made %v better: %v", events[0], less, more)
		}
	}
}
