package milestones

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// engaged is a plan with a countdown: some services with terms that
// milestones serve, some meetings, some absences, and milestones that were
// dropped, moved and added. Without closed, nothing is closed and nobody away.
func engaged(t *rapid.T, closed bool) *Plan {
	wed := d(2027, 9, 18).AddDays(rapid.IntRange(0, 500).Draw(t, "wedding"))
	p := weddingOn(wed)
	p.People = []Person{{Key: "ida", Name: "Ida", Part: Couple}, {Key: "kai", Name: "Kai", Part: Officiant}, {Key: "odile", Name: "Odile", Part: Planner}}
	if rapid.Bool().Draw(t, "attendants") {
		p.People = append(p.People, Person{Key: "priya", Name: "Priya", Part: Attendant})
	}
	for _, service := range rapid.SliceOfDistinct(rapid.SampledFrom([]string{"catering", "venue", "dress", "suits", "hair", "rooms", "photography", "music", "stationery"}), rapid.ID[string]).Draw(t, "services") {
		a := Agreement{Key: service, With: "The " + service, Service: service, BusinessDays: MonFri,
			Signed: d(2026, 1, 5), Standing: rapid.SampledFrom([]Standing{Signed, Signed, Quoted}).Draw(t, "standing")}
		for _, label := range rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"final headcount", "meal list", "room block release", "suit sizes", "proof approval", "arrival times", "menu choice"}), 0, 3, rapid.ID[string]).Draw(t, "terms") {
			a.Change = append(a.Change, ChangeBy{Line: said(fmt.Sprintf("%s %d days before the wedding", label, rapid.IntRange(3, 120).Draw(t, "days")))})
		}
		p.Agreements = append(p.Agreements, a)
	}
	for n, what := range rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"First fitting", "Venue walkthrough", "Hair trial", "Menu tasting", "Dress collection"}), 0, 4, rapid.ID[string]).Draw(t, "meetings") {
		m := Meeting{Key: fmt.Sprintf("m%d", n), What: what, When: Timing{Says: fmt.Sprintf("%d days before the wedding", rapid.IntRange(1, 120).Draw(t, "days"))}}
		p.Appointments = append(p.Appointments, Appointment{m})
	}
	p.Countdown = Countdown{Wanted: true, From: wed.AddDays(-rapid.IntRange(10, 600).Draw(t, "engagement")),
		Drop: rapid.SliceOfNDistinct(rapid.SampledFrom(customKeys()), 0, 3, rapid.ID[string]).Draw(t, "drop")}
	if rapid.Bool().Draw(t, "licence") {
		p.Licence = &Licence{Office: "The Clerk", Waits: "3 days from application", Lasts: "30 days from issue"}
	}
	for _, key := range rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"invitations", "rings", "seating"}), 0, 2, rapid.ID[string]).Draw(t, "moved") {
		p.Countdown.Move = append(p.Countdown.Move, Move{key, Timing{Says: fmt.Sprintf("%d days before the wedding", rapid.IntRange(1, 200).Draw(t, "days"))}})
	}
	if rapid.Bool().Draw(t, "own") {
		p.Countdown.Add = []Milestone{{Key: "bags", What: "Bags", When: Timing{Says: "3 days before the wedding"}, Takes: "1 day", After: []string{"seating", "rooms"}}}
	}
	if closed {
		from := wed.AddDays(-rapid.IntRange(0, 100).Draw(t, "away"))
		p.Away = []Absence{{"ida", from, from.AddDays(rapid.IntRange(0, 20).Draw(t, "for"))}}
	}
	return p
}

// drawn is the countdown of p by id, in a region with two holidays.
func drawn(t *rapid.T, p *Plan) map[string]Item {
	if faults, _ := p.Read(); len(faults) > 0 {
		t.Fatal(faults)
	}
	all := map[string]Item{}
	for _, i := range CountDown(p, holidays{d(2027, 7, 5): "Independence Day (observed)", d(2027, 9, 6): "Labor Day"}).Items {
		all[i.ID] = i
	}
	return all
}

// tasks are what the countdown of p, which was read, is made of.
func tasks(p *Plan) []*task {
	s := work(p, NoClosures{})
	d := s.drawing()
	return d.draw()
}

// No milestone stands before what it waits for, nor later than its last day,
// without saying by how much; and none before it can be done.
func TestCountdownIsInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := engaged(t, true)
		all := drawn(t, p)
		for id, i := range all {
			for _, first := range i.Aim.After {
				if i.Date.Before(all[first].Date) && i.LateBy == nil {
					t.Fatalf("%s on %s is before %s on %s", id, i.Date, first, all[first].Date)
				}
			}
			late := i.Date.DaysSince(i.Aim.Latest)
			if !i.Aim.Latest.IsZero() && late > 0 && (i.LateBy == nil || *i.LateBy < late) {
				t.Fatalf("%s on %s is %d days later than %s, and says %v", id, i.Date, late, i.Aim.Latest, i.LateBy)
			}
			if early := i.Aim.Earliest.DaysSince(i.Date); early > 0 && (i.LateBy == nil || *i.LateBy < early) {
				t.Fatalf("%s on %s is %d days earlier than %s, and says %v", id, i.Date, early, i.Aim.Earliest, i.LateBy)
			}
			if (i.LateBy == nil) != (i.Aim.Late == "") {
				t.Fatalf("%s is late by %v and says %q", id, i.LateBy, i.Aim.Late)
			}
		}
		for _, st := range tasks(p) {
			for _, first := range st.before {
				if ready := first.day.AddDays(st.takes); st.toDo() && st.day.Before(ready) && st.late < ready.DaysSince(st.day) {
					t.Fatalf("%s takes %d days and is on %s, after %s on %s", st.key, st.takes, st.day, first.key, first.day)
				}
			}
		}
		for _, m := range p.Countdown.Move {
			r := newReckoning(p, NoClosures{})
			if i, here := all["countdown/"+m.Key]; here && i.Date != r.timing(node{when: &m.When}, reads{}).Date {
				t.Fatalf("%s was moved to %q and stands on %s", m.Key, m.When.Says, i.Date)
			}
		}
	})
}

// Moving the wedding later by whole weeks never makes anything later by more
// than that. A holiday or somebody's absence may swallow a part of a move or
// give it back, so there are none here.
func TestMovingTheWeddingMovesTheCountdown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := engaged(t, false)
		quiet := func() map[string]Item {
			if faults, _ := p.Read(); len(faults) > 0 {
				t.Fatal(faults)
			}
			all := map[string]Item{}
			for _, i := range CountDown(p, NoClosures{}).Items {
				all[i.ID] = i
			}
			return all
		}
		before := quiet()
		by := 7 * rapid.IntRange(1, 60).Draw(t, "weeks")
		p.Wedding.Date = p.Wedding.Date.AddDays(by)
		for id, i := range quiet() {
			if was, here := before[id]; here && i.Date.DaysSince(was.Date) > by {
				t.Fatalf("%s was on %s, and %d days later it is on %s", id, was.Date, by, i.Date)
			}
		}
	})
}

// What is ticked off stands on its day, with all that it waited for, and makes
// nothing else earlier than it can be done.
func TestTickingOffKeepsTheOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := engaged(t, true)
		before := drawn(t, p)
		var keys []string
		for id, i := range before {
			if i.Done.IsZero() {
				keys = append(keys, strings.TrimPrefix(id, "countdown/"))
			}
		}
		slices.Sort(keys)
		if len(keys) == 0 {
			return
		}
		key := rapid.SampledFrom(keys).Draw(t, "ticked")
		was := before["countdown/"+key].Date
		on := was.AddDays(rapid.IntRange(-100, 100).Draw(t, "off"))
		p.Countdown.Done = []NamedDate{{key, on}}
		after := drawn(t, p)
		if got := after["countdown/"+key]; got.Done != on || got.Date != on {
			t.Fatalf("%s was ticked off on %s, and is done on %s, standing on %s", key, on, got.Done, got.Date)
		}
		for id, i := range after {
			if i.Done.IsZero() && i.Date.Before(i.Aim.Earliest) && i.LateBy == nil {
				t.Fatalf("%s is on %s, before %s", id, i.Date, i.Aim.Earliest)
			}
			for _, first := range i.Aim.After {
				if _, milestone := after[first]; milestone && !i.Done.IsZero() && after[first].Done.IsZero() {
					t.Fatalf("%s is done, and %s that it waited for is not", id, first)
				}
			}
		}
	})
}
