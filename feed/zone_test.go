package feed

import (
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"

	"banns/feed/check"
	"banns/milestones"
)

// zonesOfNote have few changes or many, by halves of an hour, by night or at
// midnight, south and north, and one winter time that is called the saving
// one.
var zonesOfNote = []string{
	"America/Detroit", "America/St_Johns", "America/Santiago", "America/Phoenix", "America/Sao_Paulo", "Europe/London",
	"Europe/Dublin", "Europe/Berlin", "Africa/Casablanca", "Asia/Kathmandu", "Asia/Gaza", "Australia/Lord_Howe",
	"Pacific/Auckland", "Pacific/Chatham", "Etc/UTC",
}

// observance is one as it was written, with its offsets in seconds.
type observance struct {
	name     string
	daylight bool
	start    time.Time // by the clock before it, as if in UTC
	from, to int
}

// TestTimezone holds each VTIMEZONE against package time, four times a day: the
// observance that has begun last gives the offset. In the later years most
// zones go by a rule and no longer by a list, and 2040 and 2044 are leap years.
func TestTimezone(t *testing.T) {
	for _, name := range zonesOfNote {
		loc, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, year := range []int{2024, 2039} {
			from, to := time.Date(year, 1, 1, 0, 0, 0, 0, loc), time.Date(year+8, 12, 31, 23, 0, 0, 0, loc)
			all := observances(t, timezone(loc, from, to))
			wellFormed(t, loc, all)
			now := -1
			for at := from; !at.After(to); at = at.Add(6 * time.Hour) {
				for now+1 < len(all) && !all[now+1].began().After(at) {
					now++
				}
				zone, want := at.Zone()
				if now < 0 || all[now].to != want || all[now].name != zone {
					t.Fatalf("%s at %v: observance %d of %+v, package time says %s, %d", name, at, now, all, zone, want)
				}
			}
		}
	}
}

func (o observance) began() time.Time { return o.start.Add(-time.Duration(o.from) * time.Second) }

// wellFormed has each observance named right, go on from the one before it,
// and change something at that very second.
func wellFormed(t *testing.T, zone *time.Location, all []observance) {
	for n, o := range all {
		_, before := o.began().Add(-time.Second).In(zone).Zone()
		if name, offset := o.began().In(zone).Zone(); before != o.from || offset != o.to || name != o.name {
			t.Errorf("%s: package time knows nothing of %+v", zone, o)
		}
		if o.daylight != (o.to > o.from) {
			t.Errorf("%s: daylight time is the larger offset, not %+v", zone, o)
		}
		if n == 0 {
			continue
		}
		if o.from != all[n-1].to {
			t.Errorf("%s: %+v does not go on from %+v", zone, o, all[n-1])
		}
		if o.from == o.to && o.name == all[n-1].name {
			t.Errorf("%s: %+v changes nothing", zone, o)
		}
	}
}

// observances reads back a VTIMEZONE.
func observances(t *testing.T, tz *ics.VTimezone) (all []observance) {
	for _, c := range tz.Components {
		o, props := observance{}, []ics.IANAProperty(nil)
		switch c := c.(type) {
		case *ics.Daylight:
			o.daylight, props = true, c.Properties
		case *ics.Standard:
			props = c.Properties
		}
		for _, p := range props {
			switch p.IANAToken {
			case "DTSTART":
				start, err := time.Parse(localForm, p.Value)
				if err != nil {
					t.Fatal(err)
				}
				o.start = start
			case "TZOFFSETFROM":
				o.from = seconds(t, p.Value)
			case "TZOFFSETTO":
				o.to = seconds(t, p.Value)
			case "TZNAME":
				o.name = p.Value
			}
		}
		all = append(all, o)
	}
	return all
}

// seconds reads +hhmm.
func seconds(t *testing.T, offset string) int {
	at, err := time.Parse("-0700", offset)
	if err != nil {
		t.Fatal(err)
	}
	_, s := at.Zone()
	return s
}

// zonedCalendar has an hour in each month of 2024 to 2032 in each zone, in no
// order, as notices stand in none.
func zonedCalendar() Calendar {
	c := Calendar{Name: "Zones"}
	for _, zone := range zonesOfNote {
		for month := range 9 * 12 {
			e := Entry{Kind: milestones.KindAppointment, Title: "Fitting", Zone: zone, HomeZone: zone,
				Date: d(2024, 1, 15).AddMonths((month*7 + 50) % 108), Clock: &milestones.Clock{Hour: 14}}
			e.UID = UID("w", zone, e.Date.String(), Itself)
			c.Published = append(c.Published, Published{Entry: e, Changed: noon})
		}
	}
	return c
}

// TestTimezonesOutside has other programs read the zones: the check of bytes,
// which reckons with each VTIMEZONE alone, and libical.
func TestTimezonesOutside(t *testing.T) {
	body := Encode(zonedCalendar())
	for _, fault := range check.Calendar(body) {
		t.Error(fault)
	}
	if got := strings.Count(string(body), "BEGIN:VTIMEZONE"); got != len(zonesOfNote) {
		t.Errorf("there are %d zones, want each of %d once", got, len(zonesOfNote))
	}
	check.Need(t, check.Libical(body))
}
