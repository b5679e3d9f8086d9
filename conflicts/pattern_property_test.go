package conflicts

import (
	"encoding/binary"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"banns/milestones"

	"pgregory.net/rapid"
)

// FuzzPattern finds patterns in anything, at once and without a panic, and
// what it says of the editions is so.
func FuzzPattern(f *testing.F) {
	f.Add([]byte{}, 2027, "")
	f.Add([]byte{0x01, 0x02, 0x6f, 0x02, 0xdd, 0x02, 0x4a, 0x02}, 2027, "US-MI")
	f.Add([]byte{0xff, 0xff, 0, 0, 0, 0, 0, 0}, 1, "DE-BY")
	f.Fuzz(func(t *testing.T, days []byte, year int, region string) {
		defer time.AfterFunc(10*time.Second, func() { panic("finding a pattern stalls") }).Stop()
		year = 1 + (year%9999+9999)%9999
		var given []Edition
		day := milestones.Date{Year: 1990, Month: 1, Day: 1}
		for ; len(days) >= 2 && len(given) < 400; days = days[2:] {
			step := binary.BigEndian.Uint16(days)
			day = day.AddDays(int(step % 2048)) // some five years at most
			given = append(given, Edition{day, day.AddDays(int(step >> 14))})
		}
		holdsTogether(t, FindPattern(given, year, region), whole(given))
	})
}

// holdsTogether checks that a pattern's parts agree with each other.
func holdsTogether(t interface{ Fatalf(string, ...any) }, p Pattern, given []Edition) {
	switch {
	case p.Of != len(given):
		t.Fatalf("%d of %d editions counted", p.Of, len(given))
	case p.Refused != "" && (p.Words() != "" || p.Rivals != nil || p.Days() != nil):
		t.Fatalf("refused, %s, and yet it says %q", p.Refused, p.Words())
	case p.Refused != "":
		return
	case p.Fits+len(p.Exceptions) != p.Of, 4*p.Fits < 3*p.Of, p.Fits < 3:
		t.Fatalf("%q: %d of %d fit, and there are %d exceptions", p.Words(), p.Fits, p.Of, len(p.Exceptions))
	case p.From.IsZero() || len(p.Days()) == 0:
		t.Fatalf("%q has no day in %d", p.Words(), p.Year)
	}
	for _, d := range p.Exceptions {
		if !slices.ContainsFunc(given, func(e Edition) bool { return e.From == d }) {
			t.Fatalf("%s is an exception, and no edition", d)
		}
	}
	for _, r := range p.Rivals {
		if r.Rule == p.Rule || r.From.IsZero() {
			t.Fatalf("%s is a rival of %s", r.Rule, p.Rule)
		}
	}
}

// The order of the editions does not matter, nor that one is given twice, and
// the answer is the same every time.
func TestPatternOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		given := someTruth(r).editions(r, 2008, rapid.IntRange(2, 12).Draw(t, "years"))
		want := FindPattern(given, 2027, "US")
		mixed := append(slices.Clone(given), given[r.IntN(len(given))])
		r.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
		if got := FindPattern(mixed, 2027, "US"); !reflect.DeepEqual(got, want) {
			t.Fatalf("%v\n got %+v\nwant %+v", given, got, want)
		}
	})
}

// Every rule that is guessed from a day gives that day again.
func TestGuessesGiveTheDay(t *testing.T) {
	g := guesser{publicHolidays("US")}
	rapid.Check(t, func(t *rapid.T) {
		day := anyDay(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)), rapid.IntRange(1900, 2200).Draw(t, "year"))
		year := day.Year + rapid.IntRange(-1, 1).Draw(t, "label")
		for _, r := range g.rules(dated{day, year}) {
			if got := r.In(year); got != day {
				t.Fatalf("%s was guessed from %s, and gives %s in %d", r, day.Words(), got.Words(), year)
			}
		}
	})
}
