package feed_test

import (
	"slices"
	"strings"
	"testing"

	"banns/feed"
	"banns/milestones"
)

// seenBy are somebody's milestones in the demo, by key.
func seenBy(p *milestones.Plan, items []milestones.Item, who string) map[string]feed.Entry {
	all := map[string]feed.Entry{}
	for _, e := range feed.View(p, items, who) {
		if key, milestone := strings.CutPrefix(e.ID, "countdown/"); milestone {
			all[key] = e
		}
	}
	return all
}

// Read on a phone: what to do, by when, why that day, and how far it can slip.
func TestMilestoneInWords(t *testing.T) {
	p, items := demo(t)
	for _, row := range []struct{ key, summary, text string }{
		{"replies", "Have the replies in", `Best done by Sat 28 Aug 2027.
Usually 2 to 3 weeks before the wedding; guests want three weeks to answer.
It waits for the invitations.
It leaves time for the final headcount that Hollow Oak Table needs by Thu 2 Sep 2027.
It cannot slip.`},
		{"place-cards", "Write the place cards", `Best done by Tue 14 Sep 2027.
Usually in the last days, once the seating plan stands.
It waits for the seating plan.
Up to 3 days later still works.`},
		{"invitations", "Post the invitations", `Best done by Sat 17 Jul 2027.
The plan sets it: 9 weeks before the wedding.
Usually 6 to 8 weeks before the wedding, and 12 where guests travel far.
It waits for the save-the-dates and the proof approval of Inkwater Press.
It leaves time for the final headcount that Hollow Oak Table needs by Thu 2 Sep 2027.
Up to 21 days later still works.`},
		{"guest-addresses", "Done: Gather the guests' addresses", `Done on Sun 15 Nov 2026.`},
		{"licence", "Apply for the marriage licence at Alder County Clerk", `Best done by Fri 27 Aug 2027.
By the office's rule the last day to apply is Tue 14 Sep 2027. Before Mon 16 Aug 2027 is too soon: it would run out.
Up to 18 days later still works.
Note: The office's word counts: ask it before you rely on these days.`},
	} {
		e := seenBy(p, items, "maren")[row.key]
		if e.Summary() != row.summary || e.Text() != row.text {
			t.Errorf("%s reads\n%s\n%s\nwant\n%s\n%s", row.key, e.Summary(), e.Text(), row.summary, row.text)
		}
	}
}

// One that comes too late says by how much, and what would give.
func TestLateMilestoneInWords(t *testing.T) {
	days := 7
	e := feed.Whole(&milestones.Plan{}, &milestones.Item{Kind: milestones.KindMilestone, Title: "Order the attire",
		Moment: milestones.Moment{Date: milestones.Date{Year: 2027, Month: 7, Day: 17}}, LateBy: &days,
		Aim: &milestones.Aim{Latest: milestones.Date{Year: 2027, Month: 7, Day: 10}, Late: "It comes 7 days too late."}})
	if want := "Best done by Sat 17 Jul 2027.\nIt comes 7 days too late."; e.Text() != want {
		t.Errorf("it reads\n%s\nwant\n%s", e.Text(), want)
	}
}

// A person's feed holds what that person is to do. Why it has its day names
// agreements and their days, so that is for the couple and their planner.
func TestMilestonesOfOthers(t *testing.T) {
	p, items := demo(t)
	want := map[string][]string{"tomas": {"ring-handover", "suits-back"}, "kofi": {"suits-back"}, "hanneke": {"ceremony", "licence-return"},
		"fern": {"welcome-bags"}, "jonah": {"welcome-bags"}, "maren": nil, "theo": nil, "odile": nil}
	for _, who := range p.People {
		seen := seenBy(p, items, who.Key)
		if boss := who.Part == milestones.Couple || who.Part == milestones.Planner; boss {
			if len(seen) < 20 || seen["seating"].Aim == nil {
				t.Errorf("%s sees %d milestones, and of the seating plan %+v", who.Key, len(seen), seen["seating"].Aim)
			}
			continue
		}
		var keys []string
		for key, e := range seen {
			keys = append(keys, key)
			if e.Aim != nil || e.LateBy != nil || e.Slack != nil || e.Rule != "" || len(e.Questions) > 0 {
				t.Errorf("%s sees of %s what agreements say: %+v", who.Key, key, e)
			}
			for _, a := range p.Agreements {
				if strings.Contains(e.Summary()+e.Text(), a.With) {
					t.Errorf("%s reads of %s: %s", who.Key, a.With, e.Text())
				}
			}
		}
		slices.Sort(keys)
		if !slices.Equal(keys, want[who.Key]) {
			t.Errorf("%s sees %v, want %v", who.Key, keys, want[who.Key])
		}
	}
}

// In a calendar that is too long, a milestone that comes in time is a line.
func TestBriefMilestone(t *testing.T) {
	p, items := demo(t)
	c := calendarOf(p, items, "maren", feed.ByAlarm)
	for n := range c.Published {
		c.Published[n].Brief = true
	}
	for _, event := range strings.Split(string(feed.Encode(c)), "BEGIN:VEVENT")[1:] {
		milestone := strings.Contains(event, "SUMMARY:Draw up the seating plan")
		if brief := !strings.Contains(event, "DESCRIPTION:") && !strings.Contains(event, "VALARM"); milestone && !brief {
			t.Errorf("the seating plan is still%s", event)
		}
		if pays := strings.Contains(event, "SUMMARY:Pay The Net Loft"); pays && !strings.Contains(event, "DESCRIPTION:Due by") {
			t.Errorf("the payment says too little:%s", event)
		}
	}
}
