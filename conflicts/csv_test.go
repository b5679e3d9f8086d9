package conflicts

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf16"

	"banns/milestones"
)

func TestWrittenDays(t *testing.T) {
	home := zone(t, "America/Detroit")
	rows := []struct{ text, want string }{
		{"2027-05-03", "2027-05-03"},
		{"2027/05/03", "2027-05-03"},
		{"20270503", "2027-05-03"},
		{"3 May 2027", "2027-05-03"},
		{"the 3rd of May, 2027", "2027-05-03"},
		{"May 3, 2027", "2027-05-03"},
		{"Mon., Sept. 6, 2027", "2027-09-06"},
		{"3-May-2027", "2027-05-03"},
		{"3-May-27", "2027-05-03"},
		{"2027 May 3", "2027-05-03"},
		{"3.5.2027", "2027-05-03"},
		{"03.05.27", "2027-05-03"},
		{"05/03/2027", "2027-03-05 or 2027-05-03"},
		{"5-3-27", "2027-03-05 or 2027-05-03"},
		{"05/05/2027", "2027-05-05"},
		{"25/12/2027", "2027-12-25"},
		{"12/25/2027", "2027-12-25"},
		{"Mon 05/03/2027", "2027-05-03"}, // 5 March is a Friday
		{"2027-05-03 19:30", "2027-05-03 19:30"},
		{"2027-05-03T19:30:00", "2027-05-03 19:30"},
		{"2027-05-03T23:30:00Z", "2027-05-03 19:30"},
		{"2027-05-04T01:30:00+02:00", "2027-05-03 19:30"},
		{"May 3, 2027 7:30 PM", "2027-05-03 19:30"},
		{"May 3, 2027 at 7pm", "2027-05-03 19:00"},
		{"May 3, 2027 7-9 pm", "2027-05-03 19:00-21:00"},
		{"2027-05-03 19:30-22:00", "2027-05-03 19:30-22:00"},
		{"3–5 May 2027", "2027-05-03 to 2027-05-05"},
		{"3-5 May 2027", "2027-05-03 to 2027-05-05"},
		{"May 3-5, 2027", "2027-05-03 to 2027-05-05"},
		{"2027-05-03 to 2027-05-05", "2027-05-03 to 2027-05-05"},
		{"30 April – 2 May 2027", "2027-04-30 to 2027-05-02"},
		{"December 30 to January 2, 2028", "2027-12-30 to 2028-01-02"},
		{"03/04/2027 - 05/04/2027", "2027-04-03 or 2027-03-04 to 2027-04-05 or 2027-05-04"},

		{"29 Feb 2027", "29 Feb 2027\" is no day of the calendar"},
		{"2027-02-30", "is no day of the calendar"},
		{"13/13/2027", "is no day of the calendar"},
		{"31.4.2027", "is no day of the calendar"},
		{"Sun 1 May 2027", "does not agree with the calendar, which has Sat 1 May 2027"},
		{"May 3", "has no year"},
		{"3/5", "no date can be read"},
		{"2027", "no date can be read"},
		{"May 2027", "no date can be read"},
		{"next week", "no date can be read"},
		{"46510", "no date can be read"},
		{"-", "no date can be read"},
		{"–", "no date can be read"},
		{"to", "no date can be read"},
	}
	for _, r := range rows {
		from, to, err := parseDays(r.text, home)
		got := ""
		if err != nil {
			got = err.Error()
		} else if got = wrote(from); to != (writtenDay{}) {
			got += " to " + wrote(to)
		}
		if got != r.want && (err == nil || !strings.Contains(got, r.want)) {
			t.Errorf("%q: %s, want %s", r.text, got, r.want)
		}
	}
}

func wrote(w writtenDay) string {
	s := w.in(DayMonth).String()
	if w.open() {
		s = w.dayMonth.String() + " or " + w.monthDay.String()
	}
	if w.clock != nil {
		s += " " + w.clock.String()
	}
	if w.until != nil {
		s += "-" + w.until.String()
	}
	return s
}

func TestWrittenHours(t *testing.T) {
	for text, want := range map[string]string{
		"19:30": "19:30", "19:30:00": "19:30", "7:30 pm": "19:30", "7 PM": "19:00", "7pm": "19:00", "7 p.m.": "19:00", "12 am": "00:00", "12:15 pm": "12:15",
		"noon": "12:00", "midnight": "00:00", "9.30": "09:30", "19:30 – 22:00": "19:30-22:00", "7–9 pm": "19:00-21:00", "11am to 2pm": "11:00-14:00",
		"7": "", "25:00": "", "13 pm": "", "0 am": "", "evening": "", "19:60": "", "": "", "-": "", "1:2:3:4": "",
	} {
		first, last, err := parseHours(text)
		got := ""
		if err == nil {
			if got = first.String(); last != nil {
				got += "-" + last.String()
			}
		}
		if got != want {
			t.Errorf("%q: %q %v, want %q", text, got, err, want)
		}
	}
}

// Headings are matched loosely, whatever their order.
func TestHeadings(t *testing.T) {
	for _, row := range []struct{ head, cells, want string }{
		{"EVENT NAME,Start-Date,End_Date,Venue", "Parade,2027-05-03,2027-05-04,Quay", "Parade 2027-05-03 2027-05-04 Quay"},
		{"what,when,where", "Parade,2027-05-03,Quay", "Parade 2027-05-03 2027-05-03 Quay"},
		{"Date (local),Title", "2027-05-03,Parade", "Parade 2027-05-03 2027-05-03"},
		{"name;from;until;location;town", "Parade;2027-05-03;2027-05-04;Quay;Alder Harbor", "Parade 2027-05-03 2027-05-04 Quay, Alder Harbor"},
		{"Subject\tStart Date\tStart Time\tEnd Date\tEnd Time", "Parade\t2027-05-03\t10:00\t2027-05-03\t12:00", "Parade 2027-05-03 10:00 2027-05-03 12:00"},
		{"event,date,start,end", "Parade,2027-05-03,10:00,12:00", "Parade 2027-05-03 10:00 2027-05-03 12:00"},
		{"event,date,start,end", "Parade,2027-05-03,22:00,01:00", "Parade 2027-05-03 22:00 2027-05-04 01:00"},
		{"event,date,start,end", "Parade,2027-05-03,22:00,00:00", "Parade 2027-05-03 22:00 2027-05-03 23:59"},
		{"event,start,end", "Parade,2027-05-03,2027-05-04", "Parade 2027-05-03 2027-05-04"},
		{"title,event,date", "Parade,Town events,2027-05-03", "Town events 2027-05-03 2027-05-03"},
		{"name,date,status", "Parade,2027-05-03,Tentative", "Parade 2027-05-03 2027-05-03 expected"},
		{"name,date,lat,lng", "Parade,2027-05-03,44.76,-85.62", "Parade 2027-05-03 2027-05-03 [44.76 -85.62]"},
		{"Event,Date & Time", "Parade,2027-05-03 10:00", "Parade 2027-05-03 10:00 2027-05-03"},
		{"Name of the Event,Event Start Date,Event End Date,Event Location", "Parade,2027-05-03,2027-05-04,Quay", "Parade 2027-05-03 2027-05-04 Quay"},
		{"EventName;EventStartDate;EventStartTime;EventEndTime", "Parade;2027-05-03;10:00;12:00", "Parade 2027-05-03 10:00 2027-05-03 12:00"},
		{"Event Title,Start Date/Time,End Date/Time", "Parade,2027-05-03 10:00,2027-05-03 12:00", "Parade 2027-05-03 10:00 2027-05-03 12:00"},
		{"Contact Name,Date Posted,Event (public),Show Dates", "Somebody,2026-11-02,Parade,3-5 May 2027", "Parade 2027-05-03 2027-05-05"},
		{"Event dates of the town,,\nDate from/to,Place or Site,Title of Event", "3-5 May 2027,Quay,Parade", "Parade 2027-05-03 2027-05-05 Quay"},
		{"Name,Date,Venue Latitude,Venue Longitude,Name of Venue", "Parade,2027-05-03,44.76,-85.62,Quay", "Parade 2027-05-03 2027-05-03 Quay [44.76 -85.62]"},
		{"sep=;\nname;date", "Parade;2027-05-03", "Parade 2027-05-03 2027-05-03"},
	} {
		l, err := ReadTable(strings.NewReader(row.head+"\n"+row.cells+"\n"), year2027(t, "headings"))
		if err != nil || len(l.Events) != 1 || len(l.LeftOut) > 0 {
			t.Errorf("%s: %v %v %v", row.head, l.Events, l.LeftOut, err)
			continue
		}
		if got := inShort(l.Events[0]); got != row.want {
			t.Errorf("%s: %s, want %s", row.head, got, row.want)
		}
	}
}

// Of headings that may each be a column, none is picked: where it is the name
// or the date nothing can be read, and otherwise the rest is.
func TestOpenHeadings(t *testing.T) {
	for head, says := range map[string]string{
		"Event,Show Date,Date & Time":          `which of them is the date: it may be "Show Date" or "Date & Time"; call one of them "date"`,
		"Name of Event,Series Name,Date of it": `which of them is the name: it may be "Name of Event" or "Series Name"; call one of them "name"`,
	} {
		l, err := ReadTable(strings.NewReader(head+"\nParade,2027-05-03,2027-05-03\n"), year2027(t, "open"))
		if err == nil || !strings.Contains(err.Error(), says) || len(l.Events) > 0 {
			t.Errorf("%s: %v %v, want %s", head, l.Events, err, says)
		}
	}
	l, err := ReadTable(strings.NewReader("name,date,Place of Start,Place of Finish\nParade,2027-05-03,Quay,Mill\n"), year2027(t, "open"))
	want := `the headings leave open which of them is the place: it may be "Place of Start" or "Place of Finish"; call one of them "place", so that it is taken`
	if err != nil || len(l.Events) != 1 || l.Events[0].Place.Name != "" || !says(l, want) {
		t.Errorf("two places: %v %v %v", l.Events, l.LeftOut, err)
	}
}

// A position that is none is said to be, and one that is not told is not.
func TestPositions(t *testing.T) {
	rows := []struct{ lat, lon, want string }{
		{"44.76", "-85.62", "[44.76 -85.62]"},
		{" 44.76 ", "-85.62", "[44.76 -85.62]"},
		{"", "", "none"},
		{"n/a", "-", "none"},
		{"0", "0.0", "none"},
		{"north", "west", `"north" is no latitude in degrees, from -90 to 90`},
		{"91", "0", `"91" is no latitude in degrees, from -90 to 90`},
		{"44.76", "-185.62", `"-185.62" is no longitude in degrees, from -180 to 180`},
		{"44.76", "NaN", `"NaN" is no longitude in degrees, from -180 to 180`},
		{"44.76", "", "it has no longitude"},
		{"", "-85.62", "it has no latitude"},
	}
	for _, r := range rows {
		at, err := parsePosition(r.lat, r.lon)
		got := "none"
		switch {
		case err != nil:
			got = err.Error()
		case at != nil:
			got = fmt.Sprint(*at)
		}
		if got != r.want {
			t.Errorf("%q, %q: %s, want %s", r.lat, r.lon, got, r.want)
		}
	}
}

func inShort(e Event) string {
	s := e.What + " " + e.From.String()
	if e.Start != nil {
		s += " " + e.Start.String()
	}
	s += " " + e.To.String()
	if e.End != nil {
		s += " " + e.End.String()
	}
	if e.Place.String() != "" {
		s += " " + e.Place.String()
	}
	if e.Place.At != nil {
		s += fmt.Sprintf(" %v", *e.Place.At)
	}
	if e.Status != Announced {
		s += " " + string(e.Status)
	}
	return s
}

func TestNoTable(t *testing.T) {
	for text, says := range map[string]string{
		"":                         "there is nothing in it",
		"a,b\n1,2\n":               "no headings are found",
		"name,place\nA,B\n":        "no headings are found",
		"PK\x03\x04abc":            "this is a spreadsheet",
		"\xd0\xcf\x11\xe0abc":      "this is a spreadsheet of the older kind",
		"%PDF-1.7":                 "this is a PDF",
		"  <!doctype html>":        "this is a web page",
		strings.Repeat("x\n", 100): "no headings are found",
	} {
		if _, err := ReadTable(strings.NewReader(text), year2027(t, "none")); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%.20q: %v, want %q", text, err, says)
		}
	}
}

// A table that is longer than is read ends with its last whole row. Here the
// bound falls between the two digits of a day.
func TestTableCutInARow(t *testing.T) {
	const head, last = "name,date\n", "Parade,2027-05-14\n"
	row := "Show,2026-05-14," + strings.Repeat("x", 983) + "\n" // 1000 bytes
	text := head + strings.Repeat(row, (MaxBody-len(head)-len(last))/len(row))
	text += strings.Repeat("\n", MaxBody-len(text)-len("Parade,2027-05-1")) + last
	if text[:MaxBody][MaxBody-10:] != ",2027-05-1" {
		t.Fatalf("the bound is at %q", text[MaxBody-20:MaxBody])
	}
	l, err := ReadTable(strings.NewReader(text), year2027(t, "long"))
	if err != nil || len(l.Events) > 0 || !says(l, "only the first 5 MB were read") {
		t.Errorf("%v %v %v", l.Events, l.LeftOut, err)
	}
	// One that is not cut needs no line end behind its last row.
	l, err = ReadTable(strings.NewReader(text[:MaxBody-1]+"4"), year2027(t, "whole"))
	if err != nil || len(l.Events) != 1 || len(l.LeftOut) > 0 {
		t.Errorf("of 5 MB: %v %v %v", l.Events, l.LeftOut, err)
	}
}

// What a spreadsheet program saves as "Unicode text" is UTF-16.
func TestUTF16(t *testing.T) {
	for name, order := range map[string][2]int{"little": {0, 8}, "big": {8, 0}} {
		var b []byte
		for _, u := range utf16.Encode([]rune("\ufeffname\tdate\nFête à l'île 🎉\t3.5.2027\n")) {
			b = append(b, byte(u>>order[0]), byte(u>>order[1]))
		}
		l, err := ReadEvents(strings.NewReader(string(b)), year2027(t, name))
		if err != nil || len(l.Events) != 1 || l.Events[0].What != "Fête à l'île 🎉" || l.Events[0].From != d(2027, 5, 3) {
			t.Errorf("%s: %v %v", name, l, err)
		}
	}
}

func TestOrderIsAnswered(t *testing.T) {
	const text = "name,date\nParade,03/04/2027\nFair,25/12/2027\nShow,12/26/2027\n"
	for order, want := range map[Order]milestones.Date{DayMonth: d(2027, 4, 3), MonthDay: d(2027, 3, 4)} {
		scope := year2027(t, "order")
		scope.Order = order
		l, err := ReadTable(strings.NewReader(text), scope)
		if err != nil || len(l.Events) != 3 || l.Events[0].From != want || len(l.Questions) != 0 {
			t.Errorf("%s: %v %v, want %s", order, l, err, want)
		}
	}
}

func TestClean(t *testing.T) {
	for text, want := range map[string]string{
		"  a \t\r\n b  ": "a b", "a\x00b": "a b", "a\u202eb\u200bc": "abc", "\xe9t\xe9": "été", "👩\u200d👩": "👩\u200d👩", "": "", "\x01": "",
		strings.Repeat("ä", 20): strings.Repeat("ä", 9) + "…", strings.Repeat("a ", 20): "a a a a a…",
	} {
		if got := clean(text, 10); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
