package milestones

import (
	"cmp"
	"fmt"
	"time"
)

// Date is a civil day in the proleptic Gregorian calendar, without a clock
// or a zone. It is not a time.Time: 31 March minus one month is not 3 March,
// and some zones have days without a midnight. The zero Date is no day.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// ParseDate reads YYYY-MM-DD (ISO 8601, extended form) and refuses days that
// do not exist.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return Date{}, fmt.Errorf("%q is no day of the calendar; write it as 2027-09-18", s)
	}
	return DateOf(t), nil
}

// DateOf is the day that t shows in its own zone.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// IsZero reports whether d is no day.
func (d Date) IsZero() bool { return d == Date{} }

// Exists reports whether d is a day of the calendar.
func (d Date) Exists() bool { return d == DateOf(d.utc()) }

func (d Date) utc() time.Time {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC)
}

// AddDays is the day n days later, or earlier where n is negative.
func (d Date) AddDays(n int) Date {
	return DateOf(time.Unix(d.utc().Unix()+int64(n)*24*60*60, 0).UTC())
}

// AddMonths is the same-numbered day n months later, or the last of that
// month where it has no such day: 31 August less 6 months is 28 or 29
// February (New Mexico Stat. 12-2A-7).
func (d Date) AddMonths(n int) Date {
	first := time.Date(d.Year, d.Month+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return Date{first.Year(), first.Month(), min(d.Day, last)}
}

// Weekday is the day of the week of d.
func (d Date) Weekday() time.Weekday { return d.utc().Weekday() }

// DaysSince is the number of days from e to d, negative where d is earlier.
func (d Date) DaysSince(e Date) int {
	return int((d.utc().Unix() - e.utc().Unix()) / (24 * 60 * 60)) // a time.Duration ends at 292 years
}

// Compare is -1, 0 or +1 as d is before, on or after e.
func (d Date) Compare(e Date) int {
	return cmp.Or(cmp.Compare(d.Year, e.Year), cmp.Compare(d.Month, e.Month), cmp.Compare(d.Day, e.Day))
}

// Before reports whether d is earlier than e.
func (d Date) Before(e Date) bool { return d.Compare(e) < 0 }

// After reports whether d is later than e.
func (d Date) After(e Date) bool { return d.Compare(e) > 0 }

// String is the ISO form, 2027-09-18, or the empty text for no day.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// Words is the day as people read it: Sat 18 Sep 2027.
func (d Date) Words() string {
	if d.IsZero() {
		return ""
	}
	return d.utc().Format("Mon 2 Jan 2006")
}

// MarshalText writes the ISO form.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads the ISO form; empty text is no day.
func (d *Date) UnmarshalText(b []byte) (err error) {
	if len(b) == 0 {
		*d = Date{}
		return nil
	}
	*d, err = ParseDate(string(b))
	return err
}
