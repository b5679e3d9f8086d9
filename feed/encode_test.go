package feed_test

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"banns/feed"
	"banns/feed/check"
	"banns/milestones"
)

// nasty are texts that have broken calendars.
var nasty = []string{
	"two\r\nlines", "bare\rCR", "bare\nLF", "nul\x00bell\a", "next\u0085line\u2028para\u2029graph", "tab\there",
	`say "it" isn't`, `back\slash`, "semi;colon, comma: colon", "END:VEVENT\r\nEND:VCALENDAR\r\nBEGIN:VCALENDAR",
	"x\r\nBEGIN:VEVENT\r\nSUMMARY:injected", "👰🏽‍♀️🤵🏿 rings 💍💍", "שלום וברכה مرحبا", "not\xffUTF\xc3(8", "\uFEFFmark",
	strings.Repeat("word ", 100), strings.Repeat("é", 400), strings.Repeat("unbroken", 125), " leading", "trailing ", "<b>html</b>",
}

// nastyPlan has one of the texts wherever a plan has text.
func nastyPlan(s string) *milestones.Plan {
	price := milestones.Money(100_000)
	line := func(says string) milestones.Line {
		return milestones.Line{Says: says, What: s, Note: s, Wording: s}
	}
	when := milestones.Timing{Says: "3 days before the wedding"}
	meet := milestones.Meeting{Key: "m", What: s, When: when, Place: milestones.Place{Name: s, City: s}, Note: s, At: hm(9, 0)}
	return &milestones.Plan{ID: "w",
		Wedding: milestones.Wedding{Title: s, Date: d(2027, 9, 18), Zone: detroit, Currency: "USD", Start: hm(16, 0),
			Place: milestones.Place{Name: s, City: s, At: &[2]float64{44.76, -85.62}}},
		People: []milestones.Person{{Key: "ana", Name: s, Part: milestones.Couple, Email: s, Phone: s},
			{Key: "june", Name: s, Part: milestones.Vendor, Email: s, Phone: s}},
		Agreements: []milestones.Agreement{{Key: "a", With: s, Standing: milestones.Signed, Signed: d(2026, 10, 2),
			Price: milestones.Price{Sum: &price}, Payer: "ana", Contact: "june",
			Pay:    []milestones.Payment{{Line: line("security 300 on 2027-03-02, back 10 days after the wedding")}, {Line: line("balance 14 days before the wedding")}},
			Cancel: []milestones.CancelStep{{Line: line("50% until 2027-04-01")}, {Line: line("100% after that")}},
			Change: []milestones.ChangeBy{{Line: line("headcount 9 days before the wedding by 17:00")}},
			Papers: []milestones.Paper{{Line: line("plan within 9 days of the wedding")}}}},
		Appointments: []milestones.Appointment{{Meeting: meet}},
		Countdown:    milestones.Countdown{Add: []milestones.Milestone{{Key: "c", What: s, When: when, Note: s}}},
	}
}

// TestNastyTexts demands that every reader gets every text back as it was,
// but for what no calendar can carry.
func TestNastyTexts(t *testing.T) {
	all := feed.Calendar{Name: "Nasty"}
	for n, text := range nasty {
		p := nastyPlan(text)
		p.ID = string(rune('a' + n))
		if faults, _ := p.Read(); len(faults) > 0 {
			t.Fatal(faults)
		}
		items := milestones.Schedule(p, milestones.NoClosures{})
		for _, who := range []string{"ana", "june"} {
			c := calendarOf(p, items, who, feed.ByBoth)
			c.Name = text
			for _, fault := range check.Calendar(feed.Encode(c)) {
				t.Errorf("%.40q for %s: %s", text, who, fault)
			}
			all.Published = append(all.Published, c.Published...)
		}
	}
	sound(t, all)
}

// TestLooksEscaped has texts that look like escapes, and are none. One of
// the outside readers takes the second half of an escaped backslash and an n
// for a newline, so that only the other is asked.
func TestLooksEscaped(t *testing.T) {
	p := published(meeting(d(2027, 7, 10), nil, nil, ""))
	p.Title, p.Note, p.Link = `\n \N \, \; \\n \\\n`, `C:\new\`+"\n"+`\\,\\;`, ""
	c := feed.Calendar{Name: `\`, Published: []feed.Published{p}}
	got, err := check.ICalJS(feed.Encode(c))
	check.Need(t, err)
	if diff := cmp.Diff(eventsOf(c), got); diff != "" {
		t.Errorf("published (-) and read (+):\n%s", diff)
	}
}

// vevent is the properties of a feed's only entry, by name, with its alarm
// counted as VALARM.
func vevent(t *testing.T, p feed.Published) map[string]string {
	t.Helper()
	body := string(feed.Encode(feed.Calendar{Name: "One", Published: []feed.Published{p}}))
	for _, fault := range check.Calendar([]byte(body)) {
		t.Error(fault)
	}
	_, body, _ = strings.Cut(strings.ReplaceAll(body, "\r\n ", ""), "BEGIN:VEVENT\r\n")
	body, _, _ = strings.Cut(body, "END:VEVENT")
	event, _, alarm := strings.Cut(body, "BEGIN:VALARM")
	props := map[string]string{}
	if alarm {
		props["VALARM"] = "there"
	}
	for l := range strings.Lines(event) {
		name, value, _ := strings.Cut(strings.TrimSpace(l), ":")
		name, _, _ = strings.Cut(name, ";")
		props[name] = value
	}
	return props
}

func published(e feed.Entry) feed.Published {
	e.UID = "uid"
	return feed.Published{Entry: e, Alarm: true, Changed: stamp, Link: "https://banns.example/p/x"}
}

func TestWhatAnEntrySays(t *testing.T) {
	open := deadline(d(2027, 9, 2), hm(17, 0), detroit)
	meet := meeting(d(2027, 7, 10), hm(11, 0), nil, detroit)
	meet.Place = milestones.Place{Name: "The Net Loft", At: &[2]float64{44.76, -85.62}}
	for _, row := range []struct {
		name  string
		entry feed.Entry
		want  map[string]string // "" means the property is not there
	}{
		{"a deadline leaves a person free", open,
			map[string]string{"STATUS": "CONFIRMED", "TRANSP": "TRANSPARENT", "VALARM": "there", "URL": "https://banns.example/p/x", "LOCATION": ""}},
		{"what is quoted is not certain, and rings for nobody", with(open, func(e *feed.Entry) { e.Standing = milestones.Quoted }),
			map[string]string{"STATUS": "TENTATIVE", "VALARM": "", "SUMMARY": "Hollow Oak Table: final headcount by 17:00 (only quoted)"}},
		{"what is done rings no more", with(open, func(e *feed.Entry) { e.Done = d(2027, 9, 1) }),
			map[string]string{"STATUS": "CONFIRMED", "VALARM": "", "SUMMARY": "Done: Hollow Oak Table: final headcount"}},
		{"a notice is a reminder itself", with(open, func(e *feed.Entry) { e.Of = feed.Notice }),
			map[string]string{"TRANSP": "TRANSPARENT", "VALARM": ""}},
		{"an appointment makes a person busy", meet,
			map[string]string{"TRANSP": "OPAQUE", "VALARM": "there", "LOCATION": "The Net Loft", "GEO": "44.760000;-85.620000"}},
		{"what others are asked to", with(meet, func(e *feed.Entry) { e.For = "Priya Raman" }),
			map[string]string{"TRANSP": "TRANSPARENT", "VALARM": "", "SUMMARY": "Fitting (for Priya Raman)"}},
		{"the day itself needs no alarm", with(meet, func(e *feed.Entry) { e.Kind = milestones.KindWedding }),
			map[string]string{"TRANSP": "OPAQUE", "VALARM": "", "SUMMARY": "Fitting: the wedding"}},
	} {
		got := vevent(t, published(row.entry))
		for name, want := range row.want {
			if got[name] != want {
				t.Errorf("%s: %s is %q, want %q", row.name, name, got[name], want)
			}
		}
	}
}

// TestWithdrawnSaysNothingElse takes an entry off that had everything.
func TestWithdrawnSaysNothingElse(t *testing.T) {
	p := published(feed.Entry{Kind: milestones.KindPayment, Agreement: "a", Title: "Pay Hollow Oak Table: deposit", With: "Hollow Oak Table",
		Date: d(2027, 9, 2), ActBy: d(2027, 9, 2), HomeZone: detroit, Currency: "USD", Amount: milestones.Exactly(50_000), Rule: "500 on signing",
		Wording: "secret", Note: "secret", Payer: "Bea", Contact: "June", Questions: []string{"secret?"},
		Place: milestones.Place{Name: "somewhere", At: &[2]float64{1, 2}}})
	p.Withdrawn, p.Sequence = true, 4
	want := map[string]string{"UID": "uid", "DTSTAMP": "20261125T090000Z", "LAST-MODIFIED": "20261125T090000Z", "SEQUENCE": "4",
		"DTSTART": "20270902", "DTEND": "20270903", "SUMMARY": "Withdrawn: Pay Hollow Oak Table: deposit",
		"STATUS": "CANCELLED", "TRANSP": "TRANSPARENT"}
	if diff := cmp.Diff(want, vevent(t, p)); diff != "" {
		t.Error(diff)
	}
}

// TestEmptyCalendar is of somebody with nothing to do, or nothing dated: an
// answer with no calendar in it would empty their phone with an error.
func TestEmptyCalendar(t *testing.T) {
	undated := published(feed.Entry{Kind: milestones.KindPayment, Title: "Pay Hollow Oak Table", WaitsFor: "the invoice"})
	for _, c := range []feed.Calendar{{Name: "Empty"}, {Name: "Undated", Published: []feed.Published{undated}}} {
		body := feed.Encode(c)
		for _, fault := range check.Calendar(body) {
			t.Errorf("%s: %s", c.Name, fault)
		}
		t.Run("libical", func(t *testing.T) { check.Need(t, check.Libical(body)) })
		for _, reader := range outside {
			t.Run(reader.name, func(t *testing.T) {
				events, err := reader.read(body)
				check.Need(t, err)
				if len(events) > 0 {
					t.Errorf("%s: reads %v", c.Name, events)
				}
			})
		}
	}
}

// TestEncodeHasNoClock has the same bytes come out twice.
func TestEncodeHasNoClock(t *testing.T) {
	p, items := demo(t)
	c := calendarOf(p, items, "maren", feed.ByBoth)
	if !slices.Equal(feed.Encode(c), feed.Encode(c)) {
		t.Error("the same calendar has other bytes the second time")
	}
}

// TestEntryAsJSON keeps each field of an entry through the JSON that the
// ledger keeps.
func TestEntryAsJSON(t *testing.T) {
	late, slack := 3, 4
	full := feed.Published{Entry: feed.Entry{
		UID: "u", Of: feed.Notice, Wedding: "w", Among: true, HomeZone: detroit, ID: "i", Kind: milestones.KindPayment, Agreement: "a",
		Term: "t", Title: "ti", With: "wi", Vendor: true, Date: d(2027, 9, 18), Clock: hm(1, 30), Until: hm(2, 0), Zone: "America/Chicago",
		ActBy: d(2027, 9, 17), Shut: "Saturday", Again: true, For: "f", Place: milestones.Place{Name: "n", City: "c", At: &[2]float64{1.5, -2.25}},
		Standing: milestones.Replaced, Owed: true, Done: d(2027, 1, 2), WaitsFor: "x", LateBy: &late, Currency: "USD",
		Amount: milestones.Between(0, 5), Later: milestones.Exactly(7), Saves: milestones.AtLeast(2), Rule: "r", Wording: "wo", Note: "no",
		Questions: []string{"q"}, Payer: "p", Yours: true, Contact: "co",
		Slack: &slack, Aim: &milestones.Aim{Earliest: d(2027, 9, 1), Why: []string{"y"}}},
		Link: "l", Alarm: true, Brief: true, Sequence: 9, Changed: stamp, Withdrawn: true}
	for _, v := range []reflect.Value{reflect.ValueOf(full), reflect.ValueOf(full.Entry)} {
		for n := range v.NumField() {
			if v.Field(n).IsZero() {
				t.Errorf("this test leaves %s empty, and cannot tell whether it is kept", v.Type().Field(n).Name)
			}
		}
	}
	text, err := json.Marshal(full)
	if err != nil {
		t.Fatal(err)
	}
	var back feed.Published
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(full, back); diff != "" {
		t.Error(diff)
	}
}

// TestViewAsJSON does so for every entry of the demo plan, and for one in the
// second pass of an hour.
func TestViewAsJSON(t *testing.T) {
	p, items := demo(t)
	items = append(items, milestones.Item{ID: "again", Kind: milestones.KindMilestone, Title: "Again",
		Moment: milestones.Moment{Date: d(2027, 11, 7), Clock: &milestones.Clock{Hour: 1, Minute: 30, Again: true}, Zone: detroit}})
	for _, who := range p.People {
		entries := feed.View(p, items, who.Key)
		text, err := json.Marshal(entries)
		if err != nil {
			t.Fatal(err)
		}
		var back []feed.Entry
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(entries, back); diff != "" {
			t.Error(diff)
		}
	}
}
