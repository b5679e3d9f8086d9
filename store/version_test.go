package store_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/store"
)

func reverted(t *testing.T, s *store.Store, n int) store.Imported {
	t.Helper()
	done, err := s.Revert(t.Context(), "maren-and-theo", n, fmt.Sprintf("back to version %d", n), start.Add(time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	return done
}

// facts are what was kept, or lost, in words.
func facts(all []store.Fact) []string {
	var lines []string
	for _, f := range all {
		lines = append(lines, f.Of+": "+f.Says)
	}
	return lines
}

func TestVersions(t *testing.T) {
	s := opened(t)
	saved(t, s, store.Import{By: "import"}, head, start)
	saved(t, s, store.Import{By: "Odile Marsh", Over: true}, strings.Replace(head, "2027-09-18", "2027-10-02", 1), start.Add(time.Minute))
	reverted(t, s, 1)
	got, err := s.Versions(t.Context(), "maren-and-theo")
	if err != nil {
		t.Fatal(err)
	}
	want := []store.Version{{N: 1, Saved: start, By: "import"}, {N: 2, Saved: start.Add(time.Minute), By: "Odile Marsh"},
		{N: 3, Saved: start.Add(time.Hour), By: "back to version 1"}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("versions (-want +got):\n%s", diff)
	}
	for n, date := range map[int]string{1: "2027-09-18", 2: "2027-10-02", 3: "2027-09-18"} {
		doc, err := s.LoadVersion(t.Context(), "maren-and-theo", n)
		if err != nil || doc.Plan.Wedding.Date.String() != date || doc.Plan.Version != n {
			t.Errorf("version %d is of %s, version %d: %v", n, doc.Plan.Wedding.Date, doc.Plan.Version, err)
		}
	}
	for what, err := range map[string]error{
		"a version":            func() error { _, err := s.LoadVersion(t.Context(), "maren-and-theo", 4); return err }(),
		"a version of nobody":  func() error { _, err := s.LoadVersion(t.Context(), "nobody", 1); return err }(),
		"versions":             func() error { _, err := s.Versions(t.Context(), "nobody"); return err }(),
		"a return":             func() error { _, err := s.Revert(t.Context(), "maren-and-theo", 9, "", start); return err }(),
		"a return of somebody": func() error { _, err := s.Revert(t.Context(), "nobody", 1, "", start); return err }(),
	} {
		if !errors.Is(err, store.ErrUnknown) {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// TestRevertKeepsFacts goes back to a plan of before anything was done.
func TestRevertKeepsFacts(t *testing.T) {
	const first = hall + `    price: 1000
    dates: {invoice: open}
    pay:
      - 100 on signing
      - 200 10 days after invoice
      - 4 equal payments monthly from 2027-01-02
      - security 50 on signing, back 9 days after the wedding
    cancel: [nothing until 60 days before the wedding, 100% after that]
    change: [head count within 10 days of the wedding]
    postpone: once, with 60 days' notice
countdown: {add: {bags: {what: Bags, when: 3 days before the wedding}}}
`
	done := strings.NewReplacer(
		"- 100 on signing", `- {says: 120 on signing, done: 2026-09-01, amount: "110.00"}`,
		"invoice: open", "invoice: 2027-03-01",
		"- 4 equal payments monthly from 2027-01-02", "- {says: 4 equal payments monthly from 2027-01-02, done: [2027-01-02, 2027-02-02]}",
		"- security 50 on signing, back 9 days after the wedding", `- {says: "security 50 on signing, back 9 days after the wedding", done: 2026-09-01, back: 2027-09-20}`,
		"[head count within 10 days of the wedding]", "[{says: head count within 10 days of the wedding, given: 88, answer: {reads: before, who: maren, on: 2026-11-20}}]",
		"once, with 60 days' notice\n", "{says: \"once, with 60 days' notice\", done: 2027-01-01}\n    answers: {after the last step: {reads: last step, who: maren, on: 2026-11-20}}\n",
		"when: 3 days before the wedding}", "when: 3 days before the wedding, done: 2027-09-14}",
		"countdown: {", "countdown: {done: {guest-addresses: 2027-01-10}, ",
	).Replace(first)
	s := opened(t)
	saved(t, s, store.Import{}, first, start)
	saved(t, s, store.Import{Over: true}, done, start)
	got := reverted(t, s, 1)
	want := []string{
		"The Net Loft, “100 on signing”: paid on Tue 1 Sep 2026",
		"The Net Loft, “100 on signing”: the amount $110.00",
		"The Net Loft, “4 equal payments monthly from 2027-01-02”: paid on Sat 2 Jan 2027, Tue 2 Feb 2027",
		"The Net Loft, “security 50 on signing, back 9 days after the wedding”: paid on Tue 1 Sep 2026",
		"The Net Loft, “security 50 on signing, back 9 days after the wedding”: came back on Mon 20 Sep 2027",
		"The Net Loft, “head count within 10 days of the wedding”: given as 88",
		"The Net Loft, “head count within 10 days of the wedding”: the answer to what it leaves open",
		"The Net Loft, “once, with 60 days' notice”: done on Fri 1 Jan 2027",
		"The Net Loft: the answer about after the last step",
		"The Net Loft: the invoice of Mon 1 Mar 2027",
		"Countdown: guest addresses done on Sun 10 Jan 2027",
		"Bags: done on Tue 14 Sep 2027",
	}
	if diff := cmp.Diff(want, facts(got.Kept)); diff != "" {
		t.Errorf("kept (-want +got):\n%s", diff)
	}
	if len(got.Lost) > 0 {
		t.Errorf("lost: %q", facts(got.Lost))
	}
	// Going back once more keeps nothing, since nothing is missing.
	saved(t, s, store.Import{Over: true}, exported(t, loaded(t, s, "maren-and-theo")), start)
	if again := reverted(t, s, 3); len(again.Kept) > 0 {
		t.Errorf("kept twice: %q", facts(again.Kept))
	}
}

// TestRevertUndoesALoss brings back what a later file took away.
func TestRevertUndoesALoss(t *testing.T) {
	s := opened(t)
	saved(t, s, store.Import{}, hallWith("pay", `{says: 100 on signing, done: 2026-09-01, amount: "110.00"}`, "balance 9 days before the wedding"), start)
	text := exported(t, loaded(t, s, "maren-and-theo"))
	saved(t, s, store.Import{}, strings.Replace(text, `, done: 2026-09-01, amount: "110.00"`, "", 1), start)
	if l := loaded(t, s, "maren-and-theo").Plan.Agreements[0].Pay[0]; !l.Done.IsZero() || l.Amount != nil {
		t.Fatalf("an edit of the newest version cannot take %+v away", l.Line)
	}
	reverted(t, s, 1)
	if l := loaded(t, s, "maren-and-theo").Plan.Agreements[0].Pay[0]; l.Done.String() != "2026-09-01" || l.Amount == nil {
		t.Errorf("it did not come back: %+v", l.Line)
	}
}

// TestRevertKeepsKeys: lines that come back have their keys, and no key that
// was used since is given again.
func TestRevertKeepsKeys(t *testing.T) {
	s := opened(t)
	saved(t, s, store.Import{}, hallWith("papers", "plan 9 days before the wedding", "map 8 days before the wedding"), start)
	saved(t, s, store.Import{Over: true}, hallWith("papers", "list 7 days before the wedding", "lamp 5 days before the wedding", "note 6 days before the wedding"), start)
	back := reverted(t, s, 1)
	want := []string{"paper-1 plan 9 days before the wedding", "paper-2 map 8 days before the wedding"}
	if diff := cmp.Diff(want, keysIn(back.Is)); diff != "" {
		t.Errorf("keys (-want +got):\n%s", diff)
	}
	text := strings.Replace(exported(t, loaded(t, s, "maren-and-theo")), "papers:\n", "papers:\n      - pen 4 days before the wedding\n", 1)
	next := saved(t, s, store.Import{}, text, start)
	if got := keysIn(next.Is)[0]; got != "paper-6 pen 4 days before the wedding" {
		t.Errorf("the new line is %q", got)
	}
}

// TestRevertKeepsLife: a signed agreement stays signed.
func TestRevertKeepsLife(t *testing.T) {
	quoted := strings.NewReplacer("standing: signed", "standing: quoted", "    signed: 2026-08-21\n", "").Replace(hallWith("pay", "100 on signing"))
	for _, row := range []struct {
		name, was, is, want string
	}{
		{"signed since", quoted, hallWith("pay", "100 on signing"), "signed 2026-08-21"},
		{"ended since", hallWith("pay", "100 on signing"), strings.Replace(hallWith("pay", "100 on signing"), "standing: signed", "standing: ended", 1), "ended 2026-08-21"},
		{"only a quote again, by mistake", hallWith("pay", "100 on signing"), quoted, "signed 2026-08-21"},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := opened(t)
			saved(t, s, store.Import{}, row.was, start)
			saved(t, s, store.Import{Over: true}, row.is, start)
			a := reverted(t, s, 1).Is.Agreements[0]
			if got := fmt.Sprint(a.Standing, " ", a.Signed); got != row.want {
				t.Errorf("it is %s, want %s", got, row.want)
			}
		})
	}
}

// TestRevertKeepsPeople: a person who was renamed since has one calendar.
func TestRevertKeepsPeople(t *testing.T) {
	s := opened(t)
	first := saved(t, s, store.Import{}, head, start)
	before := tokens(t, s, loaded(t, s, first.Name))["maren"]
	saved(t, s, store.Import{Over: true}, strings.Replace(head, "maren: {name: Maren, part: couple}", "mara: {name: Mara, part: couple, was: maren}", 1), start)
	reverted(t, s, 1)
	if after := tokens(t, s, loaded(t, s, first.Name))["maren"]; after != before {
		t.Errorf("her address was %q and is %q", before, after)
	}
}

// TestFactsSurvive has a stored line, a line of a file, how the file comes
// in, and what is then known of the line.
func TestFactsSurvive(t *testing.T) {
	const paid = `{says: 100 on signing, done: 2026-09-01, amount: "110.00"}`
	const rest = "balance 9 days before the wedding"
	for _, row := range []struct {
		name     string
		was, is  []string
		list     string
		exported bool // the file is made of the newest version
		kept     []string
		lost     []string
	}{
		{"a stale file without it", []string{paid, rest}, []string{"100 on signing", rest}, "pay", false,
			[]string{"The Net Loft, “100 on signing”: paid on Tue 1 Sep 2026", "The Net Loft, “100 on signing”: the amount $110.00"}, nil},
		{"a stale file with a key", []string{paid, rest}, []string{"{key: pay-1, says: 90 on signing}", rest}, "pay", false,
			[]string{"The Net Loft, “90 on signing”: paid on Tue 1 Sep 2026", "The Net Loft, “90 on signing”: the amount $110.00"}, nil},
		{"a stale file that says otherwise", []string{paid, rest}, []string{`{says: 100 on signing, done: 2026-09-02, amount: "100.00"}`, rest}, "pay", false, nil, nil},
		{"a stale file that knows of fewer parts", []string{"{says: 4 equal payments monthly from 2027-01-02, done: [2027-01-02, 2027-02-02]}"},
			[]string{"{says: 4 equal payments monthly from 2027-01-02, done: [2027-01-02]}"}, "pay", false,
			[]string{"The Net Loft, “4 equal payments monthly from 2027-01-02”: paid on Sat 2 Jan 2027, Tue 2 Feb 2027"}, nil},
		{"parts that are no parts any more", []string{"{says: 4 equal payments monthly from 2027-01-02, done: [2027-01-02]}"}, []string{"balance on 2027-01-02"}, "pay", false,
			nil, []string{"The Net Loft, “balance on 2027-01-02”: paid on Sat 2 Jan 2027"}},
		{"an export without it", []string{paid, rest}, []string{"{key: pay-1, says: 100 on signing}", "{key: pay-2, says: " + rest + "}"}, "pay", true, nil, nil},
		{"an export with the line written anew", []string{paid, rest}, []string{"100 on signing", "{key: pay-2, says: " + rest + "}"}, "pay", true,
			[]string{"The Net Loft, “100 on signing”: paid on Tue 1 Sep 2026", "The Net Loft, “100 on signing”: the amount $110.00"}, nil},
		{"an export with another line in its place", []string{paid, rest}, []string{"70 on 2027-03-01", "{key: pay-2, says: " + rest + "}"}, "pay", true, nil, nil},
		{"a count", []string{"{says: head count 9 days before the wedding, given: 88}"}, []string{"head count 8 days before the wedding"}, "change", false,
			[]string{"The Net Loft, “head count 8 days before the wedding”: given as 88"}, nil},
		{"an answer that does not fit", []string{"{says: list within 9 days of the wedding, answer: {reads: after, who: maren, on: 2026-11-20}}"}, []string{"{key: paper-1, says: list within 9 days before the wedding}"}, "papers", false,
			nil, []string{"The Net Loft, “list within 9 days before the wedding”: the answer to what it leaves open"}},
		{"an answer beside another", []string{"{says: list within 9 business days of the wedding, answer: {reads: before, who: maren, on: 2026-11-20}}"},
			[]string{"{says: list within 9 business days of the wedding, answer: {reads: federal, who: maren, on: 2026-11-21}}"}, "papers", false,
			[]string{"The Net Loft, “list within 9 business days of the wedding”: the answer to what it leaves open"}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := opened(t)
			first := saved(t, s, store.Import{}, hallWith(row.list, row.was...), start)
			text := hallWith(row.list, row.is...)
			if row.exported {
				text = strings.Replace(text, "title:", fmt.Sprintf("id: %s, version: 1, title:", first.ID), 1)
			}
			got := saved(t, s, store.Import{Over: !row.exported}, text, start)
			if diff := cmp.Diff(row.kept, facts(got.Kept)); diff != "" {
				t.Errorf("kept (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(row.lost, facts(got.Lost)); diff != "" {
				t.Errorf("lost (-want +got):\n%s", diff)
			}
			known := exported(t, loaded(t, s, first.Name))
			for _, field := range []struct{ says, stands string }{{"paid on", "done: "}, {"amount", "amount: "}, {"given", "given: "}, {"answer", "answer: "}} {
				if slices.ContainsFunc(row.kept, func(k string) bool { return strings.Contains(k, field.says) }) && !strings.Contains(known, field.stands) {
					t.Errorf("%s was not kept:\n%s", field.stands, known)
				}
			}
		})
	}
}

// What going back comes to is known before: it is what is saved then.
func TestReverted(t *testing.T) {
	s := demo(t)
	for n, one := range []store.Set{set("wedding/start", "15:00"), set("agreements/catering/pay/pay-2/done", "2026-11-24")} {
		if _, err := put(t, s, n+1, one); err != nil {
			t.Fatal(err)
		}
	}
	doc, kept, err := s.Reverted(t.Context(), "maren-and-theo", 1, 3)
	if err != nil {
		t.Fatal(err)
	}
	if n := loaded(t, s, "maren-and-theo").Plan.Version; n != 3 {
		t.Fatalf("asking has saved version %d", n)
	}
	done := reverted(t, s, 1)
	told, err := doc.Text()
	if err != nil {
		t.Fatal(err)
	}
	is, err := loaded(t, s, "maren-and-theo").Text()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(is), string(told)); diff != "" {
		t.Errorf("it was to be (-saved +told):\n%s", diff)
	}
	if len(kept.Kept) != 1 || !slices.Equal(facts(kept.Kept), facts(done.Kept)) {
		t.Errorf("it was to keep %v, and kept %v", kept, done.Keeping)
	}
	docs, err := s.LoadVersions(t.Context(), "maren-and-theo", 2, 4)
	if err != nil || len(docs) != 3 || docs[2].Plan.Wedding.Start.Hour != 15 || docs[4].Plan.Version != 4 {
		t.Errorf("versions 2 to 4 are %v: %v", docs, err)
	}
}
