package conflicts

import (
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"
	_ "time/tzdata"

	"banns/milestones"

	"github.com/rickar/cal/v2"
)

func d(year int, m time.Month, day int) milestones.Date {
	return milestones.Date{Year: year, Month: m, Day: day}
}

// holiday is what a region says of one day.
func holiday(region string, kind milestones.BusinessDays, on milestones.Date) string {
	c, _ := ClosuresFor(region)
	return c.Holiday(on, kind)
}

// closed lists the weekdays of a year that are closed, as "01-01 04-10".
func closed(region string, kind milestones.BusinessDays, year int) string {
	c, _ := ClosuresFor(region)
	var days []string
	for day := d(year, 1, 1); day.Year == year; day = day.AddDays(1) {
		if w := day.Weekday(); w != time.Saturday && w != time.Sunday && c.Holiday(day, kind) != "" {
			days = append(days, day.String()[len("2006-"):])
		}
	}
	return strings.Join(days, " ")
}

func TestCautions(t *testing.T) {
	const only = "; business days skip weekends and the agreement's own closed days only"
	rows := []struct{ region, caution string }{
		{"US", ""},
		{"us", ""},
		{" US ", ""},
		{"US-MI", "holidays that only US-MI keeps are not included, only those of the whole country"},
		{"us-mi", "holidays that only US-MI keeps are not included, only those of the whole country"},
		{"CA", canadianCaution},
		{"CA-ON", "holidays that only CA-ON keeps are not included, only those of the whole country; " + canadianCaution},
		{"GB", ukCaution},
		{"UK", ukCaution},
		{"GB-ENG", ""},
		{"UK-NIR", ""},
		{"gb-sct", scottishCaution},
		{"DE", ""},
		{"DE-NW", ""},
		{"DE-BY", townCaution},
		{"FR-75", "holidays that only FR-75 keeps are not included, only those of the whole country"},
		{"BR", "no holidays are known for BR" + only},
		{"br-sp", "no holidays are known for BR-SP" + only},
		{"UKRAINE", "no holidays are known for UKRAINE" + only},
		{"Michigan", "no holidays are known for MICHIGAN" + only},
		{"-", "no holidays are known for -" + only},
		{"", "no region is given" + only},
	}
	for _, r := range rows {
		if _, got := ClosuresFor(r.region); got != r.caution {
			t.Errorf("%q: caution %q, want %q", r.region, got, r.caution)
		}
	}
}

func TestUncoveredRegionHasNoHolidays(t *testing.T) {
	for _, region := range []string{"BR", "", "Michigan"} {
		c, _ := ClosuresFor(region)
		if c != (milestones.NoClosures{}) {
			t.Errorf("%q: %T, want no closures", region, c)
		}
	}
}

// A part whose own holidays are not known keeps those of the whole country.
func TestPartKeepsTheCountrysHolidays(t *testing.T) {
	for _, kind := range []milestones.BusinessDays{milestones.Banks, milestones.Federal} {
		if got, want := closed("US-MI", kind, 2027), closed("US", kind, 2027); got != want {
			t.Errorf("%s: %s, want %s", kind, got, want)
		}
	}
}

func TestOtherKindsHaveNoHolidays(t *testing.T) {
	for _, kind := range []milestones.BusinessDays{milestones.MonFri, milestones.MonSat, ""} {
		if got := holiday("US", kind, d(2026, 12, 25)); got != "" {
			t.Errorf("%q: %q, want nothing", kind, got)
		}
	}
}

// The years are worked out as they are asked for, which must not show.
func TestOrderOfQuestionsDoesNotMatter(t *testing.T) {
	for region := range regions {
		forth, _ := ClosuresFor(region)
		back, _ := ClosuresFor(region)
		first, last := d(2020, 1, 1), d(2029, 12, 31)
		names := map[milestones.Date]string{}
		for day := first; !day.After(last); day = day.AddDays(1) {
			names[day] = forth.Holiday(day, milestones.Federal)
		}
		for day := last; !day.Before(first); day = day.AddDays(-1) {
			if got := back.Holiday(day, milestones.Federal); got != names[day] {
				t.Errorf("%s %s: %q asked backwards, %q forwards", region, day, got, names[day])
			}
		}
	}
}

func TestEveryYearIsAnswered(t *testing.T) {
	for region := range regions {
		c, _ := ClosuresFor(region)
		for year := 1900; year <= 2200; year++ {
			for _, kind := range []milestones.BusinessDays{milestones.Banks, milestones.Federal} {
				if got := c.Holiday(d(year, 12, 25), kind); got == "" {
					t.Errorf("%s %d: no Christmas for %s", region, year, kind)
				}
			}
		}
	}
	for _, year := range []int{-1, 0, 1, 9999, 100000} {
		holiday("GR", milestones.Federal, d(year, 5, 1))
	}
}

func TestManyAskAtOnce(t *testing.T) {
	c, _ := ClosuresFor("GB-NIR")
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for year := 2020; year < 2030; year++ {
				if c.Holiday(d(year, 12, 25), milestones.Banks) == "" {
					t.Errorf("%d: no Christmas", year)
				}
			}
		})
	}
	wg.Wait()
}

// On Tuesday 2 November 2004 clocks in São Paulo went from midnight to one: a
// machine there has no such midnight, and the library says 23:00 of Monday.
func TestMachinesZoneDoesNotMatter(t *testing.T) {
	zone := cal.DefaultLoc
	t.Cleanup(func() { cal.DefaultLoc = zone })
	for _, name := range []string{"UTC", "America/Sao_Paulo", "Pacific/Kiritimati"} {
		loc, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		cal.DefaultLoc = loc
		for day, want := range map[milestones.Date]string{
			d(2004, 11, 1): "Visų šventųjų diena",
			d(2004, 11, 2): "Mirusiųjų atminimo (Vėlinių) diena",
			d(2004, 11, 3): "",
		} {
			if got := holiday("LT", milestones.Federal, day); got != want {
				t.Errorf("%s, %s: %q, want %q", name, day, got, want)
			}
		}
	}
}

func BenchmarkHoliday(b *testing.B) {
	c, _ := ClosuresFor("US")
	for day := d(2026, 1, 1); b.Loop(); day = day.AddDays(1) {
		if day.Year == 2029 {
			day = d(2026, 1, 1)
		}
		c.Holiday(day, milestones.Federal)
	}
}

// One plan's worth: the closures made anew and a year and a half asked about.
func BenchmarkPlan(b *testing.B) {
	for b.Loop() {
		c, _ := ClosuresFor("US")
		for day := d(2026, 3, 1); day.Before(d(2027, 9, 18)); day = day.AddDays(1) {
			c.Holiday(day, milestones.Banks)
		}
	}
}

func ExampleClosuresFor() {
	c, caution := ClosuresFor("us-mi")
	fmt.Println(c.Holiday(d(2026, 7, 3), milestones.Federal))
	fmt.Println(c.Holiday(d(2026, 7, 3), milestones.Banks) == "")
	fmt.Println(caution)
	// Output:
	// Independence Day (observed)
	// true
	// holidays that only US-MI keeps are not included, only those of the whole country
}
