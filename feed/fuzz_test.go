package feed_test

import (
	"bytes"
	"testing"

	ics "github.com/arran4/golang-ical"

	"banns/feed"
	"banns/feed/check"
	"banns/milestones"
)

// FuzzEncode puts any text wherever an entry has text, and wants a sound
// calendar from which every text can be read again.
func FuzzEncode(f *testing.F) {
	for _, text := range nasty {
		f.Add(text, text, 2027, true)
	}
	f.Fuzz(func(t *testing.T, one, two string, year int, timed bool) {
		if len(one)+len(two) > 5000 {
			return // a feed stays under 1 MB, which check.Calendar would say
		}
		e := feed.Entry{Kind: milestones.KindAppointment, Wedding: one, HomeZone: detroit, Title: "x" + one, With: two,
			Date: d(1970+low(year)%130, 7, 10), Place: milestones.Place{Name: one, City: two}, Note: two, Rule: one, Wording: two,
			Questions: []string{one, two}, Payer: one, Contact: two}
		if timed {
			e.Clock, e.Zone = hm(low(year)%24, 30), detroit
		}
		p := published(e)
		p.Link += link(one)
		c := feed.Calendar{Name: "x" + two, Published: []feed.Published{p}}
		body := feed.Encode(c)
		for _, fault := range check.Calendar(body) {
			t.Error(fault)
		}
		back, err := ics.ParseCalendar(bytes.NewReader(body))
		if err != nil || len(back.Events()) != 1 {
			t.Fatalf("reads %d events: %v", len(back.Events()), err)
		}
		want, got := eventsOf(c)[0], back.Events()[0]
		for name, text := range map[ics.ComponentProperty]string{"SUMMARY": want.Summary, "DESCRIPTION": want.Description, "LOCATION": want.Location} {
			if prop := got.GetProperty(name); text != "" && (prop == nil || prop.Value != text) {
				t.Errorf("%s is read back as %+v, want %q", name, prop, text)
			}
		}
	})
}

// low is the low bits of n.
func low(n int) int { return n & 0xffff }

// link keeps letters, so that the address in DESCRIPTION and URL is the same.
func link(s string) string {
	return string(bytes.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' {
			return r
		}
		return -1
	}, []byte(s)))
}
