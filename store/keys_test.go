package store_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"banns/milestones"
	"banns/store"
	"banns/testdata"
)

// hallWith is a plan with one agreement and the lines of one of its lists.
func hallWith(list string, lines ...string) string {
	var b strings.Builder
	b.WriteString(hall + "    price: 1000\n    " + list + ":\n")
	for _, l := range lines {
		b.WriteString("      - " + l + "\n")
	}
	return b.String()
}

// keysIn are the lines of the plan, each with its key in front.
func keysIn(p *milestones.Plan) []string {
	var all []string
	for i := range p.Agreements {
		for _, l := range p.Agreements[i].Lines() {
			all = append(all, l.Key+" "+l.Says)
		}
	}
	return all
}

func TestKeysByPlace(t *testing.T) {
	doc := imported(t, opened(t), hallWith("pay", "25% on signing", "{key: keys, says: 10% on 2027-01-02}", "balance 14 days before the wedding")+
		"    papers: [floor plan 30 days before the wedding]\n", start)
	want := []string{"pay-1 25% on signing", "keys 10% on 2027-01-02", "pay-3 balance 14 days before the wedding",
		"paper-1 floor plan 30 days before the wedding"}
	if diff := cmp.Diff(want, keysIn(doc.Plan)); diff != "" {
		t.Errorf("keys (-want +got):\n%s", diff)
	}
	if doc.Plan.ID == "" || doc.Plan.Version != 1 {
		t.Errorf("id %q and version %d stand in the document", doc.Plan.ID, doc.Plan.Version)
	}
}

// TestKeysFollow has an old list, a new one without keys, and the keys that
// the new lines should have.
func TestKeysFollow(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name     string
		list     string
		was, now []string
		want     []string
	}{
		{"nothing changed", "pay", []string{"25% on signing", "balance 14 days before the wedding"},
			[]string{"25% on signing", "balance 14 days before the wedding"}, []string{"pay-1", "pay-2"}},
		{"case and spacing", "change", []string{"menu choice 60 days before the wedding", "head count 10 days before the wedding"},
			[]string{"Head  count 10 days before the Wedding", "Menu choice 60 days before the wedding"}, []string{"change-2", "change-1"}},
		{"reordered", "pay", []string{"10% on signing", "20% on 2027-01-02", "30% on 2027-02-02"},
			[]string{"30% on 2027-02-02", "10% on signing", "20% on 2027-01-02"}, []string{"pay-3", "pay-1", "pay-2"}},
		{"another timing, same label", "change", []string{"menu choice 60 days before the wedding", "song list 3 weeks before the wedding"},
			[]string{"song list by 2027-08-01", "menu choice 2 months before the wedding"}, []string{"change-2", "change-1"}},
		{"another timing, same amount", "pay", []string{"100 on signing", "200 on 2027-01-02", "300 on 2027-02-02"},
			[]string{"100 on signing", "200 on 2027-01-05", "300 6 months before the wedding"}, []string{"pay-1", "pay-2", "pay-3"}},
		{"another timing, same cost", "cancel", []string{"25% until 2027-01-02", "50% until 2027-03-02", "100% after that"},
			[]string{"25% until 2027-01-09", "50% until 2027-04-02", "100% after that"}, []string{"cancel-1", "cancel-2", "cancel-3"}},
		{"both ends of a security move", "pay", []string{"security 500 on signing, back within 14 days after the wedding", "5 on signing", "6 on signing"},
			[]string{"6 on signing", "5 on signing", "security 500 on 2027-01-02, back within 30 days after the wedding"}, []string{"pay-3", "pay-2", "pay-1"}},
		{"whole words before labels", "pay", []string{"100 on signing", "100 on 2027-01-02"},
			[]string{"100 on 2027-01-02", "100 on 2027-03-02"}, []string{"pay-2", "pay-1"}},
		{"two of the same words keep their order", "pay", []string{"100 on signing", "100 on signing"},
			[]string{"100 on signing", "5 on 2027-01-02", "100 on signing"}, []string{"pay-1", "pay-3", "pay-2"}},
		{"one added in the middle", "papers", []string{"floor plan 30 days before the wedding", "permit 90 days before the wedding"},
			[]string{"floor plan 30 days before the wedding", "insurance 21 days before the wedding", "permit 90 days before the wedding"},
			[]string{"paper-1", "paper-3", "paper-2"}},
		{"one removed", "papers", []string{"floor plan 30 days before the wedding", "insurance 21 days before the wedding", "permit 90 days before the wedding"},
			[]string{"floor plan 30 days before the wedding", "permit 90 days before the wedding"}, []string{"paper-1", "paper-3"}},
		{"the one left over on each side", "pay", []string{"25% on signing", "300 on 2027-02-02", "balance on the day"},
			[]string{"25% on signing", "350 on 2027-02-09", "balance on the day"}, []string{"pay-1", "pay-2", "pay-3"}},
		{"two left over are new", "pay", []string{"25% on signing", "300 on 2027-02-02", "200 on 2027-03-02"},
			[]string{"25% on signing", "350 on 2027-02-02", "250 on 2027-03-02"}, []string{"pay-1", "pay-4", "pay-5"}},
		{"a label that replaces the words", "change", []string{"{says: menu 60 days before the wedding, what: Dishes}", "bar 5 days before the wedding"},
			[]string{"{says: what we eat 9 weeks before the wedding, what: dishes}", "wine 6 days before the wedding"}, []string{"change-1", "change-2"}},
		{"the same words under two labels", "pay", []string{"{says: 10 on 2027-01-02, what: Lamps}", "5 on signing"},
			[]string{"{says: 10 on 2027-01-02, what: Tables}", "{says: 10 on 2027-01-02, what: Lamps}", "5 on signing"}, []string{"pay-3", "pay-1", "pay-2"}},
		{"the same words under another label", "pay", []string{"{says: 10 on 2027-01-02, what: Lamps}", "5 on signing"},
			[]string{"5 on signing", "{says: 10 on 2027-01-02, what: Tables}"}, []string{"pay-2", "pay-1"}},
		{"a line that names its key", "pay", []string{"25% on signing", "300 on 2027-02-02", "200 on 2027-03-02"},
			[]string{"{key: pay-2, says: 25% on signing}", "25% on signing"}, []string{"pay-2", "pay-1"}},
		{"a key left empty", "pay", []string{"25% on signing", "300 on 2027-02-02"},
			[]string{"{key: '', says: 300 on 2027-02-02}", "{key: , says: 25% on signing}"}, []string{"pay-2", "pay-1"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := opened(t)
			imported(t, s, hallWith(row.list, row.was...), start)
			doc := imported(t, s, hallWith(row.list, row.now...), start)
			var keys []string
			for _, l := range doc.Plan.Agreements[0].Lines() {
				keys = append(keys, l.Key)
			}
			if !slices.Equal(keys, row.want) {
				t.Errorf("keys %v, want %v", keys, row.want)
			}
		})
	}
}

// TestMovedKey has a line that takes its key to another list, while another
// line has the words that the key had.
func TestMovedKey(t *testing.T) {
	s := opened(t)
	imported(t, s, hallWith("change", "plan 30 days before the wedding", "menu 60 days before the wedding"), start)
	doc := imported(t, s, hallWith("change", "plan 30 days before the wedding")+
		"    papers: [{key: change-1, says: plan 30 days before the wedding}]\n", start)
	want := []string{"change-2 plan 30 days before the wedding", "change-1 plan 30 days before the wedding"}
	if diff := cmp.Diff(want, keysIn(doc.Plan)); diff != "" {
		t.Errorf("keys (-want +got):\n%s", diff)
	}
}

// TestKeysAreSpent has keys of removed lines, and of a removed agreement,
// which no other line is given.
func TestKeysAreSpent(t *testing.T) {
	s := opened(t)
	for n, lines := range [][]string{{"5 on signing", "6 on 2027-01-02"}, {"5 on signing"}, {"5 on signing", "7 on 2027-01-02"}} {
		imported(t, s, hallWith("pay", lines...), start.Add(time.Duration(n)*time.Hour))
	}
	imported(t, s, head, start)
	doc := imported(t, s, hallWith("pay", "5 on signing", "7 on 2027-01-02"), start)
	want := []string{"pay-4 5 on signing", "pay-5 7 on 2027-01-02"}
	if diff := cmp.Diff(want, keysIn(doc.Plan)); diff != "" {
		t.Errorf("keys (-want +got):\n%s", diff)
	}
}

// TestExport imports what was exported: every key is as it was, and so is
// the text but for its version.
func TestExport(t *testing.T) {
	t.Parallel()
	s := opened(t)
	first := imported(t, s, string(testdata.Demo), start)
	text := exported(t, first)
	if got, want := len(keysIn(first.Plan)), strings.Count(text, "key: "); got != want {
		t.Errorf("%d lines and %d keys", got, want)
	}
	done := saved(t, s, store.Import{}, text, start)
	if done.Version != 2 || done.New {
		t.Fatalf("the newest version comes to %+v", done)
	}
	next := strings.Replace(text, "version: 1\n", "version: 2\n", 1)
	if diff := cmp.Diff(next, exported(t, loaded(t, s, done.Name))); diff != "" {
		t.Errorf("the second export (-want +got):\n%s", diff)
	}
}

// TestImportLeavesItsDocument: a document that was refused can be tried again.
func TestImportLeavesItsDocument(t *testing.T) {
	doc := document(t, hallWith("pay", "5 on signing"))
	before := exported(t, doc)
	if _, err := opened(t).Import(t.Context(), store.Import{Document: doc}, start); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(before, exported(t, doc)); diff != "" {
		t.Errorf("the document changed (-was +is):\n%s", diff)
	}
}

func TestCommentsAndStyleStay(t *testing.T) {
	const text = `# The plan of two people.
banns: 1
wedding:
  title: 'Ann and Bo' # for now
  date: 2027-09-18
  zone: UTC
  currency: EUR
people:
  # the couple
  ann: {name: Ann, part: couple}
  bo:
    name: Bo
    part: couple
agreements:
  hall:
    with: "The Hall: upstairs"
    standing: signed
    signed: 2026-08-21
    pay:
      # first
      - 25% on signing # by card
      - says: "balance 14 days before the wedding"
        wording: The rest, two weeks ahead. # clause 4
    cancel:
      - 'nothing until 2027-01-02'
# the end
`
	for name, written := range map[string]string{"LF": text, "CRLF": strings.ReplaceAll(text, "\n", "\r\n")} {
		t.Run(name, func(t *testing.T) {
			doc := imported(t, opened(t), written, start)
			got := strings.Replace(exported(t, doc), "id: "+doc.Plan.ID, "id: ID", 1)
			want := strings.NewReplacer(
				"wedding:\n", "wedding:\n  id: ID\n  version: 1\n",
				"- 25% on signing", "- {key: pay-1, says: 25% on signing}",
				"- says: \"bal", "- key: pay-2\n        says: \"bal",
				"- 'nothing until 2027-01-02'", "- {key: cancel-1, says: 'nothing until 2027-01-02'}",
			).Replace(text)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("export (-want +got):\n%s", diff)
			}
		})
	}
}

// TestKeysProperty edits a list at random, in files without keys: no two
// lines ever have one key, and no key comes back once its line has gone.
func TestKeysProperty(t *testing.T) {
	t.Parallel()
	words := rapid.SampledFrom([]string{"menu", "songs", "bar", "cake"})
	line := rapid.Custom(func(t *rapid.T) string {
		return fmt.Sprintf("%s %d days before the wedding", words.Draw(t, "label"), rapid.IntRange(1, 3).Draw(t, "days"))
	})
	s, n := opened(t), 0
	rapid.Check(t, func(r *rapid.T) {
		n++
		title := fmt.Sprintf("title: Wedding %d", n)
		had, spent := map[string]bool{}, map[string]bool{}
		for range 3 { // a key of the first is spent in the second, and free to be misused in the third
			lines := rapid.SliceOfN(line, 1, 4).Draw(r, "lines")
			doc := imported(t, s, strings.Replace(hallWith("change", lines...), "title: Maren and Theo", title, 1), start)
			has := map[string]bool{}
			for _, l := range doc.Plan.Agreements[0].Lines() {
				if has[l.Key] || spent[l.Key] {
					r.Fatalf("the key %s is used again in %v", l.Key, keysIn(doc.Plan))
				}
				has[l.Key] = true
			}
			for key := range had {
				spent[key] = !has[key]
			}
			had = has
		}
	})
}
