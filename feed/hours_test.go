package feed_test

import (
	"fmt"
	"strings"
	"testing"

	"banns/feed"
	"banns/milestones"
)

func d(year, month, day int) milestones.Date {
	return milestones.DateOf(stamp.AddDate(year-stamp.Year(), month-int(stamp.Month()), day-stamp.Day()))
}

func hm(hour, minute int) *milestones.Clock { return &milestones.Clock{Hour: hour, Minute: minute} }

// deadline is a change to be made by an hour, meeting an appointment at one.
func deadline(act milestones.Date, at *milestones.Clock, zone string) feed.Entry {
	return feed.Entry{Kind: milestones.KindChangeBy, Agreement: "catering", Title: "Hollow Oak Table: final headcount",
		With: "Hollow Oak Table", Date: act, ActBy: act, Clock: at, Zone: zone, HomeZone: "America/Detroit", Standing: milestones.Signed}
}

func meeting(day milestones.Date, at, until *milestones.Clock, zone string) feed.Entry {
	return feed.Entry{Kind: milestones.KindAppointment, Title: "Fitting", Date: day, Clock: at, Until: until, Zone: zone, HomeZone: zone}
}

func with(e feed.Entry, change func(*feed.Entry)) feed.Entry {
	change(&e)
	return e
}

const detroit = "America/Detroit"

// hours are entries with an hour, and where they stand in a calendar.
var hours = []struct {
	name       string
	entry      feed.Entry
	start, end string
}{
	{"by an hour: ends then, and is half an hour", deadline(d(2027, 9, 2), hm(17, 0), detroit),
		"2027-09-02T16:30:00[America/Detroit]", "2027-09-02T17:00:00[America/Detroit]"},
	{"by 00:00: ends with the day to act",
		with(deadline(d(2027, 9, 17), hm(0, 0), detroit), func(e *feed.Entry) { e.Date = d(2027, 9, 18) }),
		"2027-09-17T23:30:00[America/Detroit]", "2027-09-18T00:00:00[America/Detroit]"},
	{"by 00:00, which Santiago skips that day: ends as clocks show 01:00",
		with(deadline(d(2027, 9, 4), hm(0, 0), "America/Santiago"), func(e *feed.Entry) { e.Date = d(2027, 9, 5) }),
		"2027-09-04T23:30:00[America/Santiago]", "2027-09-05T01:00:00[America/Santiago]"},
	{"by an hour of another zone", deadline(d(2027, 8, 27), hm(12, 0), "America/Chicago"),
		"2027-08-27T11:30:00[America/Chicago]", "2027-08-27T12:00:00[America/Chicago]"},
	{"by an hour, done: all day",
		with(deadline(d(2027, 9, 2), hm(17, 0), detroit), func(e *feed.Entry) { e.Done = d(2027, 9, 1) }),
		"2027-09-02", "2027-09-03"},
	{"notice: all day, a week before",
		with(deadline(d(2027, 9, 2), hm(17, 0), detroit), func(e *feed.Entry) { e.Of = feed.Notice }),
		"2027-08-26", "2027-08-27"},
	{"no end: an hour", meeting(d(2027, 7, 10), hm(11, 0), nil, detroit),
		"2027-07-10T11:00:00[America/Detroit]", "2027-07-10T12:00:00[America/Detroit]"},
	{"until past midnight", meeting(d(2027, 9, 18), hm(20, 0), hm(1, 0), detroit),
		"2027-09-18T20:00:00[America/Detroit]", "2027-09-19T01:00:00[America/Detroit]"},
	{"first pass of an hour that is repeated: ends in the second, so in UTC", meeting(d(2027, 11, 7), hm(1, 30), nil, detroit),
		"2027-11-07T05:30:00Z", "2027-11-07T06:30:00Z"},
	{"second pass: in UTC", with(meeting(d(2027, 11, 7), hm(1, 30), nil, detroit), func(e *feed.Entry) { e.Again = true }),
		"2027-11-07T06:30:00Z", "2027-11-07T07:30:00Z"},
	{"by the second pass: in UTC", with(deadline(d(2027, 11, 7), hm(1, 45), detroit), func(e *feed.Entry) { e.Again = true }),
		"2027-11-07T06:15:00Z", "2027-11-07T06:45:00Z"},
	{"an hour that is skipped: by the clock before it", meeting(d(2027, 3, 14), hm(2, 30), nil, detroit),
		"2027-03-14T03:30:00[America/Detroit]", "2027-03-14T04:30:00[America/Detroit]"},
	{"Dublin, whose winter time is the saving one", meeting(d(2028, 2, 5), hm(15, 0), hm(16, 0), "Europe/Dublin"),
		"2028-02-05T15:00:00[Europe/Dublin]", "2028-02-05T16:00:00[Europe/Dublin]"},
	{"Lord Howe, half an hour: the second pass", with(meeting(d(2027, 4, 4), hm(1, 45), hm(3, 0), "Australia/Lord_Howe"), func(e *feed.Entry) { e.Again = true }),
		"2027-04-03T15:15:00Z", "2027-04-03T16:30:00Z"},
	{"Lord Howe in summer", meeting(d(2027, 12, 4), hm(15, 0), hm(16, 0), "Australia/Lord_Howe"),
		"2027-12-04T15:00:00[Australia/Lord_Howe]", "2027-12-04T16:00:00[Australia/Lord_Howe]"},
	{"Kathmandu, which has one offset", meeting(d(2027, 12, 4), hm(15, 0), hm(16, 0), "Asia/Kathmandu"),
		"2027-12-04T15:00:00[Asia/Kathmandu]", "2027-12-04T16:00:00[Asia/Kathmandu]"},
	{"UTC", meeting(d(2027, 12, 4), hm(15, 0), hm(16, 0), "UTC"), "2027-12-04T15:00:00Z", "2027-12-04T16:00:00Z"},
	{"no hour: all day", meeting(d(2027, 12, 4), nil, nil, ""), "2027-12-04", "2027-12-05"},
}

// TestHours writes each row, and has it read back by programs of others.
func TestHours(t *testing.T) {
	c := feed.Calendar{Name: "Hours"}
	for n, row := range hours {
		p := feed.Published{Entry: row.entry, Changed: stamp}
		p.UID = fmt.Sprint(n)
		if start, end := bounds(&p); start != row.start || end != row.end {
			t.Errorf("%s: want %s to %s, the tests' own reckoning says %s to %s", row.name, row.start, row.end, start, end)
		}
		c.Published = append(c.Published, p)
	}
	sound(t, c)
}

// TestHoursInWords reads what people are told of an hour.
func TestHoursInWords(t *testing.T) {
	for _, row := range []struct {
		entry   feed.Entry
		summary string
		text    string
	}{
		{deadline(d(2027, 9, 2), hm(17, 0), detroit),
			"Hollow Oak Table: final headcount by 17:00", "Due by Thu 2 Sep 2027, 17:00."},
		{with(deadline(d(2027, 9, 17), hm(0, 0), detroit), func(e *feed.Entry) { e.Date = d(2027, 9, 18) }),
			"Hollow Oak Table: final headcount by the end of the day",
			"Due by the end of Fri 17 Sep 2027.\nThe contract says Sat 18 Sep 2027, 00:00, which is the end of the day before."},
		{deadline(d(2027, 8, 27), hm(12, 0), "America/Chicago"),
			"Hollow Oak Table: final headcount by 12:00 Chicago time",
			"Due by Fri 27 Aug 2027, 12:00 Chicago time.\n12:00 in Chicago is 13:00 in Detroit."},
		{deadline(d(2027, 8, 27), hm(23, 30), "America/Chicago"),
			"Hollow Oak Table: final headcount by 23:30 Chicago time",
			"Due by Fri 27 Aug 2027, 23:30 Chicago time.\n23:30 in Chicago is 00:30 in Detroit, on Sat 28 Aug 2027."},
		{with(deadline(d(2027, 9, 3), hm(12, 0), detroit), func(e *feed.Entry) { e.Date, e.Shut = d(2027, 9, 4), "Saturday" }),
			"Hollow Oak Table: final headcount by 12:00",
			"Due by Fri 3 Sep 2027, 12:00.\nThe contract says Sat 4 Sep 2027, 12:00; offices are closed that day."},
		{with(deadline(d(2027, 9, 3), nil, detroit), func(e *feed.Entry) { e.Date, e.Shut = d(2027, 9, 6), "Labor Day" }),
			"Hollow Oak Table: final headcount",
			"Due by Fri 3 Sep 2027.\nThe contract says Mon 6 Sep 2027; offices are closed then for Labor Day."},
		{with(deadline(d(2027, 9, 3), nil, detroit), func(e *feed.Entry) { e.Date, e.Shut = d(2027, 9, 7), "closed by the agreement" }),
			"Hollow Oak Table: final headcount",
			"Due by Fri 3 Sep 2027.\nThe contract says Tue 7 Sep 2027; they are closed that day."},
		{with(deadline(d(2027, 11, 7), hm(1, 45), detroit), func(e *feed.Entry) { e.Again = true }),
			"Hollow Oak Table: final headcount by 01:45, the second time that day",
			"Due by Sun 7 Nov 2027, 01:45, the second time that day."},
		{with(deadline(d(2027, 9, 2), hm(17, 0), detroit), func(e *feed.Entry) { e.Of = feed.Notice }),
			"By Thu 2 Sep, 17:00: Hollow Oak Table: final headcount", "Due by Thu 2 Sep 2027, 17:00."},
		{meeting(d(2027, 9, 18), hm(20, 0), hm(1, 0), detroit), "Fitting", "Sat 18 Sep 2027, 20:00 to 01:00."},
	} {
		if got := row.entry.Summary(); got != row.summary {
			t.Errorf("says %q, want %q", got, row.summary)
		}
		if got := row.entry.Text(); !strings.HasPrefix(got+"\n", row.text+"\n") {
			t.Errorf("%s: says\n%s\nwant first\n%s", row.summary, got, row.text)
		}
	}
}
