package milestones

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// sameMeaning compares what was understood, not how it was written.
var sameMeaning = cmp.Options{
	cmpopts.IgnoreFields(Timing{}, "Says"),
	cmpopts.IgnoreFields(Line{}, "Says"),
	cmp.Comparer(func(a, b Anchor) bool { return a.Date == b.Date && name(a.Says) == name(b.Says) }),
}

// people's letters and gaps do not matter either, in a label.
var sameLabel = cmp.FilterPath(func(p cmp.Path) bool { return p.Last().String() == ".Label" },
	cmp.Comparer(func(a, b string) bool {
		return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
	}))

var anchorNames = []string{"wedding", "wedding", "signing", "balance", "deposit", "first payment", "final payment", "invoice",
	"Final headcount", "rehearsal dinner", "pay-1", "hall/change-1", "list of guests", "trip to the florist", "with care", "no-shows"}

// namedHere are scopes that know all anchorNames.
func namedHere() []scope {
	s := scope{}
	for _, n := range anchorNames {
		s.add(n, "x")
	}
	return []scope{s}
}

func oneOf[T any](t *rapid.T, label string, all ...T) T { return rapid.SampledFrom(all).Draw(t, label) }

func anyAnchor(t *rapid.T, dates bool) Anchor {
	if dates && rapid.Bool().Draw(t, "a date") {
		return Anchor{Date: anyDate(1990, 2110).Draw(t, "date")}
	}
	return Anchor{Says: oneOf(t, "name", anchorNames...)}
}

// anyTiming is any Timing that can be said.
func anyTiming(t *rapid.T) Timing {
	var when Timing
	switch oneOf(t, "form", "on", "with", "weekday", "count", "count", "bound") {
	case "on":
		when.Anchor = anyAnchor(t, true)
	case "with":
		when.With, when.Anchor = true, anyAnchor(t, false)
	case "weekday":
		day := time.Weekday(rapid.IntRange(0, 6).Draw(t, "weekday"))
		when = Timing{Weekday: &day, After: rapid.Bool().Draw(t, "after"), Anchor: anyAnchor(t, true)}
	case "count":
		when = anyCount(t)
		when.After, when.Anchor = rapid.Bool().Draw(t, "after"), anyAnchor(t, true)
	case "bound":
		when = anyCount(t)
		when.Bound, when.Anchor = oneOf(t, "bound", MoreThan, FewerThan, WithinOf), anyAnchor(t, true)
	}
	if when.Unit == Hour || rapid.Bool().Draw(t, "no hour") {
		return when
	}
	when.Clock = at(rapid.IntRange(0, 23).Draw(t, "hour"), rapid.IntRange(0, 59).Draw(t, "minute"))
	if when.Midnight = rapid.IntRange(0, 9).Draw(t, "midnight") == 0; when.Midnight {
		when.Clock = at(0, 0)
	}
	when.Zone = oneOf(t, "zone", "", "UTC", "America/Chicago")
	return when
}

func anyCount(t *rapid.T) Timing {
	unit := oneOf(t, "unit", Day, BusinessDay, Week, Month, Year, Hour)
	most := unitMost[unit]
	if rapid.Bool().Draw(t, "few") {
		most = min(most, 120)
	}
	return Timing{Unit: unit, N: rapid.IntRange(1, most).Draw(t, "n")}
}

func anyMoney(t *rapid.T) Money {
	m := Money(rapid.Int64Range(0, 1e12).Draw(t, "sum"))
	if rapid.Bool().Draw(t, "whole") {
		m = m / 100 * 100
	}
	return m
}

func anyPercent(t *rapid.T) Percent {
	return Percent(rapid.Int64Range(0, 100).Draw(t, "percent")*10_000) / Percent(oneOf(t, "part", 1, 1, 3, 7))
}

func anyPayment(t *rapid.T) Payment {
	p := Payment{Form: oneOf(t, "pay form", ByShare, FixedSum, Balance, Equal, Security), When: anyTiming(t)}
	switch p.Form {
	case ByShare:
		p.Share, p.OfRest = anyPercent(t), rapid.Bool().Draw(t, "of rest")
	case FixedSum:
		p.Sum = anyMoney(t)
	case Equal:
		p.Times = rapid.IntRange(1, 120).Draw(t, "times")
	case Security:
		p.Sum = anyMoney(t)
		if rapid.Bool().Draw(t, "back") {
			p.Back = new(anyTiming(t))
		}
	}
	return p
}

func anyCost(t *rapid.T) Cost {
	c := Cost{Greatest: rapid.Bool().Draw(t, "greatest")}
	for range rapid.IntRange(1+b2i(c.Greatest), 3).Draw(t, "parts") {
		part := CostPart{Form: CostForm(rapid.IntRange(int(NoCost), int(FirstPayment)).Draw(t, "form"))}
		switch part.Form {
		case SumOfMoney:
			part.Sum = anyMoney(t)
		case OfPrice, OfRest, OfPaid, OfUnpaid:
			part.Share = anyPercent(t)
		}
		c.Parts = append(c.Parts, part)
	}
	return c
}

func anyStep(t *rapid.T) CancelStep {
	s := CancelStep{Cost: anyCost(t)}
	form := oneOf(t, "step form", "until", "from", "from to", "then")
	if strings.HasPrefix(form, "from") {
		s.From = new(anyTiming(t))
	}
	if form == "until" || form == "from to" {
		s.Until = new(anyTiming(t))
	}
	s.Then = form == "then"
	return s
}

// anyLabel may hold words of timings, and end in most of them.
func anyLabel(t *rapid.T) string {
	words := rapid.SliceOfN(rapid.SampledFrom(strings.Fields("final headcount menu for on with the of at due least than prior to before more 8 tables, Nº (both)")), 0, 4).Draw(t, "label")
	return strings.Join(append(words, oneOf(t, "last", "list", "plan", "due", "at", "than", "the", "least.", "upon", "(both)", "hundred", "no")), " ")
}

func anyPostpone(t *rapid.T) Postpone {
	var p Postpone
	p.Times = rapid.IntRange(0, 5).Draw(t, "times")
	if rapid.Bool().Draw(t, "notice") {
		p.Notice = anyCount(t)
		p.Notice.Anchor = Anchor{Says: "the wedding"}
	}
	p.Fee = anyMoney(t) * Money(rapid.IntRange(0, 1).Draw(t, "fee"))
	switch oneOf(t, "latest", "", "within", "by") {
	case "within":
		p.Latest = new(anyCount(t))
		p.Latest.After, p.Latest.Anchor = true, Anchor{Says: "the wedding"}
	case "by":
		p.Latest = &Timing{Anchor: Anchor{Date: anyDate(1990, 2110).Draw(t, "new date")}}
	}
	return p
}

// said reads phrases in the places they stand in, knowing anchorNames.
type sayer struct{ reader }

func (s sayer) back(t *rapid.T, like any, says string) any {
	var c *cursor
	var ok bool
	var got any
	switch like.(type) {
	case Timing:
		var when Timing
		c = newCursor(says)
		when, ok = c.timing(says, grammar{names: s.scopes})
		got = when
	case Payment:
		p := Payment{Line: said(says)}
		c, ok = s.payment(&p)
		got = p
	case CancelStep:
		step := CancelStep{Line: said(says)}
		c, ok = s.cancel(&step)
		got = step
	case ChangeBy:
		change := ChangeBy{Line: said(says)}
		c, ok = s.labelled(says, &change.Label, &change.When)
		got = change
	case Postpone:
		p := Postpone{Line: said(says)}
		c, ok = s.postpone(&p)
		got = p
	}
	if !ok {
		t.Fatalf("%+v is printed as %q, and then refused: %v", like, says, c.fault("", says))
	}
	return got
}

func phraseOf(v any) string {
	switch v := v.(type) {
	case interface{ Phrase(Currency) string }:
		return v.Phrase("USD")
	case interface{ String() string }:
		return v.String()
	}
	panic("it has no phrase")
}

func anything(t *rapid.T) any {
	switch oneOf(t, "what", "timing", "payment", "step", "change", "postpone") {
	case "payment":
		return anyPayment(t)
	case "step":
		return anyStep(t)
	case "change":
		return ChangeBy{Label: anyLabel(t), When: anyTiming(t)}
	case "postpone":
		return anyPostpone(t)
	}
	return anyTiming(t)
}

// What is printed reads back as the same thing, over the whole grammar.
func TestWhatIsPrintedReadsBack(t *testing.T) {
	read := sayer{reader{"USD", namedHere()}}
	rapid.Check(t, func(t *rapid.T) {
		v := anything(t)
		says := phraseOf(v)
		if diff := cmp.Diff(v, read.back(t, v, says), sameMeaning); diff != "" {
			t.Fatalf("%q reads back as something else:\n%s", says, diff)
		}
	})
}

// saidOf is v as people might say it. A label is theirs already, and stays.
func saidOf(t *rapid.T, v any) string {
	says := phraseOf(v)
	if change, ok := v.(ChangeBy); ok {
		when := change.When.String()
		return strings.TrimSuffix(says, when) + humanly(t, when)
	}
	return humanly(t, says)
}

// However people say it, it is the same thing: synonyms, number words, case
// and spacing do not matter.
func TestHoweverItIsSaid(t *testing.T) {
	read := sayer{reader{"USD", namedHere()}}
	rapid.Check(t, func(t *rapid.T) {
		v := anything(t)
		says := saidOf(t, v)
		got := read.back(t, v, says)
		if diff := cmp.Diff(v, got, sameMeaning, sameLabel); diff != "" {
			t.Fatalf("%q is read as something else than %q:\n%s", says, phraseOf(v), diff)
		}
		if again := phraseOf(got); !strings.EqualFold(strings.Join(strings.Fields(again), " "), phraseOf(v)) {
			t.Fatalf("%q is printed as %q, not %q", says, again, phraseOf(v))
		}
	})
}

// Every phrase of the demo plan has a canonical form, which reads the same.
func TestDemoPhrasesReadBack(t *testing.T) {
	good := goodPhrases(demoPhrases(t))
	rapid.Check(t, func(rt *rapid.T) {
		p := somePlan(rt, good)
		if faults, _ := p.Read(); len(faults) > 0 {
			rt.Fatal(faults)
		}
		a := p.Agreements[0]
		again := wedding(a)
		b := &again.Agreements[0]
		b.Pay, b.Cancel, b.Change = slices.Clone(a.Pay), slices.Clone(a.Cancel), slices.Clone(a.Change)
		for i := range b.Pay {
			b.Pay[i].Says = a.Pay[i].Phrase("USD")
		}
		for i := range b.Cancel {
			b.Cancel[i].Says = a.Cancel[i].Phrase("USD")
		}
		for i := range b.Change {
			b.Change[i].Says = a.Change[i].String()
		}
		if faults, _ := again.Read(); len(faults) > 0 {
			rt.Fatal(faults)
		}
		refs := cmp.Options{cmpopts.IgnoreFields(Timing{}, "Says"), cmpopts.IgnoreFields(Line{}, "Says"),
			cmp.Comparer(func(x, y Anchor) bool { return x.Date == y.Date && x.ref == y.ref })}
		for _, diff := range []string{cmp.Diff(a.Pay, b.Pay, refs), cmp.Diff(a.Cancel, b.Cancel, refs), cmp.Diff(a.Change, b.Change, refs)} {
			if diff != "" {
				rt.Fatal(diff)
			}
		}
	})
}
