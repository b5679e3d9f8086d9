package milestones

import (
	"slices"
	"strings"
	"testing"
)

// two is a plan of two agreements that name each other's lines.
func two(lines ...string) *Plan {
	p := wedding(
		Agreement{Key: "catering", Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("25% on signing", "25% by 2027-03-15", "balance 14 days before the wedding"),
			Change: change("final headcount 10 days before the wedding", "menu choice 60 days before the wedding"), Papers: papers("allergy list 3 days before the wedding", "a guest list 2 days before the wedding")},
		Agreement{Key: "bar", Signed: d(2026, 11, 2), Change: change("bar count with final headcount", "menu choice 30 days before the wedding"), Papers: papers(lines...)},
	)
	p.Appointments = []Appointment{{Meeting{Key: "tasting", What: "Menu tasting", When: Timing{Says: "on 2027-03-13"}}}}
	return p
}

// An anchor is looked for in its own agreement first, then in the plan.
func TestAnchors(t *testing.T) {
	rows := []struct {
		phrase string
		want   Date
	}{
		{"1 day after final headcount", d(2027, 9, 9)},
		{"1 day after the Final  Headcount", d(2027, 9, 9)},
		{"1 day after catering/change-1", d(2027, 9, 9)},
		{"1 day after catering/final headcount", d(2027, 9, 9)},
		{"1 day after bar count", d(2027, 9, 9)},
		{"1 day after change-1", d(2027, 9, 9)},
		{"1 day after menu choice", d(2027, 8, 20)},
		{"1 day after catering/menu choice", d(2027, 7, 21)},
		{"1 day after catering/balance", d(2027, 9, 5)},
		{"1 day after catering/second payment", d(2027, 3, 16)},
		{"1 day after catering/2", Date{}},
		{"1 day after menu tasting", d(2027, 3, 14)},
		{"1 day after tasting", d(2027, 3, 14)},
		{"1 day after allergy list", d(2027, 9, 16)},
		{"1 day after signing", d(2026, 11, 3)},
		{"with bar count", d(2027, 9, 8)},
		{"1 day after the bar count", d(2027, 9, 9)},
		{"1 day after a guest list", d(2027, 9, 17)},
	}
	for _, row := range rows {
		t.Run(row.phrase, func(t *testing.T) {
			p := two("it " + row.phrase)
			if row.want.IsZero() {
				if says := refusal(t, p); !strings.Contains(says, `nothing here is called "catering/2"`) {
					t.Error(says)
				}
				return
			}
			if got := scheduled(t, p, NoClosures{})["bar/paper-1"].Date; got != row.want {
				t.Errorf("%s, want %s", got.Words(), row.want.Words())
			}
		})
	}
}

// Payments are named by their order in the agreement, security apart.
func TestPaymentAnchors(t *testing.T) {
	rows := []struct {
		phrase string
		want   Date
	}{
		{"on the deposit", d(2026, 10, 2)},
		{"on the first payment", d(2026, 10, 2)},
		{"on the second payment", d(2027, 1, 15)},
		{"on the fourth payment", d(2027, 3, 15)},
		{"on the fifth payment", d(2027, 8, 1)},
		{"on the final payment", d(2027, 8, 1)},
		{"on the last payment", d(2027, 8, 1)},
		{"on pay-2", d(2027, 1, 15)},
		{"on pay-4", d(2027, 9, 11)},
		{"on the security", d(2027, 9, 11)},
		{"on security back", d(2027, 9, 25)},
		{"on retainer", d(2026, 10, 2)},
	}
	for _, row := range rows {
		t.Run(row.phrase, func(t *testing.T) {
			p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Papers: papers("it " + row.phrase),
				Pay: pay("25% on signing", "3 equal payments monthly from 2027-01-15", "100 on 2027-08-01", "security 50 7 days before the wedding, back 7 days after the wedding")})
			p.Agreements[0].Pay[0].What = "Retainer"
			if got := scheduled(t, p, NoClosures{})["hall/paper-1"].Date; got != row.want {
				t.Errorf("%s, want %s", got.Words(), row.want.Words())
			}
		})
	}
}

func TestAnchorsRefused(t *testing.T) {
	rows := []struct{ why, phrase, says string }{
		{"unknown", "it 3 days after the final hedcount", `nothing here is called "final hedcount"; did you mean "final headcount"?`},
		{"a day that nobody set", "it 3 days after invoice", `nothing here is called "invoice"`},
		{"two in the plan", "it 3 days after allergy list", `"allergy list" could be any of catering/paper-1 or cake/paper-1; name it by its key, as catering/paper-1`},
		{"two of another agreement", "it 3 days after cake/tiers", `"cake/tiers" could be any of cake/change-1 or cake/change-2; name it by its key, as cake/change-1`},
		{"a step that has no last day", "it 3 days after cake/cancel-2", `nothing here is called "cake/cancel-2"; did you mean "cake/cancel-1"?`},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			p := two(row.phrase)
			p.Agreements = append(p.Agreements, Agreement{Key: "cake", Standing: Signed, Signed: d(2026, 10, 2), BusinessDays: Banks,
				Cancel: cancel("nothing until 90 days before the wedding", "100% after that"),
				Change: change("tiers 30 days before the wedding", "tiers 20 days before the wedding"), Papers: papers("allergy list 9 days before the wedding")})
			if says := refusal(t, p); !strings.HasPrefix(says, "agreements/bar/papers[1]: ") || !strings.Contains(says, row.says) {
				t.Errorf("%s\nwant %s", says, row.says)
			}
		})
	}
}

// A label may end in the name of a line whose own label ends so, and stand
// before it in the plan.
func TestLabelsThatNameLabels(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Change: change(
		"place cards with table plan", "table plan with bar count", "bar count with final headcount", "final headcount 10 days before the wedding")})
	items := scheduled(t, p, NoClosures{})
	for n, title := range []string{"place cards", "table plan", "bar count", "final headcount"} {
		i := items["hall/change-"+string(rune('1'+n))]
		if i.Title != "The Hall: "+title || i.Date != d(2027, 9, 8) {
			t.Errorf("%s is on %s, want %s on 8 Sep", i.Title, i.Date.Words(), title)
		}
	}
}

func TestCircles(t *testing.T) {
	rows := []struct {
		why    string
		change func(*Plan)
		says   string
	}{
		{"of two", func(p *Plan) {
			p.Agreements[0].Change = change("menu 3 days before seating", "seating 3 days after menu")
		}, "agreements/hall/change[1]: these wait for each other: hall/change-1 -> hall/change-2 -> hall/change-1; count one of them from the wedding or from a date"},
		{"of one", func(p *Plan) { p.Agreements[0].Change = change("menu 3 days before menu") },
			"hall/change-1 -> hall/change-1"},
		{"of payments", func(p *Plan) {
			p.Agreements[0].Pay = pay("25% 3 days after the final payment", "balance 30 days after the first payment")
		}, "hall/pay-1 -> hall/pay-2 -> hall/pay-1"},
		{"of equal payments", func(p *Plan) {
			p.Agreements[0].Pay = pay("2 equal payments monthly from 3 days after the final payment")
		}, "hall/pay-1/2 -> hall/pay-1/2"},
		{"through an appointment", func(p *Plan) {
			p.Agreements[0].Change = change("menu 3 days after tasting")
			p.Appointments = []Appointment{{Meeting{Key: "tasting", When: Timing{Says: "2 days before menu"}}}}
		}, "hall/change-1 -> appointments/tasting -> hall/change-1"},
		{"entered from outside", func(p *Plan) {
			p.Agreements[0].Change = change("cards 1 day after menu", "menu 3 days before seating", "seating 3 days after menu")
		}, "hall/change-2 -> hall/change-3 -> hall/change-2"},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00)})
			row.change(p)
			if says := refusal(t, p); !strings.Contains(says, row.says) {
				t.Errorf("%s\nwant %s", says, row.says)
			}
		})
	}
}

// An anchored date counts from the contract's date, whatever became of it.
func TestAnchorsStand(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00),
		Pay:    []Payment{done("25% by 2026-12-01", d(2027, 1, 7), 250_00), pay("25% by 2026-09-01")[0], pay("balance on 2027-05-02")[0]},
		Papers: papers("first 10 days after the first payment", "second 60 days after the second payment", "third 10 days after the balance")})
	items := scheduled(t, p, NoClosures{})
	for id, want := range map[string]Date{
		"hall/paper-1": d(2026, 12, 11), // not from the day it was done
		"hall/pay-2":   d(2026, 10, 2),  // due on signing
		"hall/paper-2": d(2026, 10, 31), // and counted from all the same
		"hall/paper-3": d(2027, 5, 12),  // not from Friday, the day to act by
	} {
		if got := items[id].Date; got != want {
			t.Errorf("%s is on %s, want %s", id, got.Words(), want.Words())
		}
	}
}

// Lines without a key get one by their place, never one that is taken.
func TestKeys(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00),
		Pay:    []Payment{{Line: Line{Key: "pay-2", Keyed: true, Says: "25% on signing"}}, {Line: said("25% by 2027-01-05")}, {Line: said("balance on the day")}},
		Cancel: cancel("nothing until the wedding"), Change: change("count on the day"), Papers: papers("plan on the day", "list on the day")})
	var got []string
	for _, l := range read(t, p).Agreements[0].Lines() {
		got = append(got, l.Key)
	}
	if want := "pay-2 pay-3 pay-4 cancel-1 change-1 paper-1 paper-2"; strings.Join(got, " ") != want {
		t.Errorf("%s, want %s", strings.Join(got, " "), want)
	}
	p.Agreements[0].Pay[0].Key = "pay-3"
	if says := refusal(t, p); !strings.Contains(says, `agreements/hall/pay[2]: the key "pay-3" is used already at agreements/hall/pay[1]; give one of them another key`) {
		t.Error(says)
	}
}

// All faults are named at once.
func TestAllFaults(t *testing.T) {
	amount := Money(5)
	p := wedding(
		Agreement{Key: "hall", Signed: d(2026, 10, 2), Payer: "bee", Pay: pay("25% on signin g", "balence on the day"),
			Papers: []Paper{{Line: Line{Says: "plan on the day", Amount: &amount, For: []string{"readrs"}, Hide: []string{"nobody"}}}}},
		Agreement{Key: "bar", Signed: d(2026, 10, 2), Cancel: cancel("nothing")})
	p.People = []Person{{Key: "bea", Name: "Bea", Part: Family, Groups: []string{"readers"}}}
	faults, _ := p.Read()
	var got []string
	for _, f := range faults {
		got = append(got, f.Error())
	}
	for _, want := range []string{
		`agreements/hall/pay[2]: "balence on the day": "balence" is not understood here; did you mean "balance"?`,
		`agreements/hall/papers[1]: only a payment has an amount; leave the amount out`,
		`agreements/hall/papers[1]/for: "readrs" is no person, group or part here; did you mean "readers"?`,
		`agreements/hall/papers[1]/hide from: "nobody" is no person, group or part here`,
		`agreements/hall/payer: nobody under people has the key "bee"; did you mean "bea"?`,
		`agreements/bar/cancel[1]: "nothing" stops too early`,
	} {
		if !strings.Contains(strings.Join(got, "\n"), want) {
			t.Errorf("missing: %s\nin %q", want, got)
		}
	}
}

// A group may have nobody in it yet, and a label with a sum is worth a look:
// notes, not faults.
func TestNotes(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Change: []ChangeBy{{Line: Line{Says: "tip of $200 on the day", For: []string{"ushers"}}}}})
	faults, notes := p.Read()
	if len(faults) > 0 || len(notes) != 2 || !strings.Contains(notes[0].Says, `"tip of $200" holds a sum`) || !strings.Contains(notes[1].Says, `"ushers"`) {
		t.Errorf("faults %v, notes %v", faults, notes)
	}
	p.Agreements[0].Change[0].What, p.Agreements[0].Change[0].For = "Tip", nil
	if _, notes := p.Read(); len(notes) > 0 {
		t.Errorf("still %v", notes)
	}
}

// Unknown anchors and phrases that are not understood are told in one pass;
// an anchor that a misread line may have named is not held against anybody.
func TestFaultsOfPhrasesAndAnchorsAtOnce(t *testing.T) {
	a := Agreement{Key: "hall", With: "The Hall", Standing: Signed, Signed: d(2026, 10, 2), BusinessDays: Banks,
		Pay: []Payment{{Line: Line{Says: "500 3 days before the weding"}}, {Line: Line{Says: "200 3 dais before the wedding"}},
			{Line: Line{Says: "100 2 days after final headcount"}}},
		Change: []ChangeBy{{Line: Line{Says: "final headcount 10 busness days before the wedding"}}}}
	faults, _ := wedding(a).Read()
	var paths []string
	for _, f := range faults {
		paths = append(paths, f.Path)
	}
	slices.Sort(paths)
	want := []string{"agreements/hall/change[1]", "agreements/hall/pay[1]", "agreements/hall/pay[2]"}
	if !slices.Equal(paths, want) {
		t.Errorf("faults are %v, want them at %v", faults, want)
	}
}

// The last day to ask for another date binds nobody: once over, it is past
// and not overdue.
func TestPostponingIsNoDuty(t *testing.T) {
	i := Item{Kind: KindChangeBy, Term: Postponing, Standing: Signed, Moment: Moment{Date: d(2027, 6, 20)}}
	if got := StateOn(&i, d(2027, 6, 21)); got != Past {
		t.Errorf("it is %s, want %s", got, Past)
	}
}
