package milestones

import (
	"fmt"
	"strings"
	"testing"
)

// doubtful is a plan that leaves one thing open, and what each reading of it
// would mean, worked out by hand: the day, the hour, the sum; * what is taken.
type doubtful struct {
	why      string
	a        Agreement
	id       string // of the question
	readings []string
	item     string   // that moves with the answer, or empty
	moves    []string // its day, hour and sum by reading, in the same order
}

// offices are those of June 2027: Juneteenth is a Saturday, for which banks
// stay open on the Friday before and government offices close (Federal
// Reserve holiday schedule; OPM).
var offices = officesApart{Federal: {d(2027, 6, 18): "Juneteenth"}}

var all = cancel("nothing until the wedding")

func doubtfuls() []doubtful {
	signed, price, full := d(2026, 10, 2), costs(1000_00), pay("balance on 2027-09-01")
	return []doubtful{
		{"a side", Agreement{Signed: signed, Price: price, Pay: pay("25% within 30 days of 2027-05-01", "balance on 2027-09-01"), Cancel: all}, "hall/pay-1#side",
			[]string{"before 2027-04-01 $250.00 *", "after 2027-05-31 $250.00"}, "hall/pay-1", []string{"2027-04-01 $250.00", "2027-05-31 $250.00"}},
		{"a side that is named", Agreement{Signed: signed, Papers: papers("plan within 10 days before the wedding"), Cancel: all}, "hall/paper-1#side",
			[]string{"before 2027-09-08 *", "during 2027-09-18"}, "hall/paper-1", []string{"2027-09-08", "2027-09-18"}},
		{"a side of a day that the agreement names", Agreement{Signed: signed, Price: price, Dates: []NamedDate{{"invoice", d(2027, 8, 1)}},
			Pay: pay("25% within 14 days of invoice", "balance on 2027-09-01"), Cancel: all}, "hall/pay-1#side",
			[]string{"before 2027-07-18 $250.00", "after 2027-08-15 $250.00 *"}, "hall/pay-1", []string{"2027-07-18 $250.00", "2027-08-15 $250.00"}},
		{"hours on a side", Agreement{Signed: signed, Change: change("doors within 48 hours of the wedding"), Cancel: all}, "hall/change-1#side",
			[]string{"before 2027-09-16 16:30 *", "after 2027-09-20 16:30"}, "hall/change-1", []string{"2027-09-16 16:30", "2027-09-20 16:30"}},
		{"midnight", Agreement{Signed: signed, Price: price, Pay: pay("balance on 2027-06-01 by midnight"), Cancel: all}, "hall/pay-1#midnight",
			[]string{"start of day 2027-06-01 00:00 $1,000.00 *", "end of day 2027-06-01 23:59 $1,000.00"}, "hall/pay-1",
			[]string{"2027-06-01 00:00 $1,000.00", "2027-06-01 23:59 $1,000.00"}},
		{"business days", Agreement{Signed: signed, Papers: papers("plan 3 business days before 2027-06-22"), Cancel: all}, "hall/paper-1#business-days",
			[]string{"banks 2027-06-17 *", "federal 2027-06-16"}, "hall/paper-1", []string{"2027-06-17", "2027-06-16"}},
		{"business days of offices", Agreement{Signed: signed, BusinessDays: Federal, Papers: papers("plan 3 business days before 2027-06-22"), Cancel: all}, "hall/paper-1#business-days",
			[]string{"banks 2027-06-17", "federal 2027-06-16 *"}, "hall/paper-1", []string{"2027-06-17", "2027-06-16"}},
		{"a term before signing", Agreement{Signed: signed, Price: price, Pay: pay("25% on 2026-09-15", "balance on 2027-09-01"), Cancel: all}, "hall/pay-1#signing",
			[]string{"on signing 2026-10-02 $250.00 *", "as written 2026-09-15 $250.00"}, "hall/pay-1", []string{"2026-10-02 $250.00", "2026-09-15 $250.00"}},
		{"a step before signing", Agreement{Signed: signed, Price: price, Pay: full, Cancel: cancel("nothing until 2026-09-01", "30% until the wedding")}, "hall/cancel-1#signing",
			[]string{"as written 2026-09-01 $300.00 *", "on signing 2026-10-02 $0.00"}, "hall/cancel-1", []string{"none", "2026-10-02 $0.00"}},
		{"the first day of a step", Agreement{Signed: signed, Price: price, Pay: full, Cancel: cancel("nothing until 2027-06-15", "40% from 3 business days before 2027-06-22")}, "hall/cancel-2#business-days",
			[]string{"banks 2027-06-17 $400.00 *", "federal 2027-06-16 $400.00"}, "", nil},
		{"the last day of a step", Agreement{Signed: signed, Price: price, Pay: full, Cancel: cancel("40% until within 30 days of 2027-05-01", "100% after that")}, "hall/cancel-1#side",
			[]string{"before 2027-04-01 $400.00 *", "after 2027-05-31 $400.00"}, "hall/cancel-1", []string{"2027-04-01 $400.00", "2027-05-31 $400.00"}},
		{"an overlap", Agreement{Signed: signed, Price: price, Pay: full, Cancel: cancel("10% until 2027-06-01", "50% from 2027-05-01")}, "hall/cancel-2#overlap",
			[]string{"lower $100.00", "higher $500.00"}, "hall/cancel-1", []string{"2027-06-01 $100.00", "2027-06-01 $500.00"}},
		{"a gap", Agreement{Signed: signed, Price: price, Pay: full, Cancel: cancel("10% until 2027-05-01", "50% from 2027-05-03 to 2027-09-18")}, "hall/cancel-2#gap",
			[]string{"step before $100.00", "step after $500.00"}, "", nil},
		{"no beginning", Agreement{Signed: signed, Price: price, Pay: full, Cancel: cancel("50% from 2027-05-01 to 2027-08-01", "100% after that")}, "hall#before-the-first-step",
			[]string{"nothing $0.00", "first step $500.00"}, "", nil},
		{"no end", Agreement{Signed: signed, Price: price, Pay: full, Cancel: cancel("nothing until 2027-05-01", "50% until 2027-08-01")}, "hall#after-the-last-step",
			[]string{"last step $500.00", "whole price $1,000.00"}, "", nil},
		{"no cancel lines", Agreement{Signed: signed, Price: price, Pay: full}, "hall#leaving",
			[]string{"nothing $0.00", "whole price $1,000.00"}, "", nil},
		{"a security's return", Agreement{Signed: signed, Pay: pay("security 300 on 2027-09-01, back within 14 days of the wedding"), Cancel: all}, "hall/pay-1/back#side",
			[]string{"back before 2027-09-04 $300.00 *", "back after 2027-10-02 $300.00"}, "hall/pay-1/back", []string{"2027-09-04 $300.00", "2027-10-02 $300.00"}},
	}
}

func what(m Moment, a Amount) string {
	words := []string{m.Date.String()}
	if m.Clock != nil {
		words = append(words, m.Clock.String())
	}
	if a.Known {
		words = append(words, Currency("USD").Range(a))
	}
	return strings.Trim(strings.Join(words, " "), " ")
}

func (q Question) readings() (all []string) {
	for _, r := range q.Readings {
		line := strings.Join(strings.Fields(r.Key+" "+what(r.Moment, r.Amount)), " ")
		if r.Taken {
			line += " *"
		}
		all = append(all, line)
	}
	return all
}

// questionOf is the question of that id, which has to be among those of p.
func questionOf(t testing.TB, p *Plan, c Closures, id string) Question {
	t.Helper()
	var ids []string
	for _, q := range Questions(read(t, p), c) {
		if q.ID == id {
			return q
		}
		ids = append(ids, q.ID)
	}
	t.Fatalf("no question is called %s: %v", id, ids)
	return Question{}
}

// settle writes an answer to q into p.
func settle(p *Plan, q Question, key string) {
	answer := Answer{Reads: key, Who: "june", On: d(2026, 11, 20), Says: "as we always do"}
	for i := range p.Agreements {
		a := &p.Agreements[i]
		if q.Under != "" && q.Agreement == a.Key {
			a.Answers = append(a.Answers, NamedAnswer{q.Under, answer})
			return
		}
		lines := a.Lines()
		if a.Postpone != nil {
			a.Postpone.Key = Postponing
			lines = append(lines, &a.Postpone.Line)
		}
		for _, l := range lines {
			if strings.HasPrefix(q.Path+"/", a.Key+"/"+l.Key+"/") {
				l.Answers = append(l.Answers, answer)
			}
		}
	}
}

// Each question has its readings, with the day and the sum of each.
func TestReadings(t *testing.T) {
	for _, row := range doubtfuls() {
		t.Run(row.why, func(t *testing.T) {
			p := wedding(row.a)
			q := questionOf(t, p, offices, row.id)
			if got, want := fmt.Sprint(q.readings()), fmt.Sprint(row.readings); got != want {
				t.Errorf("%s\nwant %s", got, want)
			}
			if !q.Open() || !q.Settles() || q.Says == "" || q.Agreement != "hall" {
				t.Errorf("%+v", q)
			}
			for _, other := range Questions(p, offices) {
				// By the days of banks, the 16th lies between the two steps.
				if other.ID != row.id && other.ID != "hall/cancel-2#gap" {
					t.Errorf("asks without need: %s", other.Says)
				}
			}
		})
	}
}

// An answer moves what it is about to the day and the sum that its reading
// said; the question is settled, and says by whom.
func TestAnswers(t *testing.T) {
	for n, row := range doubtfuls() {
		for i, reading := range row.readings {
			p := wedding(doubtfuls()[n].a)
			q := questionOf(t, p, offices, row.id)
			key := q.Readings[i].Key
			t.Run(row.why+" "+key, func(t *testing.T) {
				settle(p, q, key)
				items := scheduled(t, p, offices)
				if row.item != "" {
					got := "none"
					if item, ok := items[row.item]; ok {
						got = what(item.Moment, item.Amount)
						if len(item.Questions) > 0 {
							t.Errorf("still asks %v", item.Questions)
						}
					}
					if got != row.moves[i] {
						t.Errorf("%s is %s, want %s", row.item, got, row.moves[i])
					}
				}
				settled := questionOf(t, p, offices, row.id)
				if settled.Open() || settled.Answer.Who != "june" || settled.Answer.On != d(2026, 11, 20) || settled.Answer.Says != "as we always do" {
					t.Errorf("not settled: %+v", settled.Answer)
				}
				for _, r := range settled.Readings {
					if r.Taken != (r.Key == key) {
						t.Errorf("%s is taken: %t, though %s was answered", r.Key, r.Taken, key)
					}
				}
				want := strings.TrimSuffix(reading, " *")
				if got := strings.TrimSuffix(settled.readings()[i], " *"); got != want {
					t.Errorf("once answered, the reading is %s, not %s", got, want)
				}
				if notes := Unasked(p, offices); len(notes) > 0 {
					t.Errorf("%v", notes)
				}
			})
		}
	}
}

// What leaving costs follows the answers about it.
func TestAnswersAboutLeaving(t *testing.T) {
	rows := []struct {
		why     string
		on      Date
		open    Amount
		settled map[string]Amount
	}{
		{"a step before signing", d(2026, 10, 2), Exactly(300_00), map[string]Amount{"as written": Exactly(300_00), "on signing": Exactly(0)}},
		{"a step before signing", d(2026, 10, 3), Exactly(300_00), map[string]Amount{"as written": Exactly(300_00), "on signing": Exactly(300_00)}},
		{"the first day of a step", d(2027, 6, 16), Between(0, 400_00), map[string]Amount{"banks": Between(0, 400_00), "federal": Exactly(400_00)}},
		{"the last day of a step", d(2027, 5, 31), Exactly(1000_00), map[string]Amount{"before": Exactly(1000_00), "after": Exactly(400_00)}},
		{"an overlap", d(2027, 5, 1), Between(100_00, 500_00), map[string]Amount{"lower": Exactly(100_00), "higher": Exactly(500_00)}},
		{"an overlap", d(2027, 4, 30), Exactly(100_00), map[string]Amount{"lower": Exactly(100_00), "higher": Exactly(100_00)}},
		{"a gap", d(2027, 5, 2), Between(100_00, 500_00), map[string]Amount{"step before": Exactly(100_00), "step after": Exactly(500_00)}},
		{"a gap", d(2027, 5, 3), Exactly(500_00), map[string]Amount{"step before": Exactly(500_00)}},
		{"no beginning", d(2027, 4, 30), Between(0, 500_00), map[string]Amount{"nothing": Exactly(0), "first step": Exactly(500_00)}},
		{"no end", d(2027, 8, 2), Between(500_00, 1000_00), map[string]Amount{"last step": Exactly(500_00), "whole price": Exactly(1000_00)}},
		{"no cancel lines", d(2027, 1, 1), Between(0, 1000_00), map[string]Amount{"nothing": Exactly(0), "whole price": Exactly(1000_00)}},
	}
	for _, row := range rows {
		plan := func() *Plan {
			for _, one := range doubtfuls() {
				if one.why == row.why {
					return wedding(one.a)
				}
			}
			t.Fatalf("no plan is called %q", row.why)
			return nil
		}
		cost := func(p *Plan) (Amount, []string) {
			from, to := read(t, p).Minutes(row.on, nil)
			one := Leaving(p, offices, from, to)[0]
			return one.Cost, one.Questions
		}
		if got, _ := cost(plan()); got != row.open {
			t.Errorf("%s: while it is open, leaving on %s costs %v, want %v", row.why, row.on, got, row.open)
		}
		for key, want := range row.settled {
			p := plan()
			settle(p, Questions(read(t, p), offices)[0], key)
			got, asks := cost(p)
			if _, exact := got.Exact(); got != want || exact && len(asks) > 0 {
				t.Errorf("%s, %s: leaving on %s costs %v, want %v; asks %q", row.why, key, row.on, got, want, asks)
			}
		}
	}
}
