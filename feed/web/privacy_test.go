package web_test

import (
	"regexp"
	"strings"
	"testing"

	"banns/feed"
)

// secret adds to a plan, whose lines have keys, what one person may not see,
// or changes it. Two plans that differ only in it serve that person the same.
type secret struct {
	who, what string
	seenBy    string // somebody whose calendar shows it; empty: nobody's does
	old, new  string
}

var secrets = []secret{
	{"priya", "a price", "ida", `price: "1200.00"`, `price: "9900.00"`},
	{"priya", "a payment", "ida", "pay:\n", "pay:\n      - {key: p9, says: 10% 7 weeks before the wedding}\n"},
	{"priya", "a cancel step", "ida", "cancel:\n", "cancel:\n      - {key: c9, says: 20% until 80 days before the wedding}\n"},
	{"priya", "a note on money", "ida", "for: [priya]}", "for: [priya], note: It costs 40 more}"},
	{"priya", "a wording", "ida", "for: [priya]}", "for: [priya], wording: For 12.00 a head}"},
	{"priya", "somebody's diet", "", "part: couple}", "part: couple, diet: no walnuts}"},
	{"priya", "an agreement", "ida", "agreements:\n", secretAgreement},
	{"priya", "a candidate date", "", "\ncountdown:", "\ncandidates: [2027-09-18, 2027-10-02]\ncountdown:"},
	{"ivo", "a surprise from him", "gus", "appointments:\n", "appointments:\n  surprise: {what: Surprise party, on: 2027-08-01, for: [helper], hide from: [couple]}\n"},
	{"ivo", "a hidden agreement", "", "agreements:\n", strings.Replace(secretAgreement, "service:", "hide from: [couple]\n    service:", 1)},
	{"cook", "the cancel steps", "ida", "100% after that", "90% after that"},
	{"cook", "another vendor", "ida", "agreements:\n", secretAgreement},
}

const secretAgreement = `agreements:
  choir:
    with: The Low Choir
    service: music
    standing: signed
    signed: 2026-10-02
    price: "800.00"
    pay:
      - {key: q1, says: balance 3 weeks before the wedding}
    change:
      - {key: q2, says: songs 3 weeks before the wedding by 12:00}
    note: Loud
`

const secretsPlan = `banns: 1
wedding: {id: 0123456789abcdef, title: Ida and Ivo, date: 2027-09-18, start: "16:30", zone: America/Detroit, currency: USD}
people:
  ida:   {name: Ida Rook, part: couple}
  ivo:   {name: Ivo Rook, part: couple}
  priya: {name: Priya Nair, part: attendant}
  cook:  {name: Cass Oakes, part: vendor}
  gus:   {name: Gus Hale, part: helper}
agreements:
  food:
    with: Hollow Oak Table
    service: catering
    standing: signed
    signed: 2026-10-02
    price: "1200.00"
    contact: cook
    pay:
      - {key: p1, says: 25% on signing}
      - {key: p2, says: balance 14 days before the wedding}
    cancel:
      - {key: c1, says: 50% until 91 days before the wedding}
      - {key: c2, says: 100% after that}
    change:
      - {key: h1, says: "menu choice 60 days before the wedding", for: [priya]}
appointments:
  fitting: {what: First fitting, on: 2027-07-10, at: "11:00", for: [priya]}
countdown: {planning from: 2026-10-01}
`

// served is all that a server gives one person, with their address left out:
// each store has its own.
func served(t *testing.T, s *site, who string) map[string]string {
	t.Helper()
	said := map[string]string{}
	for name, url := range map[string]string{"page": s.page(who), "calendar": s.calendar(who), "packed": s.calendar(who)} {
		coding := "identity"
		if name == "packed" {
			coding = "gzip"
		}
		a := get(t, url, "Accept-Encoding", coding).wants(t, 200)
		a.Header.Del("Date")
		if name == "page" {
			a.Header.Del("Content-Length") // the square code is longer for one address than for another
		}
		var all strings.Builder
		if err := a.Header.Write(&all); err != nil {
			t.Fatal(err)
		}
		all.WriteString(a.body)
		said[name] = squares.ReplaceAllString(strings.NewReplacer(s.URL, "SITE", strings.TrimPrefix(s.URL, "http:"), "SITE", s.tokens[who], "TOKEN").Replace(all.String()), "SQUARE")
	}
	return said
}

func TestWhatIsHiddenChangesNothing(t *testing.T) {
	for _, x := range secrets {
		plan := strings.Replace(secretsPlan, x.old, x.new, 1)
		if plan == secretsPlan {
			t.Fatalf("%s: nothing was changed", x.what)
		}
		plain, other := newSite(t, secretsPlan), newSite(t, plan)
		for _, reminders := range []feed.Reminders{feed.ByAlarm, feed.ByBoth} {
			for _, s := range []*site{plain, other} {
				if err := s.store.SetReminders(t.Context(), s.tokens[x.who], reminders, winter); err != nil {
					t.Fatal(err)
				}
				s.serve(t, "")
			}
			want, got := served(t, plain, x.who), served(t, other, x.who)
			for name := range want {
				if got[name] != want[name] {
					t.Errorf("%s sees %s in the %s:\n%s", x.who, x.what, name, difference(want[name], got[name]))
				}
			}
		}
		if x.seenBy != "" && served(t, plain, x.seenBy)["calendar"] == served(t, other, x.seenBy)["calendar"] {
			t.Errorf("%s makes no difference to %s: nothing is proved", x.what, x.seenBy)
		}
	}
}

// An edit that somebody may not see changes nothing of theirs either.
func TestHiddenEditChangesNothing(t *testing.T) {
	for _, x := range secrets {
		s := newSite(t, secretsPlan)
		allAsked(t, s)
		before := served(t, s, x.who)
		s.take(t, s.store, strings.Replace(secretsPlan, x.old, x.new, 1))
		s.serve(t, "")
		after := served(t, s, x.who)
		for name := range before {
			if after[name] != before[name] {
				t.Errorf("%s sees the edit of %s in the %s:\n%s", x.who, x.what, name, difference(before[name], after[name]))
			}
		}
		if x.seenBy != "" && len(told(t, s, x.seenBy)) == 0 {
			t.Errorf("%s is not told of %s: nothing is proved of what changed lately", x.seenBy, x.what)
		}
	}
}

// squares are the square codes, which hold the address too.
var squares = regexp.MustCompile(`<path fill="#000" d="[^"]*"/>`)

// difference is the first line in which two texts differ.
func difference(a, b string) string {
	one, two := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(one), len(two)) {
		if one[i] != two[i] {
			return one[i] + "\n" + two[i]
		}
	}
	return "one is longer"
}
