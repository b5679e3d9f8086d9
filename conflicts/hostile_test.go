package conflicts

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"
)

// calendarOf is a calendar with so many bodies of an event, each made by its
// number.
func calendarOf(n int, body func(i int) string) string {
	var b strings.Builder
	b.WriteString("BEGIN:VCALENDAR\r\n")
	for i := range n {
		b.WriteString("BEGIN:VEVENT\r\n" + body(i) + "\r\nEND:VEVENT\r\n")
	}
	b.WriteString("END:VCALENDAR\r\n")
	return b.String()
}

// upTo5MB repeats what one gives until there are 5 MB of it.
func upTo5MB(one func(i int) string) string {
	var b strings.Builder
	for i := 0; b.Len() < MaxBody-200; i++ {
		b.WriteString(one(i))
	}
	return b.String()
}

func inEvents(rule string) string {
	text := upTo5MB(func(i int) string {
		return fmt.Sprintf("BEGIN:VEVENT\nUID:%d\nDTSTART:19700101T000000\n%s\nEND:VEVENT\n", i, rule)
	})
	return "BEGIN:VCALENDAR\n" + text + "END:VCALENDAR\n"
}

const firstDay = "; only its first day is taken"

// hostile are texts that are made to keep a reader busy, and what has to be
// said of each.
var hostile = map[string]struct{ text, says string }{
	"one line": {"BEGIN:VCALENDAR\nSUMMARY:" + strings.Repeat("x", 5<<20), "only the first 5 MB were read"},
	"folded line": {"BEGIN:VCALENDAR\nSUMMARY:" + upTo5MB(func(int) string { return "x\n " }),
		"only the first 200000 lines were read"},
	"long lines":         {"BEGIN:VCALENDAR\nBEGIN:VEVENT\n" + upTo5MB(func(int) string { return "SUMMARY:" + strings.Repeat("x", 70_000) + "\n" }), "the line is longer than 64 KB"},
	"parameters":         {"BEGIN:VCALENDAR\nBEGIN:VEVENT\n" + upTo5MB(func(int) string { return "SUMMARY" + strings.Repeat(";A=B", 16_000) + ":x\n" }), "this line cannot be read: it has more than 20 parameters"},
	"long head":          {"BEGIN:VCALENDAR\nBEGIN:VEVENT\nSUMMARY;A=\"" + upTo5MB(func(int) string { return ":;" })[:60_000] + "\":x\n", "this line cannot be read: its parameters are longer than 1 KB"},
	"deep":               {"BEGIN:VCALENDAR\n" + upTo5MB(func(int) string { return "BEGIN:X\n" }), "components stand too deep in each other"},
	"deep events":        {"BEGIN:VCALENDAR\n" + upTo5MB(func(int) string { return "BEGIN:VEVENT\n" }), "the END:VEVENT of this one is missing; it is read up to line 3"},
	"ends":               {"BEGIN:VCALENDAR\n" + upTo5MB(func(int) string { return "END:VEVENT\n" }), "nothing of this name is open here"},
	"for ever":           {calendarOf(1, func(int) string { return "DTSTART:20270101T000000\r\nRRULE:FREQ=SECONDLY" }), "what repeats by the second is not taken" + firstDay},
	"many by the second": {inEvents("RRULE:FREQ=SECONDLY"), "what repeats by the second is not taken" + firstDay},
	"all seconds": {inEvents("RRULE:FREQ=DAILY;BYHOUR=" + counting(24) + ";BYMINUTE=" + counting(60) + ";BYSECOND=" + counting(60)),
		"it takes place more than 24 times a day" + firstDay},
	"daily":       {inEvents("RRULE:FREQ=DAILY"), "only the first 50000 events are taken; this one and those after it are not"},
	"never":       {inEvents("RRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30"), errNever.Error() + firstDay},
	"never daily": {inEvents("RRULE:FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30"), errEffort.Error() + firstDay},
	"odd years":   {inEvents("RRULE:FREQ=YEARLY;INTERVAL=10000;BYMONTH=2;BYMONTHDAY=29"), errNever.Error() + firstDay},
	"interval":    {inEvents("RRULE:FREQ=DAILY;INTERVAL=9223372036854775807"), "INTERVAL cannot be \"9223372036854775807\"" + firstDay},
	"count":       {inEvents("RRULE:FREQ=DAILY;COUNT=9223372036854775807"), errEffort.Error() + firstDay},
	"long list":   {inEvents("RRULE:FREQ=YEARLY;BYYEARDAY=" + counting(300)), "the rule is longer than 1 KB" + firstDay},
	"values":      {inEvents("RRULE:FREQ=YEARLY;BYYEARDAY=1" + strings.Repeat(",1", 450)), errEffort.Error() + firstDay},
	"rules":       {"BEGIN:VCALENDAR\nBEGIN:VEVENT\nDTSTART:20270101T000000\n" + upTo5MB(func(int) string { return "RRULE:FREQ=DAILY;X-A=" + strings.Repeat("x", 100) + "\n" })[:5_000_000] + "\nEND:VEVENT\n", errEffort.Error() + firstDay},
	"year 1":      {calendarOf(90, func(int) string { return "DTSTART:00010101T000000\r\nRRULE:FREQ=DAILY;COUNT=1000000" }), errEffort.Error() + firstDay},
	"events": {"BEGIN:VCALENDAR\n" + upTo5MB(func(i int) string { return "BEGIN:VEVENT\nDTSTART:20270503\nEND:VEVENT\n" }),
		"only the first 200000 lines were read"},
	"exceptions": {"BEGIN:VCALENDAR\nBEGIN:VEVENT\nDTSTART:20270503\n" + upTo5MB(func(int) string { return "EXDATE:20270503" + strings.Repeat(",x", 10) + "\n" }) + "END:VEVENT\n",
		"an exception cannot be read: \"x\" is no day of the calendar"},
	"days": {"BEGIN:VCALENDAR\nBEGIN:VEVENT\nDTSTART:20270503\n" + upTo5MB(func(i int) string { return "RDATE:" + d(2027, 1, 1).AddDays(i%365).String() + "T1201\n" }) + "END:VEVENT\n",
		"the text ends inside this event, so the rest of it is missing"},
	"zones": {"BEGIN:VCALENDAR\n" + upTo5MB(func(i int) string {
		return fmt.Sprintf("BEGIN:VEVENT\nDTSTART;TZID=Nowhere/%d:20270503T120000\nEND:VEVENT\n", i)
	}), "there are more than 200 zones; hours in this one are taken as America/Detroit"},
	"described zones": {"BEGIN:VCALENDAR\n" + upTo5MB(func(i int) string {
		return fmt.Sprintf("BEGIN:VTIMEZONE\nTZID:%d\nBEGIN:STANDARD\nDTSTART:00010101T000000\nTZOFFSETFROM:+0000\nTZOFFSETTO:+0000\nRRULE:FREQ=DAILY\nEND:STANDARD\nEND:VTIMEZONE\nBEGIN:VEVENT\nDTSTART;TZID=%d:20270503T120000\nEND:VEVENT\n", i, i)
	}), "this time zone is not known and not described; its hours are taken as America/Detroit"},
	"same again": {"BEGIN:VCALENDAR\n" + upTo5MB(func(int) string { return "BEGIN:VEVENT\nUID:1\nDTSTART:20270503\nEND:VEVENT\n" }), "it stands on line 2 too"},
	"replaced": {"BEGIN:VCALENDAR\n" + upTo5MB(func(i int) string {
		return fmt.Sprintf("BEGIN:VEVENT\nUID:1\nRECURRENCE-ID:%sT%02d%02d00\nDTSTART:20270503\nEND:VEVENT\n", strings.ReplaceAll(d(1990, 1, 1).AddDays(i/1440).String(), "-", ""), i/60%24, i%60)
	}), "only the first 200000 lines were read"},
	"masters and replaced": {"BEGIN:VCALENDAR\n" + upTo5MB(func(i int) string {
		stamp := fmt.Sprintf("%sT%02d%02d00", strings.ReplaceAll(d(2027, 1, 1).AddDays(i/1440).String(), "-", ""), i/60%24, i%60)
		return "BEGIN:VEVENT\nUID:1\nDTSTART:" + stamp + "\nEND:VEVENT\nBEGIN:VEVENT\nUID:1\nRECURRENCE-ID:" + stamp + "\nDTSTART:20270503\nEND:VEVENT\n"
	}), "only the first 200000 lines were read"},

	"table":             {"name,date\n" + upTo5MB(func(int) string { return "x,2027-05-03\n" }), "only the first 200000 lines were read"},
	"table events":      {"name,date\n" + upTo5MB(func(int) string { return "Spring Parade in May,2027-05-03\n" }), "only the first 50000 events are taken; this one and those after it are not"},
	"quotes":            {"name,date\n" + upTo5MB(func(int) string { return "\"a\n" }), "the row cannot be read: a quotation mark is not closed"},
	"open quote":        {"name,date\n\"" + upTo5MB(func(int) string { return "a\n" }), "the row cannot be read: a quotation mark is not closed"},
	"cells":             {"name,date\n" + upTo5MB(func(int) string { return "," })[:60_000] + "\n", "the row cannot be read: it has more than 200 cells"},
	"cells of headings": {strings.Repeat(upTo5MB(func(int) string { return "name,date," })[:60_000]+"\n", 80), ""},
	"long row":          {"name,date\n" + upTo5MB(func(int) string { return "xxxxxxxxxx" }), "the row cannot be read: it is longer than 64 KB"},
	"no days":           {"name,date\n" + upTo5MB(func(int) string { return "a,99/99/9999\n" }), "\"99/99/9999\" is no day of the calendar"},
}

// counting is 0,1,2 and so on, n of them.
func counting(n int) string {
	var all []string
	for i := range n {
		all = append(all, fmt.Sprint(i))
	}
	return strings.Join(all, ",")
}

// Whatever is hostile is back at once, within the bounds, and says what was
// refused. No time is held against it here: that a text stalls shows when the
// tests run out of theirs.
func TestHostileTexts(t *testing.T) {
	for name, h := range hostile {
		t.Run(name, func(t *testing.T) {
			began := time.Now()
			l, err := ReadEvents(strings.NewReader(h.text), year2027(t, name))
			t.Logf("%d bytes: %d events, %d left out, %v", len(h.text), len(l.Events), len(l.LeftOut)+l.More, time.Since(began))
			if h.says == "" {
				if err == nil {
					t.Error("no error")
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			checkBounds(t, l)
			if !says(l, h.says) {
				t.Errorf("does not say %q; left out are %v", h.says, l.LeftOut[:min(5, len(l.LeftOut))])
			}
		})
	}
}

func says(l Listing, reason string) bool {
	for _, o := range l.LeftOut {
		if o.Reason == reason {
			return true
		}
	}
	return false
}

// checkBounds holds a listing against what every listing must be.
func checkBounds(t *testing.T, l Listing) {
	t.Helper()
	if len(l.Events) > maxEvents || len(l.LeftOut) > maxLeftOut || l.More > 0 && len(l.LeftOut) < maxLeftOut {
		t.Errorf("%d events, %d and %d left out", len(l.Events), len(l.LeftOut), l.More)
	}
	for i, e := range l.Events {
		switch {
		case e.What == "" || e.Kind == "" || e.Status == "" || e.Source.Line < 1:
			t.Fatalf("something is missing in %+v", e)
		case e.To.Before(e.From) || !e.From.Exists() || !e.To.Exists() || e.To.Before(d(2027, 1, 1)) || e.From.After(d(2027, 12, 31)):
			t.Fatalf("%s to %s", e.From, e.To)
		case e.End != nil && e.Start == nil, e.From == e.To && e.Start != nil && e.End != nil && compareClocks(e.Start, e.End) > 0 && !e.End.Again:
			t.Fatalf("from %v to %v on %s", e.Start, e.End, e.From)
		case i > 0 && e.From.Before(l.Events[i-1].From):
			t.Fatalf("%s stands after %s", e.From, l.Events[i-1].From)
		}
		for _, text := range []string{e.What, e.Place.Name, e.Place.City, e.Note} {
			if clean(text, maxNote) != text {
				t.Fatalf("%q is not clean", text)
			}
		}
	}
	for _, o := range l.LeftOut {
		if o.Reason == "" || clean(o.What, maxName) != o.What {
			t.Fatalf("%+v is not clean", o)
		}
	}
}

func FuzzReadCalendar(f *testing.F) {
	addFiles(f, "../testdata/events/*.ics")
	f.Fuzz(func(t *testing.T, text []byte) {
		defer time.AfterFunc(10*time.Second, func() { panic("reading a calendar stalls") }).Stop()
		if l, err := ReadCalendar(bytes.NewReader(text), year2027(t, "fuzz")); err == nil {
			checkBounds(t, l)
		}
	})
}

func FuzzReadTable(f *testing.F) {
	addFiles(f, "../testdata/events/*.csv")
	f.Fuzz(func(t *testing.T, text []byte) {
		defer time.AfterFunc(10*time.Second, func() { panic("reading a table stalls") }).Stop()
		if l, err := ReadTable(bytes.NewReader(text), year2027(t, "fuzz")); err == nil {
			checkBounds(t, l)
		}
	})
}

// The time for four times as many events is to be about four times as long:
// compare N with 4N.
func BenchmarkReadCalendar(b *testing.B) {
	for _, n := range []int{5_000, 20_000} {
		text := calendarOf(n, func(i int) string {
			day := strings.ReplaceAll(d(2027, 1, 1).AddDays(i%365).String(), "-", "")
			return fmt.Sprintf("UID:%d@town.example.org\r\nDTSTART;TZID=America/Detroit:%sT190000\r\nDTEND;TZID=America/Detroit:%sT220000\r\nSUMMARY:Concert %d\r\nLOCATION:Net Hall", i, day, day, i)
		})
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				if l, err := ReadCalendar(strings.NewReader(text), year2027(b, "bench")); err != nil || len(l.Events) != n {
					b.Fatal(len(l.Events), l.LeftOut, err)
				}
			}
		})
	}
}

func BenchmarkReadTable(b *testing.B) {
	for _, n := range []int{10_000, 40_000} {
		var text strings.Builder
		text.WriteString("name,date,place\n")
		for i := range n {
			fmt.Fprintf(&text, "Concert %d,%s,Net Hall\n", i, d(2027, 1, 1).AddDays(i%365))
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.SetBytes(int64(text.Len()))
			for b.Loop() {
				if l, err := ReadTable(strings.NewReader(text.String()), year2027(b, "bench")); err != nil || len(l.Events) != n {
					b.Fatal(len(l.Events), l.LeftOut, err)
				}
			}
		})
	}
}
