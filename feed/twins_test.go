package feed

import (
	"encoding/json"
	"fmt"
	"slices"

	"pgregory.net/rapid"

	"banns/milestones"
)

// sameDays are timings, two and two of the same day.
var sameDays = [][2]string{
	{"21 days before the wedding", "3 weeks before the wedding"},
	{"14 days before the wedding", "within 14 days of the wedding"},
	{"30 days before the wedding by 17:00", "by 2027-08-19 by 17:00"},
	{"by 2026-10-02", "on or before 2 October 2026"},
	{"8 days after the wedding", "by 2027-09-26"},
}

// names are what "for" and "hide from" may say in these plans.
var names = []string{"p1", "p2", "p3", "p4", "readers", "attendant", "officiant", "vendor"}

func drawNames(t *rapid.T, most int) []string {
	return rapid.SliceOfNDistinct(rapid.SampledFrom(names), 0, most, rapid.ID[string]).Draw(t, "names")
}

// drawPlan draws a plan with keyed lines: people of all parts, agreements of
// all standings, and things to attend.
func drawPlan(t *rapid.T) *milestones.Plan {
	p := &milestones.Plan{ID: "w", Wedding: milestones.Wedding{Title: "Ana and Bo", Date: d(2027, 9, 18),
		Zone: "America/Detroit", Currency: "USD", Start: &milestones.Clock{Hour: 16}}}
	for n, part := range []milestones.Part{milestones.Couple, milestones.Attendant, milestones.Officiant,
		milestones.Vendor, milestones.Family, milestones.Planner} {
		who := milestones.Person{Key: fmt.Sprintf("p%d", n), Name: fmt.Sprintf("Person %d", n), Part: part, Email: "a@example.org"}
		if n == 1 || rapid.Bool().Draw(t, "reads") { // a group is somebody's
			who.Groups = []string{"readers"}
		}
		p.People = append(p.People, who)
	}
	for n := range rapid.IntRange(1, 3).Draw(t, "agreements") {
		p.Agreements = append(p.Agreements, drawAgreement(t, fmt.Sprintf("a%d", n)))
	}
	if rapid.Bool().Draw(t, "countdown") {
		p.Countdown = milestones.Countdown{Wanted: true, From: d(2027, rapid.IntRange(1, 8).Draw(t, "from"), 1)}
	}
	for n := range rapid.IntRange(0, 3).Draw(t, "meetings") {
		addMeeting(t, p, fmt.Sprintf("m%d", n), drawNames(t, 3), drawNames(t, 1))
	}
	return p
}

func drawAgreement(t *rapid.T, key string) milestones.Agreement {
	price := milestones.Money(5_000_000)
	someone := rapid.SampledFrom([]string{"", "p1", "p3", "p4"})
	a := milestones.Agreement{Key: key, With: "Vendor " + key, Signed: d(2026, 10, 2), Price: milestones.Price{Sum: &price},
		Service:  rapid.SampledFrom([]string{"", "catering", "venue", "music", "hair"}).Draw(t, "service"),
		Standing: rapid.SampledFrom(milestones.Standings).Draw(t, "standing"),
		Payer:    someone.Draw(t, "payer"), Contact: someone.Draw(t, "contact"), Hide: drawNames(t, 1)}
	for n := range rapid.IntRange(0, 2).Draw(t, "payments") {
		a.Pay = append(a.Pay, milestones.Payment{Line: drawLine(t, fmt.Sprintf("y%d", n), "700")})
	}
	if rapid.Bool().Draw(t, "security") {
		l := drawLine(t, "s", "security 300")
		l.Says += ", back 9 days after the wedding"
		a.Pay = append(a.Pay, milestones.Payment{Line: l})
	}
	a.Cancel = []milestones.CancelStep{{Line: drawLine(t, "x", "20% until")}, {Line: milestones.Line{Key: "z", Says: "100% after that"}}}
	a.Cancel[0].Says = "20% until 60 days before the wedding"
	a.Change = []milestones.ChangeBy{{Line: drawLine(t, "c", "headcount")}}
	a.Papers = []milestones.Paper{{Line: drawLine(t, "r", "floor plan")}}
	return a
}

func drawLine(t *rapid.T, key, what string) milestones.Line {
	return milestones.Line{Key: key, Says: what + " " + rapid.SampledFrom(sameDays).Draw(t, "day")[0],
		For: drawNames(t, 2), Hide: drawNames(t, 1), Owed: rapid.Bool().Draw(t, "owed"),
		Note: "a note", Wording: "the contract's words"}
}

// addMeeting adds something to attend, of one kind or another.
func addMeeting(t *rapid.T, p *milestones.Plan, key string, whose, hide []string) {
	m := milestones.Meeting{Key: key, What: "Meeting " + key, For: whose, Hide: hide, Note: "a note",
		When: milestones.Timing{Says: rapid.SampledFrom(sameDays).Draw(t, "day")[0]}}
	switch rapid.IntRange(0, 2).Draw(t, "kind") {
	case 0:
		p.Appointments = append(p.Appointments, milestones.Appointment{Meeting: m})
	case 1:
		p.Occasions = append(p.Occasions, milestones.Occasion{Meeting: m})
	default:
		p.Countdown.Add = append(p.Countdown.Add, milestones.Milestone{Key: key, What: m.What, For: whose, Hide: hide, Note: m.Note, When: m.When})
	}
}

// known is what the design lets who know of a line of an agreement, and of
// the agreement's money. It is written from the design, and uses none of the
// code under test.
func known(p *milestones.Plan, a *milestones.Agreement, l milestones.Line, k milestones.Kind, key string) (line, money bool) {
	who, _ := p.Person(key)
	boss := who.Part == milestones.Couple || who.Part == milestones.Planner
	pays := a.Payer == key || a.Payer == "" && who.Part == milestones.Couple
	sells := a.Contact == key
	money = boss || pays || sells
	if who.Named(a.Hide) || who.Named(l.Hide) {
		return false, money
	}
	switch a.Standing {
	case milestones.Quoted:
		return boss, money
	case milestones.Replaced, milestones.Ended:
		return (l.Owed || k == milestones.KindRefund) && (pays || who.Part == milestones.Planner), money
	}
	line = boss || who.Named(l.For)
	switch k {
	case milestones.KindPayment, milestones.KindRefund:
		line = line || pays || sells
	case milestones.KindCancelBy:
		line = line || pays
	default:
		line = line || sells
	}
	return line, money
}

func clone(p *milestones.Plan) *milestones.Plan {
	text, err := json.Marshal(p)
	if err != nil {
		panic(err)
	}
	var other milestones.Plan
	if err := json.Unmarshal(text, &other); err != nil {
		panic(err)
	}
	return &other
}

// without drops every second of those that who knows nothing of.
func without[T any](t *rapid.T, all []T, knows func(T) bool) []T {
	return slices.DeleteFunc(all, func(one T) bool {
		return !knows(one) && rapid.Bool().Draw(t, "drop")
	})
}
