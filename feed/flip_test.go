package feed

import (
	"slices"
	"testing"

	"banns/milestones"
)

var everyTie = []tie{couple, planner, payer, contact, named}

// flip takes t out of a row of a table of ties, or puts it in.
func flip(row []tie, t tie) []tie {
	if slices.Contains(row, t) {
		return slices.DeleteFunc(slices.Clone(row), func(x tie) bool { return x == t })
	}
	return append(slices.Clone(row), t)
}

// flips calls then with each single cell of the four tables wrong in turn.
func flips(then func(table string, k milestones.Kind, wrong tie)) {
	for _, k := range milestones.Kinds {
		for _, wrong := range everyTie {
			right := sees[k]
			sees[k] = flip(right, wrong)
			then("sees", k, wrong)
			sees[k] = right
		}
	}
	for name, table := range map[string]*[]tie{"seesMoney": &seesMoney, "seesQuoted": &seesQuoted, "seesOver": &seesOver} {
		for _, wrong := range everyTie {
			right := *table
			*table = flip(right, wrong)
			then(name, "", wrong)
			*table = right
		}
	}
}

// TestEveryCellCounts shows that TestWhoSeesWhat would see any one cell of
// the tables wrong.
func TestEveryCellCounts(t *testing.T) {
	p, items := tiedPlan(t)
	flips(func(table string, k milestones.Kind, wrong tie) {
		faults := againstWants(p, items)
		if inert := table == "sees" && outside(k) && (wrong == payer || wrong == contact); inert {
			if len(faults) > 0 {
				t.Errorf("somebody is a %s to a %s, which is no agreement's: %s", wrong, k, faults[0])
			}
			return
		}
		if len(faults) == 0 {
			t.Errorf("%s[%s] flipped for %s, and nobody saw anything else", table, k, wrong)
		}
	})
	if faults := againstWants(p, items); len(faults) > 0 {
		t.Errorf("the tables were not put back: %v", faults)
	}
}

// outside reports whether items of kind k belong to no agreement, so that
// nobody pays for them or sells them.
func outside(k milestones.Kind) bool {
	switch k {
	case milestones.KindAppointment, milestones.KindOccasion, milestones.KindMilestone, milestones.KindWedding:
		return true
	}
	return false
}

// TestCouplePays has an agreement without a payer, which the couple pays.
func TestCouplePays(t *testing.T) {
	p, _ := tiedPlan(t)
	for n := range p.Agreements {
		p.Agreements[n].Payer = ""
	}
	seen := map[string]bool{}
	for _, e := range View(p, scheduled(t, p), "couple") {
		seen[e.ID] = true
	}
	for id, want := range map[string]bool{
		"replaced-owed/pay-1": true, "ended-owed/change-1": true, "ended/pay-2/back": true,
		"replaced/pay-1": false, "hidden/pay-1": false,
	} {
		if seen[id] != want {
			t.Errorf("the couple sees %s: %v, want %v", id, seen[id], want)
		}
	}
}

// TestVendorSide reads an agreement as its vendor does; not so whoever also
// pays for it.
func TestVendorSide(t *testing.T) {
	p, items := tiedPlan(t)
	for id, want := range map[string]string{
		"signed/pay-1":      "Payment from Cora and Carl",
		"signed/pay-2":      "Payment from Cora and Carl: security deposit",
		"signed/pay-2/back": "Security deposit back to Cora and Carl",
		"signed/change-1":   "Cora and Carl: final headcount",
		"signed/paper-1":    "Cora and Carl: floor plan",
	} {
		e := entryOf(t, View(p, items, "contact"), id)
		if e.Title != want || e.With != "Cora and Carl" || e.Contact != "" {
			t.Errorf("%s is %q with %q, contact %q; want %q", id, e.Title, e.With, e.Contact, want)
		}
	}
	p.Agreements[0].Payer = "contact"
	e := entryOf(t, View(p, items, "contact"), "signed/cancel-1")
	if e.Title != "Last day to cancel Hollow Oak Table" || e.Vendor {
		t.Errorf("a payer who also works there reads %q", e.Title)
	}
}

// entryOf is the entry of an item.
func entryOf(t testing.TB, entries []Entry, id string) Entry {
	t.Helper()
	for _, e := range entries {
		if e.ID == id {
			return e
		}
	}
	t.Fatalf("there is no entry of %s", id)
	return Entry{}
}

func TestStranger(t *testing.T) {
	p, items := tiedPlan(t)
	if got := View(p, items, "stranger"); got != nil {
		t.Errorf("a stranger sees %d entries", len(got))
	}
}
