package store_test

import (
	"errors"
	"reflect"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/google/go-cmp/cmp"

	"banns/milestones"
	"banns/store"
	"banns/testdata"
)

// head is the least that a plan file has, on three lines.
const head = `banns: 1
wedding: {title: Maren and Theo, date: 2027-09-18, zone: America/Detroit, currency: USD}
people: {maren: {name: Maren, part: couple}, june: {name: June, part: vendor}}
`

// hall is an agreement as far as its terms, on lines 4 to 8.
const hall = head + `agreements:
  hall:
    with: The Net Loft
    standing: signed
    signed: 2026-08-21
`

// faultsOf are the faults of a plan file, a line each. A file that cannot be
// read in a minute has stalled the reader.
func faultsOf(t *testing.T, text string) []string {
	t.Helper()
	ended := make(chan error, 1)
	go func() {
		_, err := store.ReadPlan("plan", []byte(text))
		ended <- err
	}()
	var err error
	select {
	case err = <-ended:
	case <-time.After(time.Minute):
		t.Fatal("the reader stalls")
	}
	var faults store.Faults
	if err != nil && !errors.As(err, &faults) {
		t.Fatalf("%T is no list of faults: %v", err, err)
	}
	var lines []string
	for _, f := range faults {
		lines = append(lines, f.Error())
	}
	return lines
}

type faulty struct {
	name, text string
	want       []string
}

func wantFaults(t *testing.T, rows []faulty) {
	t.Helper()
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			if diff := cmp.Diff(row.want, faultsOf(t, row.text)); diff != "" {
				t.Errorf("faults (-want +got):\n%s", diff)
			}
		})
	}
}

func TestNoPlanAtAll(t *testing.T) {
	utf16Text := func(order func(uint16) []byte) string {
		var b strings.Builder
		for _, u := range utf16.Encode([]rune("\ufeff" + head)) {
			b.Write(order(u))
		}
		return b.String()
	}
	little := utf16Text(func(u uint16) []byte { return []byte{byte(u), byte(u >> 8)} })
	big := utf16Text(func(u uint16) []byte { return []byte{byte(u >> 8), byte(u)} })
	const isNot, start = "this is no plan: it does not begin with key: value lines", `; "banns new" writes one to start from`
	wantFaults(t, []faulty{
		{"empty", "", []string{"plan: the file is empty" + start}},
		{"blank", " \n\t\n", []string{"plan: the file is empty" + start}},
		{"only a comment", "# soon\n", []string{"plan: the file holds no plan" + start}},
		{"a scalar", "hello", []string{"plan:1: " + isNot + start}},
		{"a list", "\n- a\n- b\n", []string{"plan:2: " + isNot + start}},
		{"null", "null\n", []string{"plan:1: " + isNot + start}},
		{"UTF-16, little end first", little, []string{"plan: the file is not UTF-8 text; save it as UTF-8 text"}},
		{"UTF-16, big end first", big, []string{"plan: the file is not UTF-8 text; save it as UTF-8 text"}},
		{"NUL", head + "\x00", []string{"plan: the file is not UTF-8 text; save it as UTF-8 text"}},
		{"Latin-1", head + "# caf\xe9\n", []string{"plan:4: this line is not UTF-8 text; save it as UTF-8"}},
		{"5 MB", head + strings.Repeat("# a plan does not need this\n", 5<<20/28),
			[]string{"plan: the file has 5243037 bytes, more than the 1048576 that are read; keep one wedding in a file"}},
		{"two documents", head + "---\nbanns: 1\n", []string{"plan:4: a second document begins here; keep one wedding in a file"}},
		{"a second document that is broken", head + "---\nbanns: [\n",
			[]string{"plan:6: this is not YAML: did not find expected node content; phrases with commas or colons stand in quotes"}},
		{"not YAML in braces", "banns: 1\nwedding: {title: a: b}\n",
			[]string{"plan:2: this is not YAML: did not find expected ',' or '}'; phrases with commas or colons stand in quotes"}},
		{"not YAML on a line", "banns: 1\nwedding:\n  title: a: b\n",
			[]string{"plan:3: this is not YAML: mapping values are not allowed in this context; phrases with commas or colons stand in quotes"}},
		{"not YAML by its indent", "banns: 1\nwedding:\n  title: a\n date: open\n",
			[]string{"plan:4: this is not YAML: did not find expected key; phrases with commas or colons stand in quotes"}},
		{"another form", strings.Replace(head, "banns: 1", "banns: 2", 1),
			[]string{`plan:1 banns: this program reads plan files of form 1, not "2"; write banns: 1`}},
	})
}

// TestBombs has files that have stalled some reader of YAML.
func TestBombs(t *testing.T) {
	const deep = "plan:1: brackets nest deeper than a plan ever does; close the brackets"
	laughs := head + "x0: &x0 [a]\n"
	for n := 'a'; n < 'a'+20; n++ {
		laughs += string(n) + ": &" + string(n) + " [" + strings.Repeat("*x0, ", 9) + "*x0]\n"
	}
	for _, bomb := range []struct{ name, text, first string }{
		{"200 KB of [", strings.Repeat("[", 200_000), deep},
		{"200 KB of {", strings.Repeat("{", 200_000), deep},
		{"200 KB of {a: [", strings.Repeat("{a: [", 40_000), deep},
		{"200 KB of -", strings.Repeat("- ", 100_000), "plan: this is not YAML: exceeded max depth of 10000; phrases with commas or colons stand in quotes"},
		{"200 KB of ?", strings.Repeat("? ", 100_000), "plan: this is not YAML: exceeded max depth of 10000; phrases with commas or colons stand in quotes"},
		{"aliases of aliases", laughs, `plan:4 x0: "x0" means nothing here; known here are: banns, wedding, people, agreements, appointments, occasions, countdown, licence, candidates, away`},
		{"itself", "banns: &a [*a]\n", "plan wedding: the wedding is missing; write at least its title, date, zone and currency"},
		{"one long phrase", hall + "    pay: [" + strings.Repeat("25% ", 100_000) + "]\n",
			"plan:9 agreements/hall/pay[1]: the phrase is longer than 500 letters; say it in one short line, and keep the contract's own sentence beside it as its wording"},
		{"a phrase with all words in doubt", hall + "    change: [" + strings.Repeat("within ", 70) + "]\n", ""},
		{"many comments", strings.Repeat("#\n", 500_000) + head + "x: 1\n",
			`plan:500004 x: "x" means nothing here; known here are: banns, wedding, people, agreements, appointments, occasions, countdown, licence, candidates, away`},
	} {
		t.Run(bomb.name, func(t *testing.T) {
			faults := faultsOf(t, bomb.text)
			if len(faults) == 0 || bomb.first != "" && faults[0] != bomb.first {
				t.Errorf("got %.300q, want first %q", faults, bomb.first)
			}
		})
	}
}

// TestManyLines stays linear: 4,000 lines, and people to match.
func TestManyLines(t *testing.T) {
	text := hall + "    change:\n"
	for range 4000 {
		text += "      - {says: menu 3 days befre the wedding, for: [nobody-at-all]}\n"
	}
	if got := len(faultsOf(t, text)); got != 4000 {
		t.Errorf("%d faults, want one a line", got)
	}
}

func TestReads(t *testing.T) {
	for _, row := range []struct{ name, text string }{
		{"BOM", "\ufeff" + head},
		{"CRLF", strings.ReplaceAll(hall+"    pay:\n      - 25% on signing\n      - balance 14 days before the wedding\n", "\n", "\r\n")},
		{"explicit document", "---\n" + head + "...\n"},
		{"a wedding without a date", strings.Replace(head, "2027-09-18", "open", 1)},
		{"no people", "banns: 1\nwedding: {title: A, zone: UTC, currency: JPY}\n"},
		{"words that are booleans elsewhere", head + `
occasions: {on: {what: Yes, on: 2027-09-17, at: 17:30, for: [y]}, "no": {what: No, "on": 2027-09-17}}`},
		{"sections left empty", head + "agreements:\nappointments: ~\ncountdown:\naway: []\n"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if faults := faultsOf(t, row.text); len(faults) > 0 {
				t.Errorf("faults:\n%s", strings.Join(faults, "\n"))
			}
		})
	}
}

// TestText has scalars that YAML would make into numbers, dates or booleans.
func TestText(t *testing.T) {
	doc, err := store.ReadPlan("plan", []byte(hall+`
    price: 010
    pay:
      - {says: 5 on signing, amount: 0123.5, done: 2026-08-21}
    dates: {on: 2027-01-02, off: open}
    note: 1e3
occasions: {on: {what: 0x10, on: 2027-09-17, at: 17:30, note: 1_000}}
`))
	if err != nil {
		t.Fatal(err)
	}
	a, m := doc.Plan.Agreements[0], doc.Plan.Occasions[0]
	for _, row := range []struct{ what, got, want string }{
		{"price: 010", doc.Plan.Wedding.Currency.Plain(*a.Price.Sum), "10.00"},
		{"amount: 0123.5", doc.Plan.Wedding.Currency.Plain(*a.Pay[0].Amount), "123.50"},
		{"note: 1e3", a.Note, "1e3"},
		{"a date named on", a.Dates[0].Name + " " + a.Dates[0].Date.String(), "on 2027-01-02"},
		{"a date named off", a.Dates[1].Name + " " + a.Dates[1].Date.String(), "off "},
		{"what: 0x10", m.What, "0x10"},
		{"key on", m.Key, "on"},
		{"at: 17:30", m.At.String(), "17:30"},
		{"note: 1_000", m.Note, "1_000"},
	} {
		if row.got != row.want {
			t.Errorf("%s is read as %q, want %q", row.what, row.got, row.want)
		}
	}
}

// TestSettled has the marks of what is done in all their forms.
func TestSettled(t *testing.T) {
	doc, err := store.ReadPlan("plan", []byte(hall+`
    price: {each: "100", at least: 10}
    pay:
      - {says: 3 equal payments monthly from 2027-03-01, done: [2027-03-01, 2027-04-02], amount: 300}
      - {says: "security 500 on signing, back on 2027-09-30", done: 2026-08-21, back: 2027-10-01}
    change:
      - {says: headcount on 2027-09-01, given: 118}
`))
	if err != nil {
		t.Fatal(err)
	}
	a := doc.Plan.Agreements[0]
	parts, security := a.Pay[0], a.Pay[1]
	want := []milestones.Date{{Year: 2027, Month: 3, Day: 1}, {Year: 2027, Month: 4, Day: 2}}
	if !parts.Done.IsZero() || cmp.Diff(want, parts.DoneParts) != "" {
		t.Errorf("of the equal payments %v were done, want %v", parts.DoneParts, want)
	}
	if security.Done.String() != "2026-08-21" || security.CameBack.String() != "2027-10-01" || a.Change[0].Given != 118 {
		t.Errorf("security was given on %s and came back on %s; %d guests", security.Done, security.CameBack, a.Change[0].Given)
	}
	wantFaults(t, []faulty{{"marks", hall + `    pay:
      - {says: balance on signing, done: [2027-03-01, soon]}
      - {says: security 500 on signing, back: soon}
`, []string{
		`plan:10 agreements/hall/pay[1]/done[2]: "soon" is no day of the calendar; write it as 2027-09-18`,
		`plan:10 agreements/hall/pay[1]: only equal payments are done in parts; write one day`,
		`plan:11 agreements/hall/pay[2]/back: "soon" is no day of the calendar; write it as 2027-09-18`,
	}}})
}

// everything compares all there is in two plans, anchors included.
var everything = cmp.Exporter(func(reflect.Type) bool { return true })

// again is what becomes of a plan that is written and read once more.
func again(t *testing.T, doc *store.Document) *milestones.Plan {
	t.Helper()
	text, err := doc.Text()
	if err != nil {
		t.Fatalf("write: %v", err)
	}
	back, err := store.ReadPlan("again", text)
	if err != nil {
		t.Fatalf("what was written does not read: %v\n%s", err, text)
	}
	return back.Plan
}

func TestDemoReads(t *testing.T) {
	doc, err := store.ReadPlan("demo", testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	if p := doc.Plan; len(p.People) != 22 || len(p.Agreements) != 17 {
		t.Errorf("%d people and %d agreements", len(p.People), len(p.Agreements))
	}
	if diff := cmp.Diff(doc.Plan, again(t, doc), everything); diff != "" {
		t.Errorf("written and read again (-was +is):\n%s", diff)
	}
	for path, want := range map[string]string{
		"catering/pay-3":       "demo:80 catering/pay-3",
		"people/kofi":          "demo:26 people/kofi",
		"appointments/tasting": "demo:384 appointments/tasting",
	} {
		if got := doc.Where(path); got != want {
			t.Errorf("%s stands at %q, want %q", path, got, want)
		}
	}
}

// FuzzReadPlan holds a reader to this: it never panics, it refuses only by
// naming faults, and what it reads it also writes.
func FuzzReadPlan(f *testing.F) {
	f.Add([]byte(head))
	f.Add([]byte(hall + "    pay: [25% on signing, balance 14 days before the wedding] # both\n"))
	f.Add([]byte("\ufeff" + strings.ReplaceAll(head, "\n", "\r\n")))
	f.Add([]byte(head + "x: &a [*a]\n<<: *a\n"))
	f.Add([]byte("? {a: b}\n: - !!binary c\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		doc, err := store.ReadPlan("fuzz", text)
		if err != nil {
			if faults := (store.Faults)(nil); !errors.As(err, &faults) || len(faults) == 0 {
				t.Fatalf("%T is no list of faults: %v", err, err)
			}
			return
		}
		if diff := cmp.Diff(doc.Plan, again(t, doc), everything); diff != "" {
			t.Errorf("written and read again (-was +is):\n%s", diff)
		}
	})
}
