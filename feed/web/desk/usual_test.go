package desk

import (
	"testing"

	"banns/conflicts"
	"banns/milestones"
	"banns/store"
)

// Every line that is offered is understood, and gives a day that is known,
// alone and beside the others of its service.
func TestUsualLinesAreUnderstood(t *testing.T) {
	doc, err := store.ReadPlan("plan", []byte("banns: 1\nwedding: {title: Ann and Bo, date: 2027-09-18, start: '16:30', zone: America/Detroit, region: US-MI, currency: USD}\n"))
	if err != nil {
		t.Fatal(err)
	}
	closures, _ := conflicts.ClosuresFor("US-MI")
	set := func(path string, value string) store.Set { return store.Set{Path: path, Value: []string{value}} }
	for _, u := range append(usuals, anyService) {
		sets := []store.Set{set("agreements/x/with", "X"), set("agreements/x/standing", "signed"), set("agreements/x/signed", "2026-11-25"), set("agreements/x/price", "9000")}
		n := 0
		for _, list := range termLists {
			for _, says := range u.of(list) {
				n++
				sets = append(sets, set("agreements/x/"+string(list)+"/+", says))
			}
		}
		with, err := doc.With(sets...)
		if err != nil {
			t.Errorf("%s: %v", u.service, err)
			continue
		}
		dated := map[string]bool{}
		for _, i := range milestones.Schedule(with.Plan, closures) {
			if i.Agreement == "x" && i.Undated() {
				t.Errorf("%s: %q has no day", u.service, i.Rule)
			} else if i.Agreement == "x" {
				dated[i.Term] = true
			}
			for _, q := range i.Questions {
				if i.Agreement == "x" {
					t.Errorf("%s: %q asks: %s", u.service, i.Rule, q.Says)
				}
			}
		}
		if len(dated) != n-1 { // but for "100% after that"
			t.Errorf("%s: %d of %d lines have days", u.service, len(dated), n)
		}
	}
}

func TestUsualOf(t *testing.T) {
	for service, want := range map[string]string{
		"catering": "catering", "Caterer": "catering", "the rehearsal dinner": "catering", "room block": "rooms", "Hair and makeup": "hair and makeup",
		"wedding dress": "attire", "string quartet": "music", "photography": "photographs", "": "", "kites": "", "shuttle": "transport", "bar": "bar", "barn": "venue",
	} {
		if got := usualOf(service).service; got != want {
			t.Errorf("%q has the lines of %q, want %q", service, got, want)
		}
	}
	if got := usualOf("catering").lacking(milestones.ChangeList, []string{"Final headcount 3 days before the wedding"}); len(got) != 1 {
		t.Errorf("beside a headcount there are still offered %q", got)
	}
}
