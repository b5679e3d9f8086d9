package milestones

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// partition is whole cut into n parts, some of them perhaps nothing.
func partition(t *rapid.T, whole int64, n int) []int64 {
	cuts := rapid.SliceOfN(rapid.Int64Range(0, whole), n-1, n-1).Draw(t, "cuts")
	slices.Sort(cuts)
	parts, from := []int64{}, int64(0)
	for _, to := range append(cuts, whole) {
		parts, from = append(parts, to-from), to
	}
	return parts
}

// somePayments are payments that leave the price neither short nor over:
// shares and sums, and something that takes the rest. Some are done, with or
// without an amount.
func somePayments(t *rapid.T, price Money) []Payment {
	n := rapid.IntRange(1, 6).Draw(t, "payments")
	last := rapid.Int64Range(int64(Whole)/10, int64(Whole)).Draw(t, "last") // enough to take what rounding leaves
	shares := []int64{int64(Whole)}
	if n > 1 {
		shares = append(partition(t, int64(Whole)-last, n-1), last)
	}
	rest := rapid.SampledFrom([]string{"share", "balance", "equal"}).Draw(t, "rest")
	var all []Payment
	for i, share := range shares {
		says := Percent(share).String()
		switch {
		case i == n-1 && rest == "balance":
			says = "balance"
		case i == n-1 && rest == "equal":
			says = fmt.Sprintf("%d equal payments monthly", rapid.IntRange(1, 24).Draw(t, "times"))
		case rest != "share" && rapid.Bool().Draw(t, "sum"):
			says = Currency("USD").Plain(Money(int64(price) * share / int64(Whole)))
		}
		line := said(fmt.Sprintf("%s on %s", says, anyDate(2026, 2027).Draw(t, "due")))
		if i < n-1 && rapid.Bool().Draw(t, "done") {
			line.Done = anyDate(2026, 2027).Draw(t, "day")
			if rapid.Bool().Draw(t, "amount") {
				line.Amount = new(Money(rapid.Int64Range(0, int64(price)*share/int64(Whole)).Draw(t, "paid")))
			}
		}
		all = append(all, Payment{Line: line})
	}
	return all
}

// Whatever their forms and whatever was paid, payments sum to the price to
// the cent, and none is below nothing.
func TestPaymentsSumToThePrice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		price := Money(rapid.Int64Range(100, 1e9).Draw(t, "price"))
		p := wedding(Agreement{Signed: d(2025, 10, 2), Price: costs(price), Pay: somePayments(t, price)})
		if faults, _ := p.Read(); len(faults) > 0 {
			t.Fatal(faults)
		}
		var sum Money
		for _, i := range Schedule(p, NoClosures{}) {
			if i.Kind == KindPayment {
				m, exact := i.Amount.Exact()
				if !exact || m < 0 {
					t.Fatalf("%s (%s) is %v", i.ID, i.Rule, i.Amount)
				}
				sum += m
			}
		}
		if sum != price {
			t.Fatalf("the payments sum to %d, not %d", sum, price)
		}
	})
}

// chained is a plan whose changes are counted, by days or weeks, from the
// wedding, from signing, from a date or from each other. It returns what each
// is counted from in the end: "wedding", "signing" or "date".
func chained(t *rapid.T) (p *Plan, counts []int, anchors []int, roots []string) {
	a := Agreement{Signed: d(2020, 1, 15)}
	for i := range rapid.IntRange(1, 12).Draw(t, "terms") {
		anchor := rapid.IntRange(-3, i-1).Draw(t, "anchor")
		count := rapid.IntRange(1, 60).Draw(t, "count")
		root := "date"
		switch anchor {
		case -3:
			root = "wedding"
		case -2:
			root = "signing"
		case -1:
		default:
			root = roots[anchor]
		}
		counts, anchors, roots = append(counts, count), append(anchors, anchor), append(roots, root)
		unit := rapid.SampledFrom([]string{"days", "weeks"}).Draw(t, "unit")
		side := "after" // so that nothing falls before signing
		a.Change = append(a.Change, ChangeBy{Line: said(link(i, count, unit, side, anchor))})
	}
	return wedding(a), counts, anchors, roots
}

func link(i, count int, unit, side string, anchor int) string {
	to := fmt.Sprintf("change-%d", anchor+1)
	switch anchor {
	case -3:
		to = "the wedding"
	case -2:
		to = "signing"
	case -1:
		to = "2027-02-28"
	}
	return fmt.Sprintf("thing%d %d %s %s %s", i, count, unit, side, to)
}

// moments are the days of the changes of p, in their order.
func moments(t *rapid.T, p *Plan) []Date {
	faults, _ := p.Read()
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	days := make([]Date, len(p.Agreements[0].Change))
	for _, i := range Schedule(p, NoClosures{}) {
		var n int
		if _, err := fmt.Sscanf(i.ID, "hall/change-%d", &n); err == nil {
			days[n-1] = i.Date
		}
	}
	return days
}

// Moving the wedding moves what is counted from it by as many days, and
// nothing else.
func TestMovingTheWedding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, _, _, roots := chained(t)
		before := moments(t, p)
		by := rapid.IntRange(-400, 400).Draw(t, "by")
		p.Wedding.Date = p.Wedding.Date.AddDays(by)
		for i, day := range moments(t, p) {
			want := 0
			if roots[i] == "wedding" {
				want = by
			}
			if got := day.DaysSince(before[i]); got != want {
				t.Fatalf("%q moved by %d days, want %d", p.Agreements[0].Change[i].Says, got, want)
			}
		}
	})
}

// Changing one term changes it and what is anchored to it, by as many days.
func TestChangingOneTerm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, counts, anchors, _ := chained(t)
		before := moments(t, p)
		one := rapid.IntRange(0, len(counts)-1).Draw(t, "one")
		by := rapid.IntRange(1, 60).Draw(t, "by")
		p.Agreements[0].Change[one].Says = link(one, counts[one]+by, "days", "after", anchors[one])
		after := moments(t, p)
		moved := after[one].DaysSince(before[one])
		follows := make([]bool, len(counts))
		for i := range counts {
			follows[i] = i == one || anchors[i] >= 0 && follows[anchors[i]]
			want := 0
			if follows[i] {
				want = moved
			}
			if got := after[i].DaysSince(before[i]); got != want {
				t.Fatalf("%q moved by %d days, want %d", p.Agreements[0].Change[i].Says, got, want)
			}
		}
	})
}

// A month's end or a weekday in between may swallow a move, but what is not
// counted from the wedding never moves with it.
func TestWhatIsNotCountedFromTheWeddingStays(t *testing.T) {
	fixed := []string{"a on signing", "b 6 months after signing", "c 10 business days after signing", "d by 2027-03-31",
		"e the Friday before 2027-03-31", "f 1 month after c", "g within 3 weeks after d by 17:00"}
	rapid.Check(t, func(t *rapid.T) {
		p := wedding(Agreement{Signed: d(2026, 10, 2), Change: change(fixed...)})
		before := moments(t, p)
		p.Wedding.Date = anyDate(2026, 2029).Draw(t, "day")
		if after := moments(t, p); !slices.Equal(before, after) {
			t.Fatalf("%v became %v", before, after)
		}
	})
}

// The same plan gives the same items, in order of date, hour and id, undated
// ones last.
func TestScheduleIsDeterministicAndSorted(t *testing.T) {
	good := goodPhrases(demoPhrases(t))
	rapid.Check(t, func(t *rapid.T) {
		p := somePlan(t, good)
		if faults, _ := p.Read(); len(faults) > 0 {
			t.Fatal(faults)
		}
		first := Schedule(p, NoClosures{})
		again := *p
		again.Agreements = slices.Clone(p.Agreements)
		if faults, _ := again.Read(); len(faults) > 0 {
			t.Fatalf("read once more, it has faults: %v", faults)
		}
		if second := Schedule(&again, NoClosures{}); !reflect.DeepEqual(first, second) {
			t.Fatalf("%+v\nbecame\n%+v", first, second)
		}
		var order []string
		for _, i := range first {
			hour := "" // sorts before any hour
			if i.Clock != nil {
				hour = i.Clock.String()
			}
			order = append(order, fmt.Sprintf("%t %s %5s %s", i.Undated(), i.Date, hour, i.ID))
			if i.Undated() != (i.WaitsFor != "") {
				t.Fatalf("%s is on %q and waits for %q", i.ID, i.Date, i.WaitsFor)
			}
		}
		if !slices.IsSorted(order) {
			t.Fatal(strings.Join(order, "\n"))
		}
	})
}

// goodPhrases are the phrases that can stand alone in each list.
func goodPhrases(phrases []string) map[string][]string {
	good := map[string][]string{}
	for _, says := range phrases {
		for list, a := range map[string]Agreement{
			"pay": {Pay: pay(says)}, "cancel": {Cancel: cancel(says)}, "change": {Change: change(says)}, "papers": {Papers: papers(says)},
		} {
			if faults, _ := wedding(a).Read(); len(faults) == 0 {
				good[list] = append(good[list], says)
			}
		}
	}
	return good
}

// somePlan has a few agreements of good phrases, and perhaps an open date.
func somePlan(t *rapid.T, good map[string][]string) *Plan {
	draw := func(list string, most int) []string {
		return rapid.SliceOfN(rapid.SampledFrom(good[list]), 0, most).Draw(t, list)
	}
	var all []Agreement
	for i := range rapid.IntRange(1, 3).Draw(t, "agreements") {
		all = append(all, Agreement{Key: fmt.Sprintf("a%d", i), Signed: d(2026, 10, 2), Price: costs(10_000_00), Pay: pay(draw("pay", 1)...),
			Cancel: cancel(draw("cancel", 4)...), Change: change(draw("change", 5)...), Papers: papers(draw("papers", 5)...)})
	}
	return weddingOn(rapid.SampledFrom([]Date{{}, d(2027, 9, 18), d(2026, 11, 1)}).Draw(t, "day"), all...)
}

// mutated is an agreement of the demo's phrases, of which some have lost,
// doubled or exchanged words or letters.
func mutated(t *rapid.T, phrases []string) *Plan {
	draw := func(list string) (all []string) {
		for range rapid.IntRange(0, 3).Draw(t, list) {
			all = append(all, mutate(t, rapid.SampledFrom(phrases).Draw(t, "phrase")))
		}
		return all
	}
	a := Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay(draw("pay")...), Cancel: cancel(draw("cancel")...),
		Change: change(draw("change")...), Papers: papers(draw("papers")...)}
	if rapid.Bool().Draw(t, "postpone") {
		a.Postpone = &Postpone{Line: said(mutate(t, rapid.SampledFrom(phrases).Draw(t, "phrase")))}
	}
	return wedding(a)
}

func mutate(t *rapid.T, says string) string {
	words := strings.Split(says, " ")
	for range rapid.IntRange(0, 2).Draw(t, "changes") {
		i, j := rapid.IntRange(0, len(words)-1).Draw(t, "i"), rapid.IntRange(0, len(words)-1).Draw(t, "j")
		switch rapid.IntRange(0, 4).Draw(t, "change") {
		case 0:
			words[i], words[j] = words[j], words[i]
		case 1:
			words = slices.Insert(words, i, words[j])
		case 2:
			words[i] = ""
		case 3:
			words[i] = rapid.String().Draw(t, "word")
		case 4:
			cut := rapid.IntRange(0, len(words[i])).Draw(t, "cut")
			words[i] = words[i][:cut]
		}
	}
	return strings.Join(words, " ")
}

// Whatever was mistyped, Read says so and never panics; what it accepts,
// Schedule can work with.
func TestReadNeverPanics(t *testing.T) {
	phrases := demoPhrases(t)
	rapid.Check(t, func(t *rapid.T) {
		p := mutated(t, phrases)
		faults, _ := p.Read()
		for _, f := range faults {
			if !strings.HasPrefix(f.Path, "agreements/hall/") || f.Says == "" {
				t.Fatalf("a fault that says nothing: %+v", f)
			}
		}
		if len(faults) == 0 {
			Schedule(p, NoClosures{})
			Questions(p, NoClosures{})
		}
	})
}
