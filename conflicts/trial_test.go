package conflicts

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"banns/milestones"
)

// read is a plan whose phrases are read.
func read(t testing.TB, p *milestones.Plan) *milestones.Plan {
	t.Helper()
	if faults, _ := p.Read(); len(faults) > 0 {
		t.Fatal(faults)
	}
	return p
}

// planned is the lake town's wedding on aSaturday, with one of each: a signed
// vendor, a fitting that has a day of its own, and somebody away.
func planned(t testing.TB) *milestones.Plan {
	p := lakeTown()
	p.Wedding.Date = aSaturday
	p.People = append(p.People, milestones.Person{Key: "theo", Name: "Theo", Part: milestones.Couple})
	p.Agreements = []milestones.Agreement{{Key: "cake", With: "Sugar Plover", Service: "cake", Standing: milestones.Signed, Signed: d(2026, 9, 1), BusinessDays: milestones.Banks,
		Change: []milestones.ChangeBy{{Line: milestones.Line{Says: "number of servings 12 days before the wedding"}}},
		Closed: []milestones.Date{d(2027, 8, 7), d(2027, 10, 23)}, Hide: []string{"theo"}}}
	meeting := func(key string, on milestones.Date, hide ...string) milestones.Appointment {
		return milestones.Appointment{Meeting: milestones.Meeting{Key: key, What: key, When: milestones.Timing{Says: "on " + on.String()}, Hide: hide}}
	}
	p.Appointments = []milestones.Appointment{meeting("Fitting", d(2027, 8, 28)), meeting("Secret fitting", d(2027, 8, 30), "theo"), meeting("Thanks", d(2027, 10, 2))}
	p.Away = []milestones.Absence{{Who: "rev", From: d(2027, 8, 2), To: d(2027, 8, 14)}}
	return read(t, p)
}

func weighed(t *testing.T, s *Scales, day milestones.Date) (against, pro string) {
	t.Helper()
	c := s.Weigh([]milestones.Date{day}, 0)[0]
	var all []string
	for _, k := range c.Clashes {
		all = append(all, k.Severity.String()+": "+k.Says)
	}
	return strings.Join(all, "\n"), strings.Join(c.SpeaksFor, "\n")
}

// What the plan itself says of a day, to a planner, to somebody from whom
// something is hidden, and to somebody who knows nothing of the plan.
func TestOwnWords(t *testing.T) {
	closures, _ := ClosuresFor("US")
	const (
		planner = iota
		partner
		outside
	)
	for _, row := range []struct {
		who        int
		day        milestones.Date
		has, lacks []string
	}{
		{planner, aSaturday, []string{"Sugar Plover: number of servings would fall on Labor Day, Mon 6 Sep 2027; act by Fri 3 Sep 2027.", "1 agreement counts from it in the plan; any other day has to be agreed with each."}, []string{"would have to move"}},
		{partner, aSaturday, nil, []string{"Sugar", "agreement"}},
		{outside, aSaturday, nil, []string{"Sugar", "agreement", "Labor Day, Mon"}},
		{planner, d(2027, 8, 21), []string{"slight: Fitting, booked for Sat 28 Aug 2027, and 1 more meeting after it would have to move."}, []string{"Thanks", "from it in the plan"}},
		{partner, d(2027, 8, 21), []string{"slight: Fitting, booked for Sat 28 Aug 2027, would have to move."}, []string{"Secret", "more meeting"}},
		{outside, d(2027, 8, 21), []string{"slight: Something that is booked for later would have to move."}, []string{"itting"}},
		{planner, another, []string{"slight: 1 agreement counts from Sat 18 Sep 2027; this day would have to be agreed with each."}, []string{"would have to move"}}, // later: nothing is left behind
		{partner, another, nil, []string{"agreement"}},
		{outside, another, nil, []string{"agreement"}},
		{planner, d(2027, 8, 7), []string{"blocking: The Rev. Ames (officiant) is away until Sat 14 Aug 2027.", "serious: Sugar Plover is closed on that day."}, nil},
		{partner, d(2027, 8, 7), []string{"blocking: The Rev. Ames"}, []string{"Sugar"}},
		{outside, d(2027, 8, 7), []string{"blocking: Somebody who is needed is away."}, []string{"Ames", "officiant", "Sugar", "14 Aug", "serious: Somebody"}},
		{planner, d(2027, 10, 23), []string{"serious: Sugar Plover is closed on that day."}, nil},
		{outside, d(2027, 10, 23), []string{"Nobody who is needed is known to be away."}, []string{"Somebody"}},
		{planner, d(2027, 8, 14), []string{"is away that day, and back on the next"}, nil},
		{planner, d(2027, 8, 15), []string{"noticeable: The Rev. Ames (officiant) is away until the day before: too late for a rehearsal."}, nil},
		{outside, d(2027, 8, 15), []string{"noticeable: Somebody who is needed is away."}, []string{"Ames"}},
		{planner, d(2027, 6, 30), []string{"blocking: The day is past."}, nil},
		{planner, d(2027, 7, 1), nil, []string{"past"}},
	} {
		s := NewScales(planned(t), closures, nil, d(2027, 1, 1), d(2027, 12, 31))
		s.Today = d(2027, 7, 1)
		switch row.who {
		case partner:
			s.Hidden = func(from []string) bool { return slices.Contains(from, "theo") }
		case outside:
			s.Outside = true
		}
		against, pro := weighed(t, s, row.day)
		said := against + "\n" + pro
		for _, text := range row.has {
			if !strings.Contains(said, text) {
				t.Errorf("to %d, %s lacks %q:\n%s", row.who, row.day, text, said)
			}
		}
		for _, text := range row.lacks {
			if strings.Contains(said, text) {
				t.Errorf("to %d, %s has %q:\n%s", row.who, row.day, text, said)
			}
		}
	}
}

// A day of a contract's own falls on its holiday whatever day is chosen, so it
// tells no day from another.
func TestFixedDeadlinesTellNothing(t *testing.T) {
	p := planned(t)
	p.Agreements[0].Change[0].Says = "number of servings by 2027-09-06"
	closures, _ := ClosuresFor("US")
	s := NewScales(read(t, p), closures, nil, d(2027, 1, 1), d(2027, 12, 31))
	if against, _ := weighed(t, s, aSaturday); strings.Contains(against, "Labor Day") {
		t.Errorf("%s", against)
	}
}

// The light is told of whether or not the hour is known, and a ceremony that
// begins in the dark is felt by everybody.
func TestLight(t *testing.T) {
	clock := func(hour, minute int) *milestones.Clock { return &milestones.Clock{Hour: hour, Minute: minute} }
	november := d(2027, 11, 20)
	for _, row := range []struct {
		start        *milestones.Clock
		day          milestones.Date
		lat          float64
		against, pro string
		want         Verdict
	}{
		{clock(16, 30), aSaturday, 44.76, "", "Sunset 19:48, dark from 20:17; the ceremony at 16:30 starts 3 hours 18 minutes before sunset.", Clear},
		{nil, aSaturday, 44.76, "", "Sunset 19:48, dark from 20:17.", Clear},
		{clock(18, 30), aSaturday, 44.76, "slight: Sunset 19:48, dark from 20:17; the ceremony at 18:30 starts 1 hour 18 minutes before sunset. The pictures after it want light.", "", Clear},
		{clock(20, 0), aSaturday, 44.76, "slight: Sunset 19:48, dark from 20:17; the ceremony at 20:00 starts in twilight. The pictures after it want light.", "", Clear},
		{clock(21, 45), november, 44.76, "noticeable: Sunset 17:10, dark from 17:42; the ceremony at 21:45 starts in the dark. It needs lamps, and so do the pictures.", "", Watch},
		{nil, d(2027, 12, 19), 78.2, "slight: The sun does not rise on Sun 19 Dec 2027.", "", Clear},
		{nil, d(2027, 6, 19), 78.2, "", "The sun does not set on Sat 19 Jun 2027.", Clear},
	} {
		p := lakeTown()
		p.Wedding.Start, p.Wedding.Place.At = row.start, &[2]float64{row.lat, -85.62}
		s := NewScales(read(t, p), milestones.NoClosures{}, nil, row.day, row.day)
		against, pro := weighed(t, s, row.day)
		if v := s.Rank([]milestones.Date{row.day})[0].Verdict; against != row.against || pro != row.pro || v != row.want {
			t.Errorf("%s: %s\n%s\n%s\nwant %s\n%s\n%s", row.day, v, against, pro, row.want, row.against, row.pro)
		}
	}
}

// What speaks for all of several days is common to them; of one, nothing is.
func TestCommon(t *testing.T) {
	us, _ := ClosuresFor("US")
	days := []milestones.Date{aSaturday, another}
	two := NewScales(planned(t), us, nil, d(2027, 1, 1), d(2027, 12, 31)).Weigh(days, 0)
	if got := Common(two); !slices.Equal(got, []string{"It is on no holiday weekend.", "Nobody who is needed is known to be away."}) {
		t.Errorf("common is %q", got)
	}
	// Where no holidays are known, nothing is said of them.
	two = NewScales(planned(t), milestones.NoClosures{}, nil, d(2027, 1, 1), d(2027, 12, 31)).Weigh(days, 0)
	if got := Common(two); !slices.Equal(got, []string{"Nobody who is needed is known to be away."}) {
		t.Errorf("where no holidays are known, common is %q", got)
	}
	if got := Common(two[:1]); got != nil {
		t.Errorf("common to one day is %q", got)
	}
}

// Candidates that were weighed apart compare as those weighed together do.
func TestCompareApart(t *testing.T) {
	s := NewScales(planned(t), milestones.NoClosures{}, randomEvents(rand.New(rand.NewPCG(7, 8)), 400), d(2027, 1, 1), d(2027, 12, 31))
	var days []milestones.Date
	var apart []Candidate
	for day := d(2027, 6, 1); day.Before(d(2027, 11, 1)); day = day.AddDays(3) {
		days, apart = append(days, day), append(apart, s.Weigh([]milestones.Date{day}, 0)...)
	}
	slices.SortFunc(apart, Candidate.Compare)
	for n, c := range s.Weigh(days, 0) {
		if c.Date != apart[n].Date {
			t.Fatalf("place %d is %s together and %s apart", n, c.Date, apart[n].Date)
		}
	}
}

// How a clash is told, by where it is, when, and how sure. Read them aloud.
func TestClashWords(t *testing.T) {
	friday := aSaturday.AddDays(-1)
	named := func(e Event, place milestones.Place) Event { e.Place = place; return e }
	gull := milestones.Place{Name: "Gull Field"}
	for _, row := range []struct {
		e    Event
		want string
	}{
		{hours(named(on(aSaturday, "home match", Match, nil, 0, 0), gull), 14, 17), "Home match (Gull Field, 14:00 to 17:00) is on that day: rooms are few and dear."},
		{expected(on(aSaturday, "Marathon", Race, &quay, 0, 0)), "Marathon (at the door) is expected on that day: streets are closed or full, and it can be heard."},
		{on(friday, "Match", Match, nil, 0, 0), "Match is on Fri 17 Sep 2027, which is the day before: rooms are few and dear on the night before the wedding."},
		{on(aSaturday.AddDays(1), "Match", Match, nil, 0, 0), "Match is on Sun 19 Sep 2027, which is the day after: rooms are few and dear from the night of the wedding on."},
		{expected(on(aSaturday, "Harbor Days", Festival, &stadium, -1, 1)), "Harbor Days (2 km away) is expected from Fri 17 Sep to Sun 19 Sep 2027: rooms are few and dear."},
		{on(aSaturday, "Colour weeks", Festival, nil, -10, 10), "Colour weeks runs from Wed 8 Sep to Tue 28 Sep 2027: it goes on for weeks, and meets the days around this one too."},
		{hours(on(aSaturday, "Morning run", Race, &quay, 0, 0), 7, 11), "Morning run (at the door, 07:00 to 11:00) is on that day: streets are closed or full, though not at the wedding's hours."},
		{hours(on(aSaturday, "Concert", Concert, &door, 0, 1), 20, 1), "Concert (at the door, 20:00 to 01:00) is on that day: it can be heard, and there are crowds and full car parks around it."},
		{hours(on(aSaturday, "Late match", Match, nil, -1, 0), 20, 1), "Late match (20:00 to 01:00) is on Fri 17 Sep 2027, which is the day before: rooms are few and dear on the night before the wedding."},
		{hours(on(aSaturday, "Relay", Race, &door, -1, 0), 9, 11), "Relay (at the door, 09:00 to 11:00) runs from Fri 17 Sep to Sat 18 Sep 2027: streets are closed or full, though not at the wedding's hours."},
		{named(on(aSaturday, "Boat show", Congress, nil, 0, 0), milestones.Place{Name: "The Net Loft"}), "Boat show (at the place itself) is on that day: the place is taken."},
		{named(on(aSaturday, "New roof", Works, nil, -9, 10), milestones.Place{Name: "The Net Loft, 3 Quay St, Alder Harbor"}),
			"New roof (at the place itself) runs from Thu 9 Sep to Tue 28 Sep 2027: the place is closed."},
		{Event{What: "The Three Weeks", Kind: Observance, From: friday, To: aSaturday, Custom: NotHeld, Status: Computed}, "The Three Weeks runs from Fri 17 Sep to Sat 18 Sep 2027: most clergy hold no weddings; ask yours, for customs vary."},
		{Event{What: "clocks go back an hour at 02:00", Kind: Clocks, From: aSaturday.AddDays(1), To: aSaturday.AddDays(1), Status: Computed, Note: "02:00 becomes 01:00; the night after Sat 18 Sep 2027 is longer"},
			"Clocks go back an hour at 02:00 on Sun 19 Sep 2027: the night after Sat 18 Sep 2027 is longer."},
		{Event{What: "clocks go back an hour at 02:00", Kind: Clocks, From: aSaturday, To: aSaturday, Status: Computed},
			"Clocks go back an hour at 02:00 on Sat 18 Sep 2027: remind everybody, or somebody comes at the wrong hour."},
	} {
		s := NewScales(lakeTown(), milestones.NoClosures{}, []Event{row.e}, aSaturday, aSaturday)
		if got := s.public(aSaturday); len(got) != 1 || got[0].Says != row.want {
			t.Errorf("%+v\nwant %s", got, row.want)
		}
	}
}

// What is not known is said: a year without events, a place without
// coordinates, no region, a tradition's own limits.
func TestCautionsOfScales(t *testing.T) {
	w := lakeTown().Wedding
	all := func(read []Event, holidays string, avoid ...Tradition) string {
		return strings.Join(Cautions(&w, read, avoid, d(2027, 1, 1), d(2028, 12, 31), holidays), "\n")
	}
	got := all([]Event{on(aSaturday, "Match", Match, nil, 0, 0)}, "holidays that only US-MI keeps are not included", Jewish)
	for _, text := range []string{"No event of 2028 has been read.", "What is expected is a guess", "Jewish: customs vary; ask your clergy.", "Holidays that only US-MI keeps are not included."} {
		if !strings.Contains(got, text) {
			t.Errorf("they lack %q:\n%s", text, got)
		}
	}
	if strings.Contains(got, "No event of 2027") || strings.Contains(got, "latitude") || strings.Contains(got, "No region") {
		t.Errorf("they say too much:\n%s", got)
	}
	w.Place.At, w.Region = nil, ""
	if got := all(nil, "no region is given"); !strings.Contains(got, "no latitude and longitude") || !strings.Contains(got, "No region is given, so public holidays") || strings.Contains(got, "guess") {
		t.Errorf("they are\n%s", got)
	}
}

// What a day is ranked by, of the plan's own, is reckoned without the words
// that it is told in: it has to come to the same, whoever reads it, on days
// with and without light, before and after what is booked.
func TestRankedAsTold(t *testing.T) {
	us, _ := ClosuresFor("US")
	for _, start := range []*milestones.Clock{nil, {Hour: 6, Minute: 30}, {Hour: 16, Minute: 30}, {Hour: 18}, {Hour: 21}} {
		p := planned(t)
		p.Wedding.Start = start
		for who := range 3 {
			s := NewScales(p, us, nil, d(2027, 1, 1), d(2028, 6, 30))
			s.Today, s.Outside = d(2027, 1, 10), who == 1
			if who == 2 {
				s.Hidden = func(from []string) bool { return slices.Contains(from, "theo") }
			}
			for day := d(2027, 1, 1); day.Before(d(2028, 7, 1)); day = day.AddDays(3) {
				short, pro := s.own(day, false)
				told, speaks := s.own(day, true)
				if !slices.EqualFunc(short, told, func(a, b Clash) bool { return a.Severity == b.Severity && a.Status == b.Status }) || len(pro) != len(speaks) {
					t.Fatalf("%s at %v is ranked by %v %q, and told as %v %q", day.Words(), start, short, pro, told, speaks)
				}
			}
		}
	}
}
