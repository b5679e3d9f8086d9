package conflicts

import (
	"fmt"
	"strings"
	"testing"

	"banns/milestones"
)

// from is e as another source lists it.
func from(source string, e Event) Event {
	e.Source = Source{Name: source, Line: 7}
	return e
}

// weighedAmid is what speaks against aSaturday of events as sources have them.
func weighedAmid(t *testing.T, events []Event) (Verdict, string) {
	t.Helper()
	p := lakeTown()
	p.Wedding.Region = ""
	all, _ := Known(&p.Wedding, events, nil, aSaturday.AddDays(-ReachDays), aSaturday.AddDays(ReachDays))
	s := NewScales(p, milestones.NoClosures{}, all, aSaturday, aSaturday)
	var said []string
	for _, c := range s.public(aSaturday) {
		said = append(said, fmt.Sprintf("%s: %s", c.Severity, c.Says))
	}
	return s.Weigh([]milestones.Date{aSaturday}, 0)[0].Verdict, strings.Join(said, "\n")
}

// editionsBefore are editions on the third Saturday of September, which is what
// aSaturday is, of n years up to the one before.
func editionsBefore(what string, k Kind, n int) (all []Event) {
	for year := aSaturday.Year - n; year < aSaturday.Year; year++ {
		all = append(all, on(nthOf(year, 9, 6, 3), what, k, nil, 0, 0))
	}
	return all
}

// What a calendar enters day by day is one event, and what two sources list
// is one too. Each row is weighed as sources have it.
func TestHeld(t *testing.T) {
	days := func(e Event, n int) (all []Event) {
		for range n {
			all = append(all, e)
			e.From, e.To = e.From.AddDays(1), e.To.AddDays(1)
		}
		return all
	}
	run := on(aSaturday, "Quay Run", Race, &door, 0, 0)
	quay := placed(on(aSaturday, "Quay Run", Race, nil, 0, 0), "Quay Street", nil)
	for _, row := range []struct {
		what   string
		events []Event
		want   Verdict
		says   string
	}{
		{"a month day by day is a season", days(on(aSaturday, "Harbour lights", Festival, &stadium, -14, -14), 30), Clear,
			"slight: Harbour lights (2 km away) runs from Sat 4 Sep to Sun 3 Oct 2027: it goes on for weeks, and meets the days around this one too."},
		{"a weekend day by day is one festival", days(on(aSaturday, "Harbor Days", Festival, &stadium, -1, -1), 3), Avoid,
			"serious: Harbor Days (2 km away) runs from Fri 17 Sep to Sun 19 Sep 2027: rooms are few and dear."},
		{"each morning is over by the wedding", days(hours(on(aSaturday, "Relay", Race, &door, -1, -1), 7, 11), 3), Watch,
			"noticeable: Relay (at the door, 07:00 to 11:00 each day) runs from Fri 17 Sep to Sun 19 Sep 2027: streets are closed or full, though not at the wedding's hours."},
		{"other hours on each day", append(days(hours(on(aSaturday, "Relay", Race, &door, 0, 0), 7, 11), 1), hours(on(aSaturday, "Relay", Race, &door, 1, 1), 14, 18)), Avoid,
			"serious: Relay (at the door, 07:00 to 18:00) runs from Sat 18 Sep to Sun 19 Sep 2027: streets are closed or full, and it can be heard."},
		{"nights", days(hours(on(aSaturday, "Lights", Festival, &stadium, -2, -1), 20, 1), 2), Watch,
			"noticeable: Lights (2 km away, 20:00 to 01:00) runs from Thu 16 Sep to Fri 17 Sep 2027, which is the day before: rooms are few and dear on the night before the wedding."},
		{"one in two sources", []Event{run, from("region.csv", hours(run, 9, 18))}, Avoid,
			"serious: Quay Run (at the door, 09:00 to 18:00) is on that day: streets are closed or full, and it can be heard."},
		{"one in two sources, under its number", []Event{quay, from("region.csv", placed(on(aSaturday, "12th Annual Quay Run 2027", Race, nil, 0, 0), "Quay Street, Alder Harbor", nil))}, Watch,
			"noticeable: 12th Annual Quay Run 2027 (Quay Street, Alder Harbor) is on that day: streets are closed or full."},
		{"two of one name", []Event{placed(on(aSaturday, "Concert", Concert, nil, 0, 0), "Quay Hall", nil), placed(on(aSaturday, "Concert", Concert, nil, 0, 0), "Gull Field", nil)}, Clear,
			"slight: Concert (Quay Hall) is on that day: there are crowds and full car parks around it.\nslight: Concert (Gull Field) is on that day: there are crowds and full car parks around it."},
		{"announced here and tentative there", []Event{expected(on(aSaturday, "Match", Match, nil, 0, 1)), from("club.ics", on(aSaturday, "Match", Match, nil, 1, 1))}, Watch,
			"noticeable: Match is on Sun 19 Sep 2027, which is the day after: rooms are few and dear from the night of the wedding on."},
		{"tentative, and by a rule too", append(editionsBefore("Match", Match, 6), expected(on(aSaturday, "Match", Match, nil, 1, 1))), Watch,
			"noticeable: Match is expected on Sun 19 Sep 2027, which is the day after: rooms are few and dear from the night of the wedding on."},
		{"weeks apart", []Event{on(aSaturday, "Match", Match, nil, 0, 0), on(aSaturday, "Match", Match, nil, 7, 7)}, Avoid,
			"serious: Match is on that day: rooms are few and dear."},
		{"a name that tells nothing", []Event{on(aSaturday, "???", Match, nil, 0, 0)}, Avoid, "serious: ??? is on that day: rooms are few and dear."},
	} {
		if got, says := weighedAmid(t, row.events); got != row.want || says != row.says {
			t.Errorf("%s: %s\n%s\nwant %s\n%s", row.what, got, says, row.want, row.says)
		}
	}
}

// Who lists an event is not lost, and is named once.
func TestHeldNamesItsSources(t *testing.T) {
	run := on(aSaturday, "Quay Run", Race, nil, 0, 0)
	got := held([]Event{run, from("region.csv", run), from("club.ics", run), from("region.csv", run), run})
	if len(got) != 1 || got[0].Source.Name != "town.ics" || got[0].ListedIn() != "town.ics, line 1, and in region.csv, line 7, and in club.ics, line 7" {
		t.Errorf("it is held as %+v", got)
	}
}

// The same through a calendar.
func TestDailyRepeatIsASeason(t *testing.T) {
	l, err := ReadCalendar(strings.NewReader("BEGIN:VCALENDAR\nBEGIN:VEVENT\nSUMMARY:Harbour lights\nCATEGORIES:festival\nDTSTART;VALUE=DATE:20270901\nRRULE:FREQ=DAILY;COUNT=30\nEND:VEVENT\nEND:VCALENDAR\n"), year2027(t, "town.ics"))
	if err != nil || len(l.Events) != 30 {
		t.Fatalf("%d events, %v", len(l.Events), err)
	}
	if got, says := weighedAmid(t, l.Events); got != Clear || !strings.HasPrefix(says, "slight: Harbour lights runs from Wed 1 Sep to Thu 30 Sep 2027: it goes on for weeks") {
		t.Errorf("%s\n%s", got, says)
	}
}
