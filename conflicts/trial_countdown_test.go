package conflicts

import (
	"slices"
	"strings"
	"testing"

	"banns/milestones"
)

// How late the countdown would be: by more than tight it is serious. Who is
// outside learns that, and nothing of what it is.
func TestLateClash(t *testing.T) {
	step := func(title string, late int) *milestones.Item {
		return &milestones.Item{Title: title, LateBy: &late, Aim: &milestones.Aim{Late: "What would give: a day."}}
	}
	for _, row := range []struct {
		late    []*milestones.Item
		outside bool
		want    Severity
		says    string
		note    string
	}{
		{[]*milestones.Item{step("Order the cake", 1)}, false, Noticeable, `"Order the cake" would come 1 day too late.`, "What would give: a day."},
		{[]*milestones.Item{step("Order the cake", tight)}, false, Noticeable, `"Order the cake" would come 7 days too late.`, "What would give: a day."},
		{[]*milestones.Item{step("Order the cake", tight+1)}, false, Serious, `"Order the cake" would come 8 days too late.`, "What would give: a day."},
		{[]*milestones.Item{step("Order the cake", 1), step("Choose rings", 9), step("Print", 2)}, false, Serious, `"Choose rings" would come 9 days too late, and 2 more steps of the countdown would be late too.`, "What would give: a day."},
		{[]*milestones.Item{step("Order the cake", tight)}, true, Noticeable, "The preparations could not all be done in time.", ""},
		{[]*milestones.Item{step("Order the cake", tight+1)}, true, Serious, "The preparations could not all be done in time.", ""},
	} {
		s := &Scales{Outside: row.outside}
		c := s.lateClash(aSaturday, row.late)
		if c.Severity != row.want || c.Says != row.says || c.Note != row.note || !slices.Equal(c.Effects, []Effect{Deadline}) {
			t.Errorf("%s: %s %s\nwant %s: %s %s", c.Severity, c.Says, c.Note, row.want, row.says, row.note)
		}
	}
}

// A plan that does not say when planning begins is counted from today, so that
// a wedding in eleven days does not look as good as any; and so is what is
// undone of a plan begun long ago, for the time since is spent.
func TestCountdownFromToday(t *testing.T) {
	const note = "Counted from today, for the plan does not say when planning begins."
	for _, row := range []struct {
		what      string
		from      milestones.Date // planning from
		today     milestones.Date
		outside   bool
		want      Verdict
		has, hasn string
	}{
		{"in eleven days", milestones.Date{}, aSaturday.AddDays(-11), false, Avoid, note, "can be done in time"},
		{"in eleven days, from outside", milestones.Date{}, aSaturday.AddDays(-11), true, Avoid, "serious: The preparations could not all be done in time.", "planning"},
		{"in a year and a half", milestones.Date{}, aSaturday.AddDays(-550), false, Clear, "Counted from today, everything that is usual can be done in time.", "too late"},
		{"begun long ago, and nothing ticked off since", aSaturday.AddDays(-550), aSaturday.AddDays(-11), false, Avoid,
			"Counted from today, since the time before it is spent: what was done and is not ticked off counts as undone.", "does not say"},
		{"begun long ago, from outside", aSaturday.AddDays(-550), aSaturday.AddDays(-11), true, Avoid, "serious: The preparations could not all be done in time.", "today"},
		{"begun a while ago, with time enough", aSaturday.AddDays(-600), aSaturday.AddDays(-550), false, Clear, "Everything in the countdown can be done in time.", "too late"},
		{"to begin later", aSaturday.AddDays(-11), aSaturday.AddDays(-550), false, Avoid, "too late", "today"},
		{"begun long ago, and past", aSaturday.AddDays(-550), aSaturday.AddDays(1), false, Blocked, "The day is past.", "too late"},
		{"begun late", aSaturday.AddDays(-11), aSaturday.AddDays(-11), false, Avoid, "too late", "today"},
		{"past", milestones.Date{}, aSaturday.AddDays(1), false, Blocked, "The day is past.", "too late"},
		{"nobody knows the day", milestones.Date{}, milestones.Date{}, false, Clear, "", "in time"},
	} {
		p := lakeTown()
		p.Countdown.From = row.from
		p.Countdown.Wanted = !row.from.IsZero()
		s := NewScales(read(t, p), milestones.NoClosures{}, nil, aSaturday, aSaturday)
		s.Today, s.Outside = row.today, row.outside
		c := s.Weigh([]milestones.Date{aSaturday}, 0)[0]
		said := strings.Join(c.SpeaksFor, "\n")
		for _, k := range c.Clashes {
			said += "\n" + k.Severity.String() + ": " + k.Says + " " + k.Note
		}
		if c.Verdict != row.want || !strings.Contains(said, row.has) || strings.Contains(said, row.hasn) {
			t.Errorf("%s: %s\n%s", row.what, c.Verdict, said)
		}
	}
}

// Of a plan under way what is ticked off needs no time any more; and a step that
// somebody gave a day in the calendar, and left undone, is as late on any day of
// the wedding, so that it tells none from another.
func TestCountdownUnderWay(t *testing.T) {
	p := lakeTown()
	p.Countdown.From = aSaturday.AddDays(-550)
	today := aSaturday.AddDays(-11)
	p.Countdown.Add = []milestones.Milestone{{Key: "bags", What: "Fill the bags", Takes: "3 weeks", When: milestones.Timing{Says: "3 days before the wedding"}}}
	note := ""
	verdict := func() string {
		s := NewScales(read(t, p), milestones.NoClosures{}, nil, aSaturday, aSaturday)
		s.Today, note = today, ""
		for _, c := range s.Weigh([]milestones.Date{aSaturday}, 0)[0].Clashes {
			note += c.Note
		}
		against, _ := weighed(t, s, aSaturday)
		return against
	}
	if got := verdict(); !strings.Contains(got, `serious: "Fill the bags" would come 13 days too late.`) {
		t.Errorf("three weeks of work, eleven days before: %s", got)
	}
	p.Countdown.Add[0].Done = aSaturday.AddDays(-20)
	if got := verdict(); strings.Contains(got, "late") {
		t.Errorf("what is ticked off: %s", got)
	}
	p.Countdown.Add[0].Done = milestones.Date{}
	p.Countdown.Add[0].When.Says = "on " + aSaturday.AddDays(-30).String()
	if got := verdict(); strings.Contains(got, "late") {
		t.Errorf("a day of its own, and past: %s", got)
	}
	// What was late before today came does not put it down to today.
	p.Countdown.Add[0].When.Says = "3 days before the wedding"
	p.Countdown.Add = append(p.Countdown.Add, milestones.Milestone{Key: "tags", What: "Tie the tags", Takes: "1 day", When: milestones.Timing{Says: "10 days before the wedding"}, After: []string{"bags"}})
	today = aSaturday.AddDays(-540)
	if got := verdict(); !strings.Contains(got, `serious: "Tie the tags" would come 8 days too late`) || strings.Contains(note, "today") {
		t.Errorf("set before what it waits for: %s, %s", got, note)
	}
}

// What an agreement names close to the wedding is agreed anew with its day, on
// whichever side of it the other day lies; an invoice is where it was, and so
// is what is over.
func TestDaysAroundTheWedding(t *testing.T) {
	p, was := lakeTown(), aSaturday
	p.Wedding.Date = was
	p.Agreements = append(p.Agreements, milestones.Agreement{Key: "inn", With: "The Inn", Service: "lodging", Standing: milestones.Signed, Signed: was.AddDays(-200),
		Dates: []milestones.NamedDate{{Name: "arrival", Date: was.AddDays(-2)}, {Name: "invoice", Date: was.AddDays(-90)}, {Name: "brunch", Date: was.AddDays(1)}, {Name: "survey"}}})
	s := NewScales(read(t, p), milestones.NoClosures{}, nil, was, was)
	s.Today = was.AddDays(-300)
	named := func() (days []int) {
		for _, one := range p.Agreements[len(p.Agreements)-1].Dates {
			days = append(days, one.Date.DaysSince(was))
		}
		return days
	}
	before := named()
	for _, row := range []struct{ later, arrival, invoice, brunch int }{{49, 47, -90, 50}, {-70, -72, -90, -69}, {0, -2, -90, 1}} {
		plan, _ := s.trial(was.AddDays(row.later))
		var got []int
		for _, one := range plan.Agreements[len(plan.Agreements)-1].Dates[:3] {
			got = append(got, one.Date.DaysSince(was))
		}
		if want := []int{row.arrival, row.invoice, row.brunch}; !slices.Equal(got, want) {
			t.Errorf("%d days later they are %v days from the wedding as planned, not %v", row.later, got, want)
		}
	}
	if !slices.Equal(named(), before) {
		t.Errorf("the plan itself has changed: %v", named())
	}
	s.Today = was.AddDays(-1)
	if plan, _ := s.trial(was.AddDays(7)); plan.Agreements[len(plan.Agreements)-1].Dates[0].Date != was.AddDays(-2) {
		t.Error("an arrival that is over has moved")
	}
}
