package conflicts

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"banns/milestones"
)

func TestLongWeekends(t *testing.T) {
	rows := []struct {
		region   string
		first    milestones.Date // the days that are asked about
		last     milestones.Date
		what     string
		from, to milestones.Date
	}{
		{"US", d(2027, 9, 6), d(2027, 9, 6), "long weekend of Labor Day", d(2027, 9, 4), d(2027, 9, 6)},
		{"US", d(2027, 9, 4), d(2027, 9, 4), "long weekend of Labor Day", d(2027, 9, 4), d(2027, 9, 6)}, // its Saturday alone
		{"US", d(2027, 10, 1), d(2027, 10, 31), "long weekend of Columbus Day", d(2027, 10, 9), d(2027, 10, 11)},
		{"US", d(2027, 11, 26), d(2027, 11, 26), "long weekend of Thanksgiving Day with a bridge day", d(2027, 11, 25), d(2027, 11, 28)},
		{"US", d(2026, 7, 1), d(2026, 7, 31), "long weekend of Independence Day", d(2026, 7, 3), d(2026, 7, 5)}, // a Saturday, kept on Friday
		{"US", d(2028, 1, 2), d(2028, 1, 2), "long weekend of New Year's Day", d(2027, 12, 31), d(2028, 1, 2)},
		{"GB-ENG", d(2027, 3, 1), d(2027, 3, 31), "long weekend of Good Friday and Easter Monday", d(2027, 3, 26), d(2027, 3, 29)},
		{"GB-ENG", d(2027, 12, 1), d(2027, 12, 31), "long weekend of Christmas Day and Boxing Day", d(2027, 12, 25), d(2027, 12, 28)},
		{"GB-SCT", d(2027, 11, 1), d(2027, 11, 30), "long weekend of St Andrew's Day with a bridge day", d(2027, 11, 27), d(2027, 11, 30)},
		{"DE", d(2027, 5, 1), d(2027, 5, 10), "long weekend of Christi Himmelfahrt with a bridge day", d(2027, 5, 6), d(2027, 5, 9)},
		{"DE-BY", d(2027, 1, 4), d(2027, 1, 8), "", milestones.Date{}, milestones.Date{}}, // Epiphany is a Wednesday
		// Wednesday and Thursday, and the Friday up to the weekend.
		{"DE", d(2024, 12, 27), d(2024, 12, 27), "long weekend of Weihnachtstag and Zweiter Weihnachtsfeiertag with a bridge day", d(2024, 12, 25), d(2024, 12, 29)},
		{"BR", d(2027, 1, 1), d(2027, 12, 31), "", milestones.Date{}, milestones.Date{}},
	}
	for _, r := range rows {
		var got []string
		all, _ := Holidays(r.region, r.first, r.last)
		for _, e := range all {
			if strings.HasPrefix(e.What, "long weekend") {
				got = append(got, fmt.Sprint(e.What, " ", e.From, " ", e.To))
			}
		}
		want := "[]"
		if r.what != "" {
			want = fmt.Sprintf("[%s %s %s]", r.what, r.from, r.to)
		}
		if fmt.Sprint(got) != want {
			t.Errorf("%s %s to %s: %v, want %s", r.region, r.first, r.last, got, want)
		}
	}
}

// Whatever the region and the year, a long weekend is made of weekends,
// holidays and single working Mondays or Fridays, and no two share a day.
func TestLongWeekendsHoldTogether(t *testing.T) {
	for region := range regions {
		c, _ := ClosuresFor(region)
		all, _ := Holidays(region, d(2026, 1, 1), d(2035, 12, 31))
		end, seen := milestones.Date{}, 0
		for _, e := range all {
			if !strings.HasPrefix(e.What, "long weekend") {
				continue
			}
			seen++
			if !e.From.After(end) || e.To.DaysSince(e.From) < 2 || e.Kind != Holiday || e.Status != Computed {
				t.Errorf("%s: %+v", region, e)
			}
			if e.To.DaysSince(e.From) >= margin {
				t.Errorf("%s: longer than the days that are looked at around a question: %+v", region, e)
			}
			end = e.To
			_, bridges, _ := strings.Cut(e.Note, "some take ")
			for day := e.From; !day.After(e.To); day = day.AddDays(1) {
				switch w := day.Weekday(); {
				case w == time.Saturday, w == time.Sunday, c.Holiday(day, milestones.Federal) != "":
				case (w == time.Monday || w == time.Friday) && strings.Contains(bridges, day.Words()):
				default:
					t.Errorf("%s: %s is neither free nor a bridge in %+v", region, day.Words(), e)
				}
			}
		}
		if seen < 10 {
			t.Errorf("%s: %d long weekends in ten years", region, seen)
		}
	}
}

func TestHolidaysCautions(t *testing.T) {
	rows := []struct{ region, caution string }{
		{"US", ""},
		{"us-mi", "holidays that only US-MI keeps are not included, only those of the whole country"},
		{"ES", spanishCaution},
		{"BR", "no holidays are known for BR"},
		{"", "no region is given"},
	}
	for _, r := range rows {
		if all, got := Holidays(r.region, d(2027, 1, 1), d(2027, 12, 31)); got != r.caution || (all == nil) != (r.region == "" || r.region == "BR") {
			t.Errorf("%q: caution %q and %d events", r.region, got, len(all))
		}
	}
	// Memorial Day was on Tuesday 30 May in 1950; the rules of today are said to be.
	for first, want := range map[milestones.Date]string{d(1950, 1, 1): earlyCaution, d(2019, 1, 1): earlyCaution, d(2019, 12, 11): "", d(2020, 1, 1): ""} {
		if _, got := Holidays("US", first, first.AddMonths(12)); got != want {
			t.Errorf("from %s: caution %q, want %q", first, got, want)
		}
	}
	if _, got := Holidays("ES", d(1950, 1, 1), d(1950, 12, 31)); got != earlyCaution+"; "+spanishCaution {
		t.Errorf("two cautions: %q", got)
	}
	if _, got := Holidays("BR", d(1950, 1, 1), d(1950, 12, 31)); got != "no holidays are known for BR" {
		t.Errorf("of nothing: %q", got)
	}
	if all, _ := Holidays("US", d(2027, 12, 31), d(2027, 1, 1)); all != nil {
		t.Errorf("from the last day to the first: %v", all)
	}
}

func BenchmarkHolidays(b *testing.B) {
	for b.Loop() {
		Holidays("US", d(2026, 1, 1), d(2027, 12, 31))
	}
}

func ExampleHolidays() {
	all, caution := Holidays("US-MI", d(2027, 11, 1), d(2027, 12, 24))
	for _, e := range all {
		fmt.Println(strings.TrimSpace(fmt.Sprintf("%s to %s: %s. %s", e.From.Words(), e.To.Words(), e.What, e.Note)))
	}
	fmt.Println(caution)
	// Output:
	// Thu 11 Nov 2027 to Thu 11 Nov 2027: Veterans Day.
	// Thu 11 Nov 2027 to Sun 14 Nov 2027: long weekend of Veterans Day with a bridge day. Veterans Day is on Thu 11 Nov 2027; some take Fri 12 Nov 2027 off as a bridge day
	// Thu 25 Nov 2027 to Thu 25 Nov 2027: Thanksgiving Day.
	// Thu 25 Nov 2027 to Sun 28 Nov 2027: long weekend of Thanksgiving Day with a bridge day. Thanksgiving Day is on Thu 25 Nov 2027; some take Fri 26 Nov 2027 off as a bridge day
	// Fri 24 Dec 2027 to Fri 24 Dec 2027: Christmas Day (observed). government offices keep it; banks are open
	// Fri 24 Dec 2027 to Sun 26 Dec 2027: long weekend of Christmas Day. Christmas Day (observed) is on Fri 24 Dec 2027
	// holidays that only US-MI keeps are not included, only those of the whole country
}
