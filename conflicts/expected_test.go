package conflicts

import (
	"testing"

	"banns/milestones"
)

// marathon is editions of the Boston Marathon.
func marathon(t *testing.T) []Event {
	var all []Event
	for _, e := range editions(t, "2014-04-21 2015-04-20 2016-04-18 2018-04-16 2019-04-15 2021-10-11 2022-04-18 2023-04-17 2024-04-15") {
		all = append(all, Event{What: "Marathon " + e.From.String()[:4], From: e.From, To: e.To, Kind: Race, Status: Announced, Source: Source{Name: "city.ics"}})
	}
	return all
}

func TestExpect(t *testing.T) {
	announced := func(day milestones.Date, s Status) Event {
		return Event{What: "129th Marathon", From: day, To: day, Kind: Race, Status: s}
	}
	rows := []struct {
		what string
		more []Event
		want string
	}{
		{"no edition of the year", nil, "Mon 21 Apr 2025"},
		{"an announced one", []Event{announced(d(2025, 4, 21), Announced)}, ""},
		{"an announced one that is not by the rule", []Event{announced(d(2025, 5, 4), Announced)}, ""},
		// Its organiser's own guess is better than ours, and the two would count twice.
		{"a tentative one", []Event{announced(d(2025, 4, 14), Expected)}, ""},
		{"a tentative one of another year", []Event{announced(d(2026, 4, 13), Expected)}, "Mon 21 Apr 2025"},
		{"an edition of a later year", []Event{announced(d(2026, 4, 20), Announced)}, "Mon 21 Apr 2025"},
	}
	for _, r := range rows {
		got, p := Expect(append(marathon(t), r.more...), 2025, "US-MA")
		day := ""
		if len(got) == 1 {
			day = got[0].From.Words()
		}
		if day != r.want || len(got) > 1 || p.From != d(2025, 4, 21) {
			t.Errorf("%s: %s expected, want %s; by the rule %s", r.what, day, r.want, p.From)
		}
	}
	got, _ := Expect(marathon(t), 2025, "")
	e := got[0]
	note := "the third Monday of April; held in 8 of 9 editions; Mon 11 Oct 2021 was not; none in 2017 and 2020"
	if e.What != "Marathon" || e.Status != Expected || e.Kind != Race || e.Note != note || e.Source.Name != "city.ics" {
		t.Errorf("expected is %+v, want the note %q", e, note)
	}
}

// What has no rule is not expected, nor what is out of turn, nor an edition
// that is announced for the last days of the year before.
func TestExpectNothing(t *testing.T) {
	rows := []struct {
		days string
		year int
	}{
		{"2024-06-01 2025-06-07", 2027},
		{"2018-06-09 2019-01-13 2020-03-02 2021-09-08", 2027},
		{"2018-06-09 2020-06-13 2022-06-11 2024-06-08", 2027},
		{"2022-12-30 2023-12-29 2025-01-03 2026-01-02 2027-01-01 2027-12-31", 2028},
	}
	for _, r := range rows {
		var given []Event
		for _, e := range editions(t, r.days) {
			given = append(given, Event{What: "Fair", From: e.From, To: e.To, Status: Announced})
		}
		if got, p := Expect(given, r.year, ""); got != nil {
			t.Errorf("%s: %s is expected, %s", r.days, got[0].From.Words(), p.Note())
		}
	}
}

// An expected event says where else it may be.
func TestExpectRivals(t *testing.T) {
	var given []Event
	for _, e := range editions(t, "2022-06-04 2023-06-03 2024-06-01") {
		given = append(given, Event{What: "Fair", From: e.From, To: e.To, Status: Announced})
	}
	got, _ := Expect(given, 2027, "")
	want := "the first Saturday of June; held in all 3 editions; or Sat 29 May 2027, by the Saturday nearest 1 June"
	if len(got) != 1 || got[0].Note != want {
		t.Errorf("expected: %+v, want the note %q", got, want)
	}
}

// A day that another rule gives, as good as the one that is taken, is told of;
// an announced event that is not by its rule says so.
func TestKnownDoubts(t *testing.T) {
	fair := func(days string) (all []Event) {
		for _, e := range editions(t, days) {
			all = append(all, Event{What: "Fair", From: e.From, To: e.To, Kind: Festival, Status: Announced, Source: Source{Name: "town.csv", Line: 2}})
		}
		return all
	}
	const past = "2022-06-04 2023-06-03 2024-06-01"
	for _, row := range []struct {
		days string
		on   milestones.Date
		want string
	}{
		{past, d(2027, 6, 5), "serious: Fair is expected on that day: rooms are few and dear. The first Saturday of June; held in all 3 editions; or Sat 29 May 2027, by the Saturday nearest 1 June"},
		{past, d(2027, 5, 29), "slight: Fair may fall on that day, by the Saturday nearest 1 June: rooms are few and dear. More simply it is on Sat 5 Jun 2027, by the first Saturday of June; held in all 3 editions"},
		{past, d(2027, 5, 30), ""},
		{past + " 2027-06-12", d(2027, 6, 12), "serious: Fair is on that day: rooms are few and dear. " +
			"Sat 12 Jun 2027 is not by the rule of earlier editions, the first Saturday of June, which gives Sat 5 Jun 2027; see whether it was moved or the source is wrong"},
		{past + " 2027-06-05", d(2027, 6, 5), "serious: Fair is on that day: rooms are few and dear. "},
		{past + " 2027-06-12", d(2027, 5, 29), ""},
	} {
		p := lakeTown()
		p.Wedding.Region = ""
		all, _ := Known(&p.Wedding, fair(row.days), nil, row.on.AddDays(-ReachDays), row.on.AddDays(ReachDays))
		said := ""
		for _, c := range NewScales(p, milestones.NoClosures{}, all, row.on, row.on).public(row.on) {
			said += c.Severity.String() + ": " + c.Says + " " + capital(c.Doubt+c.Note)
		}
		if said != row.want {
			t.Errorf("%s, %s: %s\nwant %s", row.days, row.on.Words(), said, row.want)
		}
	}
	var days []string
	for _, e := range Doubted(fair(past+" 2027-06-12"), 2027, 2027, "") {
		days = append(days, e.From.String()+" "+e.Doubt[:15])
	}
	if len(days) != 1 || days[0] != "2027-06-12 Sat 12 Jun 2027" {
		t.Errorf("doubted are %q", days)
	}
	// A name alone is enough: Memorial Day is a Monday.
	if got := Doubted([]Event{{What: "Memorial Day", From: d(2027, 5, 30), To: d(2027, 5, 30), Status: Announced}}, 2027, 2027, "US-MI"); len(got) != 1 {
		t.Errorf("doubted are %v", got)
	}
}

func TestContradiction(t *testing.T) {
	_, p := Expect(marathon(t), 2025, "")
	rows := []struct {
		what     string
		kind     Kind
		from, to milestones.Date
		p        Pattern
		region   string
		says     string
	}{
		{"Marathon", Race, d(2025, 4, 21), d(2025, 4, 21), p, "", ""},
		{"Marathon", Race, d(2025, 4, 20), d(2025, 4, 20), p, "",
			"Sun 20 Apr 2025 is not by the rule of earlier editions, the third Monday of April, which gives Mon 21 Apr 2025; see whether it was moved or the source is wrong"},
		{"Marathon weekend", Race, d(2025, 4, 19), d(2025, 4, 21), p, "", ""},
		// A Monday holiday, printed on a Sunday.
		{"Memorial Day", Holiday, d(2027, 5, 30), d(2027, 5, 30), Pattern{}, "US-MI",
			"Sun 30 May 2027 is not Memorial Day, which is Mon 31 May 2027; look for the right day at the source"},
		{"Memorial Day 2027", Other, d(2027, 5, 31), d(2027, 5, 31), Pattern{}, "US-MI", ""},
		{"Whit Monday", Holiday, d(2027, 5, 16), d(2027, 5, 16), Pattern{}, "",
			"Sun 16 May 2027 is not Whit Monday, which is Mon 17 May 2027; look for the right day at the source"},
		// Of both churches.
		{"Palm Sunday", Observance, d(2027, 4, 25), d(2027, 4, 25), Pattern{}, "", ""},
		{"Palm Sunday", Observance, d(2027, 4, 18), d(2027, 4, 18), Pattern{}, "",
			"Sun 18 Apr 2027 is not Palm Sunday, which is Sun 21 Mar 2027 or Sun 25 Apr 2027; look for the right day at the source"},
		// 5 USC 6103(b): 4 July 2027 is a Sunday, kept on the Monday.
		{"Independence Day", Holiday, d(2027, 7, 4), d(2027, 7, 4), Pattern{}, "US", ""},
		{"Independence Day", Holiday, d(2027, 7, 5), d(2027, 7, 5), Pattern{}, "US", ""},
		{"Independence Day", Holiday, d(2027, 7, 3), d(2027, 7, 3), Pattern{}, "US",
			"Sat 3 Jul 2027 is not Independence Day, which is Sun 4 Jul 2027 or Mon 5 Jul 2027; look for the right day at the source"},
		// Known by no table, but by the weekday in its name.
		{"Plough Monday", Observance, d(2027, 1, 10), d(2027, 1, 10), Pattern{}, "", "Sun 10 Jan 2027 is no Monday, which its name says; look for the right day at the source"},
		{"Plough Monday", Observance, d(2027, 1, 11), d(2027, 1, 11), Pattern{}, "", ""},
		{"Friday Night Lights", Match, d(2027, 9, 18), d(2027, 9, 18), Pattern{}, "", ""},
	}
	for _, r := range rows {
		if says := Contradiction(Event{What: r.what, Kind: r.kind, From: r.from, To: r.to}, r.p, r.region); says != r.says {
			t.Errorf("%s on %s: %q\nwant %q", r.what, r.from, says, r.says)
		}
	}
}
