package milestones

import (
	"fmt"
	"testing"
)

// fullPlan has as many agreements, of the terms that a wedding's usually have.
func fullPlan(agreements int) *Plan {
	var all []Agreement
	for n := range agreements {
		all = append(all, Agreement{
			Key: fmt.Sprintf("vendor-%d", n), Signed: d(2026, 10, 2), Price: costs(4800_00),
			Closed: []Date{d(2027, 9, 7)}, Dates: []NamedDate{{"invoice", d(2027, 8, 1)}},
			Pay: pay("25% on signing", "3 equal payments monthly from 5 months after signing", "security 500 30 days before the wedding, back within 14 days after the wedding"),
			Cancel: cancel("the deposit until 181 days before the wedding", "the deposit plus 50% of the rest until 91 days before the wedding",
				"the greater of 75% or 100% of what has been paid until 31 days before the wedding", "100% after that"),
			Change: change("final headcount 10 business days before the wedding by 17:00", "menu choice 60 days before the wedding",
				"bar count with final headcount", "doors 48 hours before the wedding"),
			Papers:   papers("floor plan 30 days before the wedding", "meal list 3 business days after final headcount", "permit 10 days after invoice"),
			Postpone: &Postpone{Line: said("once, with 60 days' notice, for 500, to a date within 12 months")},
		})
	}
	return wedding(all...)
}

var labor = holidays{d(2027, 7, 5): "Independence Day", d(2027, 9, 6): "Labor Day"}

// A wedding has some 17 agreements.
func BenchmarkSchedule(b *testing.B) {
	for _, n := range []int{17, 170} {
		b.Run(fmt.Sprintf("%d agreements", n), func(b *testing.B) {
			p := read(b, fullPlan(n))
			b.ReportAllocs()
			for b.Loop() {
				if got := len(Schedule(p, labor)); got != n*17+1 {
					b.Fatalf("%d items", got)
				}
			}
		})
	}
}

func BenchmarkRead(b *testing.B) {
	for _, n := range []int{17, 170} {
		b.Run(fmt.Sprintf("%d agreements", n), func(b *testing.B) {
			for b.Loop() {
				read(b, fullPlan(n))
			}
		})
	}
}
