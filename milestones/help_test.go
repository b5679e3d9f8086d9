package milestones

import (
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // the same zones on every machine
)

func d(year int, m time.Month, day int) Date { return Date{year, m, day} }

func at(hour, minute int) *Clock { return &Clock{Hour: hour, Minute: minute} }

// said is a line that is a phrase and nothing else.
func said(says string) Line { return Line{Says: says} }

func pay(says ...string) (all []Payment) {
	for _, s := range says {
		all = append(all, Payment{Line: said(s)})
	}
	return all
}

func cancel(says ...string) (all []CancelStep) {
	for _, s := range says {
		all = append(all, CancelStep{Line: said(s)})
	}
	return all
}

func change(says ...string) (all []ChangeBy) {
	for _, s := range says {
		all = append(all, ChangeBy{Line: said(s)})
	}
	return all
}

func papers(says ...string) (all []Paper) {
	for _, s := range says {
		all = append(all, Paper{Line: said(s)})
	}
	return all
}

// costs is a price of so many minor units.
func costs(m Money) Price { return Price{Sum: &m} }

// wedding is a plan for the demo's day, with these agreements.
func wedding(agreements ...Agreement) *Plan {
	return weddingOn(d(2027, 9, 18), agreements...)
}

func weddingOn(day Date, agreements ...Agreement) *Plan {
	for i := range agreements {
		a := &agreements[i]
		if a.BusinessDays == "" {
			a.BusinessDays = Banks
		}
		if a.Standing == "" {
			a.Standing = Signed
		}
		if a.Key == "" {
			a.Key, a.With = "hall", "The Hall"
		}
		if a.With == "" {
			a.With = a.Key
		}
	}
	return &Plan{
		Wedding:    Wedding{Title: "Maren and Theo", Date: day, Start: at(16, 30), Zone: "America/Detroit", Currency: "USD"},
		Agreements: agreements,
	}
}

// holidays are closures as data: the name of each closed day, for banks and
// government offices alike.
type holidays map[Date]string

func (h holidays) Holiday(d Date, _ BusinessDays) string { return h[d] }

// officesApart are closures that banks and government offices do not share.
type officesApart map[BusinessDays]holidays

func (o officesApart) Holiday(d Date, kind BusinessDays) string { return o[kind][d] }

// read reads p and fails the test over any fault.
func read(t testing.TB, p *Plan) *Plan {
	t.Helper()
	faults, _ := p.Read()
	for _, f := range faults {
		t.Error(f)
	}
	if len(faults) > 0 {
		t.FailNow()
	}
	return p
}

// scheduled is what Schedule makes of p, by id.
func scheduled(t testing.TB, p *Plan, c Closures) map[string]Item {
	t.Helper()
	all := map[string]Item{}
	for _, i := range Schedule(read(t, p), c) {
		if _, twice := all[i.ID]; twice {
			t.Fatalf("two items have the id %s", i.ID)
		}
		all[i.ID] = i
	}
	return all
}

// refusal is the only fault of p.
func refusal(t *testing.T, p *Plan) string {
	t.Helper()
	faults, _ := p.Read()
	if len(faults) != 1 {
		t.Fatalf("%d faults, want one: %v", len(faults), faults)
	}
	return faults[0].Error()
}

// asks reports whether a question holds all of words, and shows all otherwise.
func asks(t *testing.T, p *Plan, words ...string) {
	t.Helper()
	all := Questions(read(t, p), NoClosures{})
	if !slices.ContainsFunc(all, func(q Question) bool {
		return !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(q.Says, w) })
	}) {
		t.Errorf("no question holds %q: %v", words, all)
	}
}
