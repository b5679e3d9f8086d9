package conflicts

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// one reads a calendar with one event in it, by the lines of the event.
func one(t *testing.T, scope Scope, lines ...string) Listing {
	t.Helper()
	text := "BEGIN:VCALENDAR\nBEGIN:VEVENT\nSUMMARY:Example\n" + strings.Join(lines, "\n") + "\nEND:VEVENT\nEND:VCALENDAR\n"
	l, err := ReadCalendar(strings.NewReader(text), scope)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// A repeat keeps its hour by the clock through the changes of clocks, on both
// sides. Detroit changes on 14 March and 7 November 2027, London on 28 March.
func TestRepeatsKeepTheirHour(t *testing.T) {
	scope := year2027(t, "clocks")
	for _, row := range []struct {
		start, rule string
		want        string
	}{
		{"TZID=America/Detroit:20270312T193000", "FREQ=DAILY;COUNT=4", "12 19:30, 13 19:30, 14 19:30, 15 19:30"},
		// What clocks skip is read with the offset from before (RFC 5545 3.3.5).
		{"TZID=America/Detroit:20270313T023000", "FREQ=DAILY;COUNT=3", "13 02:30, 14 03:30, 15 02:30"},
		// London is five hours ahead, and four between the two changes.
		{"TZID=Europe/London:20270313T200000", "FREQ=WEEKLY;COUNT=4", "13 15:00, 20 16:00, 27 16:00, 3 15:00"},
		{"VALUE=DATE-TIME:20270313T200000Z", "FREQ=DAILY;COUNT=2", "13 15:00, 14 16:00"},
		// An end in UTC is by the event's clock: 19:30 on the 15th is 23:30 in UTC.
		{"TZID=America/Detroit:20270313T193000", "FREQ=DAILY;UNTIL=20270315T233000Z", "13 19:30, 14 19:30, 15 19:30"},
		{"TZID=America/Detroit:20270313T193000", "FREQ=DAILY;UNTIL=20270315T232900Z", "13 19:30, 14 19:30"},
		{"TZID=America/Detroit:20270313T193000", "FREQ=DAILY;UNTIL=20270315", "13 19:30, 14 19:30, 15 19:30"},
		{"VALUE=DATE:20270313", "FREQ=DAILY;UNTIL=20270315T000000Z", "13, 14, 15"},
	} {
		var got []string
		for _, e := range one(t, scope, "DTSTART;"+row.start, "RRULE:"+row.rule).Events {
			s := fmt.Sprint(e.From.Day)
			if e.Start != nil {
				s += " " + e.Start.String()
			}
			got = append(got, s)
		}
		if s := strings.Join(got, ", "); s != row.want {
			t.Errorf("%s %s: %s, want %s", row.start, row.rule, s, row.want)
		}
	}
}

// The hour that clocks repeat has two passes: 7 November 2027, 05:30 and
// 06:30 UTC are both 01:30 in Detroit.
func TestRepeatedHour(t *testing.T) {
	l := one(t, year2027(t, "clocks"), "DTSTART:20271107T053000Z", "DTEND:20271107T063000Z")
	e := l.Events[0]
	if e.Start.String() != "01:30" || e.End.String() != "01:30" || e.Start.Again || !e.End.Again || e.To != e.From {
		t.Errorf("%+v %+v", e.Start, e.End)
	}
}

// An event that is read for a day belongs to it by the wedding's clock.
func TestDaysThatAreReadFor(t *testing.T) {
	scope := year2027(t, "scope")
	scope.From, scope.To = d(2027, 9, 18), d(2027, 9, 18)
	for _, row := range []struct {
		lines string
		want  int
	}{
		{"DTSTART:20270918T000000", 1},
		{"DTSTART:20270918T235900", 1},
		{"DTSTART:20270919T000000", 0},
		{"DTSTART:20270917T235900", 0},
		{"DTSTART:20270917T200000\nDTEND:20270918T000000", 0},
		{"DTSTART:20270917T200000\nDTEND:20270918T000100", 1},
		{"DTSTART:20270919T033000Z", 1},
		{"DTSTART:20270918T033000Z", 0},
		{"DTSTART;VALUE=DATE:20270917\nDTEND;VALUE=DATE:20270918", 0},
		{"DTSTART;VALUE=DATE:20270917\nDTEND;VALUE=DATE:20270919", 1},
		{"DTSTART;TZID=Pacific/Kiritimati:20270919T100000\nRRULE:FREQ=YEARLY", 1},
		{"DTSTART;TZID=Pacific/Pago_Pago:20270917T200000\nRRULE:FREQ=YEARLY", 1},
		{"DTSTART;VALUE=DATE:20200901\nDURATION:P20D\nRRULE:FREQ=YEARLY", 1},
	} {
		if got := one(t, scope, row.lines); len(got.Events) != row.want {
			t.Errorf("%s: %d events, want %d", row.lines, len(got.Events), row.want)
		}
	}
}

// Of a repeat that goes on and on, so many are taken as may be, and that is
// said; exceptions do not count.
func TestManyRepeats(t *testing.T) {
	l := one(t, year2027(t, "many"), "DTSTART:20270101T000000", "RRULE:FREQ=DAILY;BYHOUR=0,6,12,18", "EXDATE;VALUE=DATE:20270102,20270103")
	if len(l.Events) != maxRepeats || l.Events[4].From != d(2027, 1, 4) || !says(l, "only its first 1000 days are taken") {
		t.Errorf("%d events, left out %v", len(l.Events), l.LeftOut)
	}
}

// Zones that a calendar describes itself, against the zones they describe.
func TestDescribedZones(t *testing.T) {
	observance := func(kind, start, rule, from, to string) string {
		s := fmt.Sprintf("BEGIN:%s\nDTSTART:%s\nTZOFFSETFROM:%s\nTZOFFSETTO:%s\n", kind, start, from, to)
		if rule != "" {
			s += rule + "\n"
		}
		return s + "END:" + kind + "\n"
	}
	for name, parts := range map[string]string{
		"America/Detroit": observance("DAYLIGHT", "20070311T020000", "RRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=2SU", "-0500", "-0400") +
			observance("STANDARD", "20071104T020000", "RRULE:FREQ=YEARLY;BYMONTH=11;BYDAY=1SU", "-0400", "-0500"),
		"Europe/Berlin": observance("STANDARD", "19961027T030000", "RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=10;UNTIL=20281029T010000Z", "+0200", "+0100") +
			observance("DAYLIGHT", "19810329T020000", "RRULE:FREQ=YEARLY;BYDAY=-1SU;BYMONTH=3", "+0100", "+0200"),
		"Australia/Sydney": observance("STANDARD", "20080406T030000", "RRULE:FREQ=YEARLY;BYMONTH=4;BYDAY=1SU", "+1100", "+1000") +
			observance("DAYLIGHT", "20081005T020000", "RRULE:FREQ=YEARLY;BYMONTH=10;BYDAY=1SU", "+1000", "+1100"),
		// By days that are listed, and by rules that end.
		"America/New_York": observance("DAYLIGHT", "20070311T020000", "RRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=2SU;UNTIL=20270314T070000Z", "-0500", "-0400") +
			observance("STANDARD", "20071104T020000", "RRULE:FREQ=YEARLY;BYMONTH=11;BYDAY=1SU;UNTIL=20271107T060000Z", "-0400", "-0500") +
			observance("DAYLIGHT", "20280312T020000", "", "-0500", "-0400") + observance("STANDARD", "20281105T020000", "RDATE:20281105T020000", "-0400", "-0500"),
		"Asia/Kolkata": observance("STANDARD", "19700101T000000", "", "+0530", "+0530"),
	} {
		text := "BEGIN:VCALENDAR\nBEGIN:VTIMEZONE\nTZID:Own\n" + parts + "END:VTIMEZONE\nEND:VCALENDAR\n"
		scope := year2027(t, name)
		scope.To = d(2028, 12, 31)
		c := &calendarReader{lister: &lister{scope: scope}}
		c.zones.defined = map[zoneName]*component{}
		c.unfold(text, c.line)
		got, want := c.zone(1, "Own", 1), zone(t, name)
		if got == scope.Zone && name != "America/Detroit" {
			t.Errorf("%s: it is not understood: %v", name, c.listing.LeftOut)
			continue
		}
		for at := time.Date(2026, 1, 1, 0, 30, 0, 0, time.UTC); at.Year() < 2029; at = at.Add(time.Hour) {
			if a, b := at.In(got).Format("15:04 -0700"), at.In(want).Format("15:04 -0700"); a != b {
				t.Errorf("%s at %s: %s, want %s", name, at, a, b)
				break
			}
		}
	}
}

func TestZoneNames(t *testing.T) {
	for id, want := range map[string]string{
		"America/Detroit": "America/Detroit", "america/detroit": "America/Detroit", "AMERICA/NEW_YORK": "America/New_York",
		"Eastern Standard Time": "America/New_York", "EASTERN STANDARD TIME": "America/New_York", "w. europe standard time": "Europe/Berlin",
		"AUS Eastern Standard Time": "Australia/Sydney", "aus eastern standard time": "Australia/Sydney", "fle standard time": "Europe/Kiev",
		"GMT Standard Time": "Europe/London", "utc": "UTC", "Etc/GMT+5": "Etc/GMT+5", "america/argentina/buenos_aires": "America/Argentina/Buenos_Aires",
		"/example.org/Europe/Paris": "Europe/Paris", "/example.org/20270101_1/America/Argentina/Salta": "America/Argentina/Salta",
		"Local": "", "local": "", "": "", "../../etc/passwd": "", "Nowhere/Town": "", "Customized Time Zone": "", "/": "", "(": "",
	} {
		got := ""
		if loc := namedZone(id); loc != nil {
			got = loc.String()
		}
		if got != want {
			t.Errorf("%q is %q, want %q", id, got, want)
		}
	}
}

func TestLengths(t *testing.T) {
	for text, want := range map[string]length{
		"P1D": {days: 1}, "p1w": {days: 7}, "PT1H": {exact: time.Hour}, "+P1DT2H30M": {1, 150 * time.Minute}, "PT90M": {exact: 90 * time.Minute}, "PT0S": {},
	} {
		if got, err := parseLength(text); err != nil || got != want {
			t.Errorf("%s: %v %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "P", "1D", "-P1D", "P1H", "PT1D", "PT1", "P1", "PD", "P99999999D", "P9999D", "PT1HT1H", "two hours"} {
		if got, err := parseLength(text); err == nil {
			t.Errorf("%q is %v", text, got)
		}
	}
}

func TestNoCalendar(t *testing.T) {
	for _, text := range []string{"", " \n", "name,date\nParade,2027-05-03\n", "<html></html>", "\x00\x01"} {
		if _, err := ReadCalendar(strings.NewReader(text), year2027(t, "none")); err == nil {
			t.Errorf("%q is read", text)
		}
	}
}

func TestKinds(t *testing.T) {
	for text, want := range map[string]Kind{
		"Gulls vs. Terns": Match, "Harbor 10K": Race, "Half-Marathon and fun runs": Race, "Labor Day Parade": Parade, "Cherry Festival": Festival,
		"Commencement of the college": Graduation, "Dental Congress 2027": Congress, "Quay St closed": Works, "Pops in the park": Other, "Matchmaking evening": Other,
		"Summer concerts": Concert, "Craft fair": Festival, "Trade fair": Congress, "": Other, "Frogs": Other,
	} {
		if got := kindOf("", text); got != want {
			t.Errorf("%q is a %s, want %s", text, got, want)
		}
	}
	for _, row := range [][3]string{{"match", "Parade", "match"}, {"Sports,Football", "Gulls at home", "match"}, {"public", "Parade", "parade"}, {"Works", "", "works"}} {
		if got := kindOf(row[0], row[1]); string(got) != row[2] {
			t.Errorf("%s: %s is a %s, want %s", row[0], row[1], got, row[2])
		}
	}
}
