package milestones

import "time"

// BusinessDays names the days that an agreement counts as business days.
// Saturday and Sunday never are, but for Saturday under MonSat.
type BusinessDays string

// The kinds of business days.
const (
	Banks   BusinessDays = "banks"   // banks' holidays; the default
	Federal BusinessDays = "federal" // government offices; outside the US, the country's public holidays
	MonFri  BusinessDays = "mon-fri" // no holidays at all
	MonSat  BusinessDays = "mon-sat" // Saturdays too, but public holidays are closed
)

// Closures tells which holidays close offices in one region.
type Closures interface {
	// Holiday is the name of the holiday that closes offices of this kind on
	// d, or empty. It is asked about Banks and Federal only, and leaves plain
	// weekends to the caller.
	Holiday(d Date, kind BusinessDays) string
}

// NoClosures is the region without holidays.
type NoClosures struct{}

// Holiday is always empty.
func (NoClosures) Holiday(Date, BusinessDays) string { return "" }

// counting is one agreement's business days: its kind, the region's
// closures, and the vendor's own closed days.
type counting struct {
	kind     BusinessDays
	closures Closures
	closed   []Date
}

// shut tells why d is no business day, or is empty where it is one.
func (c counting) shut(d Date) string {
	for _, own := range c.closed {
		if own == d {
			return "closed by the agreement"
		}
	}
	switch w := d.Weekday(); {
	case w == time.Sunday, w == time.Saturday && c.kind != MonSat:
		return w.String()
	case c.kind == MonFri:
		return ""
	}
	kind := c.kind
	if kind == MonSat {
		kind = Federal
	}
	return c.closures.Holiday(d, kind)
}

// count goes n business days from d, in the direction of step (+1 or -1).
// The trigger day is not counted.
func (c counting) count(d Date, n, step int) Date {
	for n > 0 {
		if d = d.AddDays(step); c.shut(d) == "" {
			n--
		}
	}
	return d
}

// lastOpen is the last business day on or before d, and why d itself is not
// one.
func (c counting) lastOpen(d Date) (open Date, why string) {
	for why = c.shut(d); c.shut(d) != ""; {
		d = d.AddDays(-1)
	}
	return d, why
}
