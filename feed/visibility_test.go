package feed

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"banns/milestones"
)

// wants is who sees what, written by hand from the design's table and not
// from the code's: "all" with money and phrases, "note" with the note of
// what is no agreement's, "day" with neither, "-" not at all. Each person of
// tiedPlan has the one tie that names a column.
const wants = `
                          couple planner payer contact person group part nobody
signed payment            all    all     all   all     day    day   day  -
signed refund             all    all     all   all     day    day   day  -
signed cancel-by          all    all     all   -       day    day   day  -
signed change-by          all    all     -     all     day    day   day  -
signed paper              all    all     -     all     day    day   day  -
quoted payment            all    all     -     -       -      -     -    -
quoted refund             all    all     -     -       -      -     -    -
quoted cancel-by          all    all     -     -       -      -     -    -
quoted change-by          all    all     -     -       -      -     -    -
quoted paper              all    all     -     -       -      -     -    -
replaced payment          -      -       -     -       -      -     -    -
replaced refund           -      all     all   -       -      -     -    -
replaced cancel-by        -      -       -     -       -      -     -    -
replaced change-by        -      -       -     -       -      -     -    -
replaced paper            -      -       -     -       -      -     -    -
replaced-owed payment     -      all     all   -       -      -     -    -
replaced-owed refund      -      all     all   -       -      -     -    -
replaced-owed cancel-by   -      all     all   -       -      -     -    -
replaced-owed change-by   -      all     all   -       -      -     -    -
replaced-owed paper       -      all     all   -       -      -     -    -
ended payment             -      -       -     -       -      -     -    -
ended refund              -      all     all   -       -      -     -    -
ended cancel-by           -      -       -     -       -      -     -    -
ended change-by           -      -       -     -       -      -     -    -
ended paper               -      -       -     -       -      -     -    -
ended-owed payment        -      all     all   -       -      -     -    -
ended-owed refund         -      all     all   -       -      -     -    -
ended-owed cancel-by      -      all     all   -       -      -     -    -
ended-owed change-by      -      all     all   -       -      -     -    -
ended-owed paper          -      all     all   -       -      -     -    -
hidden payment            -      -       -     -       -      -     -    -
hidden refund             -      -       -     -       -      -     -    -
hidden cancel-by          -      -       -     -       -      -     -    -
hidden change-by          -      -       -     -       -      -     -    -
hidden paper              -      -       -     -       -      -     -    -
hidden appointment        -      -       -     -       -      -     -    -
hidden occasion           -      -       -     -       -      -     -    -
hidden milestone          -      -       -     -       -      -     -    -
open appointment          all    all     -     -       note   note  note -
open occasion             all    all     -     -       note   note  note -
open milestone            all    all     -     -       note   note  note -
everybody wedding         day    day     day   day     day    day   day  day
unnamed wedding           -      -       -     -       -      -     -    -
`

// ties1 are the people of tiedPlan, one tie each. A person's key is the tie.
var ties1 = []milestones.Person{
	{Key: "couple", Name: "Cora", Part: milestones.Couple},
	{Key: "planner", Name: "Pia", Part: milestones.Planner},
	{Key: "payer", Name: "Paul", Part: milestones.Family},
	{Key: "contact", Name: "Vera", Part: milestones.Vendor, Phone: "555 0100"},
	{Key: "person", Name: "Nina", Part: milestones.Helper},
	{Key: "group", Name: "Greg", Part: milestones.Attendant, Groups: []string{"readers"}},
	{Key: "part", Name: "Olaf", Part: milestones.Officiant},
	{Key: "nobody", Name: "Nora", Part: milestones.Helper},
}

// naming are the three ways to name somebody, and hiding names everybody
// who would see anything in one of those ways.
var (
	naming = []string{"person", "readers", "officiant"}
	hiding = []string{"couple", "planner", "payer", "contact", "person", "readers", "officiant"}
)

// tiedPlan holds every kind of item at every standing, hidden and not.
func tiedPlan(t testing.TB) (*milestones.Plan, []milestones.Item) {
	p := &milestones.Plan{ID: "w", People: ties1, Wedding: milestones.Wedding{Title: "Cora and Carl",
		Date: d(2027, 9, 18), Zone: "America/Detroit", Currency: "USD"}}
	for _, a := range []struct {
		key      string
		standing milestones.Standing
		owed     bool
		hide     []string
	}{
		{"signed", milestones.Signed, false, nil},
		{"quoted", milestones.Quoted, false, nil},
		{"replaced", milestones.Replaced, false, nil},
		{"replaced-owed", milestones.Replaced, true, nil},
		{"ended", milestones.Ended, false, nil},
		{"ended-owed", milestones.Ended, true, nil},
		{"hidden", milestones.Signed, true, hiding},
	} {
		p.Agreements = append(p.Agreements, tiedAgreement(a.key, a.standing, a.owed, a.hide))
	}
	for _, m := range []milestones.Meeting{
		{Key: "open", What: "Fitting", For: naming, Note: "bring shoes", When: milestones.Timing{Says: "on 2027-06-01"}},
		{Key: "hidden", What: "Surprise", For: naming, Hide: hiding, Note: "hush", When: milestones.Timing{Says: "on 2027-06-02"}},
	} {
		p.Appointments = append(p.Appointments, milestones.Appointment{Meeting: m})
		p.Occasions = append(p.Occasions, milestones.Occasion{Meeting: m})
		p.Countdown.Add = append(p.Countdown.Add, milestones.Milestone{
			Key: m.Key, What: m.What, For: m.For, Hide: m.Hide, Note: m.Note, When: m.When})
	}
	items := scheduled(t, p)
	// The wedding is everybody's since it names everybody, and for no other reason.
	return p, append(items, milestones.Item{ID: "unnamed", Kind: milestones.KindWedding, Moment: milestones.Moment{Date: d(2027, 9, 18)}})
}

func tiedAgreement(key string, standing milestones.Standing, owed bool, hide []string) milestones.Agreement {
	line := func(says string) milestones.Line {
		return milestones.Line{Says: says, For: naming, Owed: owed, Note: "so much for 300", Wording: "Three hundred are due."}
	}
	price := milestones.Money(200_000)
	return milestones.Agreement{
		Key: key, With: "Hollow Oak Table", Standing: standing, Signed: d(2026, 10, 2), Payer: "payer", Contact: "contact", Hide: hide,
		Price:  milestones.Price{Sum: &price},
		Pay:    []milestones.Payment{{Line: line("2000 on 2027-03-01")}, {Line: line("security 300 on 2027-03-02, back 10 days after the wedding")}},
		Cancel: []milestones.CancelStep{{Line: line("50% until 2027-04-01")}, {Line: line("100% after that")}},
		Change: []milestones.ChangeBy{{Line: line("final headcount 10 days before the wedding")}},
		Papers: []milestones.Paper{{Line: line("floor plan 20 days before the wedding")}},
	}
}

func d(year, month, day int) milestones.Date {
	return milestones.Date{Year: year, Month: time.Month(month), Day: day}
}

// scheduled reads the phrases of p and works out its items.
func scheduled(t interface {
	Fatalf(format string, args ...any)
}, p *milestones.Plan) []milestones.Item {
	if faults, _ := p.Read(); len(faults) > 0 {
		t.Fatalf("the plan has faults: %v", faults)
	}
	return milestones.Schedule(p, milestones.NoClosures{})
}

// seenAs is how much of an item an entry shows, or what is odd about it.
func seenAs(e *Entry) string {
	shown := map[string]bool{"rule": e.Rule != "", "note": e.Note != ""}
	if e.Agreement != "" {
		shown["currency"], shown["wording"], shown["payer"] = e.Currency != "", e.Wording != "", e.Payer != ""
		switch e.Kind {
		case milestones.KindCancelBy:
			shown["later"], shown["saves"] = e.Later.Known, e.Saves.Known
			fallthrough
		case milestones.KindPayment, milestones.KindRefund:
			shown["amount"] = e.Amount.Known
		}
	}
	maps.DeleteFunc(shown, func(_ string, there bool) bool { return !there })
	all := 2 // rule and note
	if e.Agreement != "" {
		all = map[milestones.Kind]int{milestones.KindCancelBy: 8, milestones.KindPayment: 6, milestones.KindRefund: 6}[e.Kind]
		all = max(all, 5)
	}
	switch only := slices.Sorted(maps.Keys(shown)); {
	case len(only) == 0 && e.Contact == "" && len(e.Questions) == 0 && !e.Amount.Known && !e.Later.Known && !e.Saves.Known:
		return "day"
	case len(only) == all:
		return "all"
	case e.Agreement == "" && slices.Equal(only, []string{"note"}):
		return "note"
	default:
		return strings.Join(only, "+")
	}
}

// rowOf is the row of wants that an item belongs to.
func rowOf(i *milestones.Item) string {
	name := i.Agreement
	switch {
	case i.ID == "wedding":
		name = "everybody"
	case i.ID == "unnamed":
		name = "unnamed"
	case i.Agreement == "":
		_, name, _ = strings.Cut(i.ID, "/")
	}
	return name + " " + string(i.Kind)
}

// againstWants views items as each person, and returns where that differs
// from wants.
func againstWants(p *milestones.Plan, items []milestones.Item) (faults []string) {
	rows := strings.Split(strings.TrimSpace(wants), "\n")
	columns := strings.Fields(rows[0])
	want := map[string]string{}
	for _, row := range rows[1:] {
		cells := strings.Fields(row)
		for n, column := range columns {
			want[cells[0]+" "+cells[1]+" "+column] = cells[n+2]
		}
	}
	met := map[string]bool{}
	for _, column := range columns {
		got := map[string]string{}
		for _, e := range View(p, items, column) {
			got[e.ID] = seenAs(&e)
		}
		for n := range items {
			i := &items[n]
			cell := rowOf(i) + " " + column
			if shown := cmp.Or(got[i.ID], "-"); shown != want[cell] {
				faults = append(faults, fmt.Sprintf("%s: sees %q of %s, the design says %q", cell, shown, i.ID, want[cell]))
			}
			keys := Audience(p, i)
			if !slices.IsSorted(keys) {
				faults = append(faults, fmt.Sprintf("%s: Audience is not in order: %v", cell, keys))
			}
			if listed := slices.Contains(keys, column); listed != (got[i.ID] != "") {
				faults = append(faults, fmt.Sprintf("%s: Audience and View differ on %s", cell, i.ID))
			}
			met[cell] = true
		}
	}
	for cell := range want {
		if !met[cell] {
			faults = append(faults, cell+": the plan has no such item")
		}
	}
	return faults
}

func TestWhoSeesWhat(t *testing.T) {
	p, items := tiedPlan(t)
	for _, fault := range againstWants(p, items) {
		t.Error(fault)
	}
}
