package conflicts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"banns/milestones"
)

// The examples of RFC 5545 3.8.5.3, with the days that it prints for each. A
// rule that goes on for ever is read up to the last day that is printed. All
// take place at 9:00 in New York.
func TestRulesOfRFC5545(t *testing.T) {
	daily := "1997 Sep 2-30 Oct 1-31 Nov 1-30 Dec 1-23"
	januaries := "1998 Jan 1-31 1999 Jan 1-31 2000 Jan 1-31"
	fiveWeeks := "1997 Sep 2,4,9,11,16,18,23,25,30 Oct 2"
	rows := []struct{ says, start, rule, want string }{
		{"Daily for 10 occurrences", "19970902", "FREQ=DAILY;COUNT=10", "1997 Sep 2-11"},
		{"Daily until December 24, 1997", "19970902", "FREQ=DAILY;UNTIL=19971224T000000Z", daily},
		{"Every other day - forever", "19970902", "FREQ=DAILY;INTERVAL=2",
			"1997 Sep 2,4,6,8,10,12,14,16,18,20,22,24,26,28,30 Oct 2,4,6,8,10,12,14,16,18,20,22,24,26,28,30 " +
				"Nov 1,3,5,7,9,11,13,15,17,19,21,23,25,27,29 Dec 1,3"},
		{"Every 10 days, 5 occurrences", "19970902", "FREQ=DAILY;INTERVAL=10;COUNT=5", "1997 Sep 2,12,22 Oct 2,12"},
		{"Every day in January, for 3 years", "19980101", "FREQ=YEARLY;UNTIL=20000131T140000Z;BYMONTH=1;BYDAY=SU,MO,TU,WE,TH,FR,SA", januaries},
		{"Every day in January, for 3 years, or", "19980101", "FREQ=DAILY;UNTIL=20000131T140000Z;BYMONTH=1", januaries},
		{"Weekly for 10 occurrences", "19970902", "FREQ=WEEKLY;COUNT=10", "1997 Sep 2,9,16,23,30 Oct 7,14,21,28 Nov 4"},
		{"Weekly until December 24, 1997", "19970902", "FREQ=WEEKLY;UNTIL=19971224T000000Z",
			"1997 Sep 2,9,16,23,30 Oct 7,14,21,28 Nov 4,11,18,25 Dec 2,9,16,23"},
		{"Every other week - forever", "19970902", "FREQ=WEEKLY;INTERVAL=2;WKST=SU",
			"1997 Sep 2,16,30 Oct 14,28 Nov 11,25 Dec 9,23 1998 Jan 6,20 Feb 3,17"},
		{"Weekly on Tuesday and Thursday for five weeks", "19970902", "FREQ=WEEKLY;UNTIL=19971007T000000Z;WKST=SU;BYDAY=TU,TH", fiveWeeks},
		{"Weekly on Tuesday and Thursday for five weeks, or", "19970902", "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH", fiveWeeks},
		{"Every other week on Monday, Wednesday, and Friday until December 24, 1997", "19970901",
			"FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR",
			"1997 Sep 1,3,5,15,17,19,29 Oct 1,3,13,15,17,27,29,31 Nov 10,12,14,24,26,28 Dec 8,10,12,22"},
		{"Every other week on Tuesday and Thursday, for 8 occurrences", "19970902", "FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH",
			"1997 Sep 2,4,16,18,30 Oct 2,14,16"},
		{"Monthly on the first Friday for 10 occurrences", "19970905", "FREQ=MONTHLY;COUNT=10;BYDAY=1FR",
			"1997 Sep 5 Oct 3 Nov 7 Dec 5 1998 Jan 2 Feb 6 Mar 6 Apr 3 May 1 Jun 5"},
		{"Monthly on the first Friday until December 24, 1997", "19970905", "FREQ=MONTHLY;UNTIL=19971224T000000Z;BYDAY=1FR",
			"1997 Sep 5 Oct 3 Nov 7 Dec 5"},
		{"Every other month on the first and last Sunday of the month for 10 occurrences", "19970907",
			"FREQ=MONTHLY;INTERVAL=2;COUNT=10;BYDAY=1SU,-1SU", "1997 Sep 7,28 Nov 2,30 1998 Jan 4,25 Mar 1,29 May 3,31"},
		{"Monthly on the second-to-last Monday of the month for 6 months", "19970922", "FREQ=MONTHLY;COUNT=6;BYDAY=-2MO",
			"1997 Sep 22 Oct 20 Nov 17 Dec 22 1998 Jan 19 Feb 16"},
		{"Monthly on the third-to-the-last day of the month, forever", "19970928", "FREQ=MONTHLY;BYMONTHDAY=-3",
			"1997 Sep 28 Oct 29 Nov 28 Dec 29 1998 Jan 29 Feb 26"},
		{"Monthly on the 2nd and 15th of the month for 10 occurrences", "19970902", "FREQ=MONTHLY;COUNT=10;BYMONTHDAY=2,15",
			"1997 Sep 2,15 Oct 2,15 Nov 2,15 Dec 2,15 1998 Jan 2,15"},
		{"Monthly on the first and last day of the month for 10 occurrences", "19970930", "FREQ=MONTHLY;COUNT=10;BYMONTHDAY=1,-1",
			"1997 Sep 30 Oct 1,31 Nov 1,30 Dec 1,31 1998 Jan 1,31 Feb 1"},
		{"Every 18 months on the 10th thru 15th of the month for 10 occurrences", "19970910",
			"FREQ=MONTHLY;INTERVAL=18;COUNT=10;BYMONTHDAY=10,11,12,13,14,15", "1997 Sep 10-15 1999 Mar 10-13"},
		{"Every Tuesday, every other month", "19970902", "FREQ=MONTHLY;INTERVAL=2;BYDAY=TU",
			"1997 Sep 2,9,16,23,30 Nov 4,11,18,25 1998 Jan 6,13,20,27 Mar 3,10,17,24,31"},
		{"Yearly in June and July for 10 occurrences", "19970610", "FREQ=YEARLY;COUNT=10;BYMONTH=6,7",
			"1997 Jun 10 Jul 10 1998 Jun 10 Jul 10 1999 Jun 10 Jul 10 2000 Jun 10 Jul 10 2001 Jun 10 Jul 10"},
		{"Every other year on January, February, and March for 10 occurrences", "19970310", "FREQ=YEARLY;INTERVAL=2;COUNT=10;BYMONTH=1,2,3",
			"1997 Mar 10 1999 Jan 10 Feb 10 Mar 10 2001 Jan 10 Feb 10 Mar 10 2003 Jan 10 Feb 10 Mar 10"},
		{"Every third year on the 1st, 100th, and 200th day for 10 occurrences", "19970101", "FREQ=YEARLY;INTERVAL=3;COUNT=10;BYYEARDAY=1,100,200",
			"1997 Jan 1 Apr 10 Jul 19 2000 Jan 1 Apr 9 Jul 18 2003 Jan 1 Apr 10 Jul 19 2006 Jan 1"},
		{"Every 20th Monday of the year, forever", "19970519", "FREQ=YEARLY;BYDAY=20MO", "1997 May 19 1998 May 18 1999 May 17"},
		{"Monday of week number 20, forever", "19970512", "FREQ=YEARLY;BYWEEKNO=20;BYDAY=MO", "1997 May 12 1998 May 11 1999 May 17"},
		{"Every Thursday in March, forever", "19970313", "FREQ=YEARLY;BYMONTH=3;BYDAY=TH",
			"1997 Mar 13,20,27 1998 Mar 5,12,19,26 1999 Mar 4,11,18,25"},
		{"Every Thursday, but only during June, July, and August, forever", "19970605", "FREQ=YEARLY;BYDAY=TH;BYMONTH=6,7,8",
			"1997 Jun 5,12,19,26 Jul 3,10,17,24,31 Aug 7,14,21,28 1998 Jun 4,11,18,25 Jul 2,9,16,23,30 Aug 6,13,20,27 " +
				"1999 Jun 3,10,17,24 Jul 1,8,15,22,29 Aug 5,12,19,26"},
		{"Every Friday the 13th, forever", "19970902", "FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13\r\nEXDATE;TZID=America/New_York:19970902T090000",
			"1998 Feb 13 Mar 13 Nov 13 1999 Aug 13 2000 Oct 13"},
		{"The first Saturday that follows the first Sunday of the month, forever", "19970913", "FREQ=MONTHLY;BYDAY=SA;BYMONTHDAY=7,8,9,10,11,12,13",
			"1997 Sep 13 Oct 11 Nov 8 Dec 13 1998 Jan 10 Feb 7 Mar 7 Apr 11 May 9 Jun 13"},
		{"Every 4 years, the first Tuesday after a Monday in November, forever", "19961105", "FREQ=YEARLY;INTERVAL=4;BYMONTH=11;BYDAY=TU;\r\n BYMONTHDAY=2,3,4,5,6,7,8",
			"1996 Nov 5 2000 Nov 7 2004 Nov 2"},
		{"The third instance into the month of one of Tuesday, Wednesday, or Thursday, for the next 3 months", "19970904",
			"FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3", "1997 Sep 4 Oct 7 Nov 6"},
		{"The second-to-last weekday of the month", "19970929", "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2",
			"1997 Sep 29 Oct 30 Nov 27 Dec 30 1998 Jan 29 Feb 26 Mar 30"},
		{"WKST=MO makes a difference", "19970805", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO", "1997 Aug 5,10,19,24"},
		{"WKST=SU yields different results", "19970805", "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU", "1997 Aug 5,17,19,31"},
		{"February 30 is ignored", "20070115", "FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5", "2007 Jan 15,30 Feb 15 Mar 15,30"},
	}
	for _, r := range rows {
		want := printed(t, r.want)
		got := readNew(t, want[len(want)-1], r.start, r.rule)
		if len(got.LeftOut) > 0 {
			t.Errorf("%s: left out %v", r.says, got.LeftOut)
		}
		var days []milestones.Date
		for _, e := range got.Events {
			days = append(days, e.From)
			if e.Start == nil || e.Start.String() != "09:00" || e.To != e.From {
				t.Errorf("%s: %s to %s at %v, want one day at 09:00", r.says, e.From, e.To, e.Start)
			}
		}
		if !slices.Equal(days, want) {
			t.Errorf("%s:\n%v, want\n%v", r.says, days, want)
		}
	}
}

// "Every 20 minutes from 9:00 AM to 4:40 PM every day" is a daily rule too.
func TestTwentyMinutesOfRFC5545(t *testing.T) {
	got := readNew(t, d(1997, 9, 3), "19970902", "FREQ=DAILY;BYHOUR=9,10,11,12,13,14,15,16;BYMINUTE=0,20,40")
	if len(got.Events) != 48 {
		t.Fatalf("%d starts, want 24 on each of two days", len(got.Events))
	}
	for i, e := range got.Events {
		at := 9*60 + 20*(i%24)
		if want := fmt.Sprintf("%02d:%02d", at/60, at%60); e.Start.String() != want || e.From != d(1997, 9, 2+i/24) {
			t.Errorf("%s %s, want %s", e.From, e.Start, want)
		}
	}
}

// What repeats within the day is refused, with its line; its first day stays.
func TestSubDailyRulesOfRFC5545(t *testing.T) {
	for rule, unit := range map[string]string{
		"FREQ=HOURLY;INTERVAL=3;UNTIL=19970902T170000Z":           "hour",
		"FREQ=MINUTELY;INTERVAL=15;COUNT=6":                       "minute",
		"FREQ=MINUTELY;INTERVAL=90;COUNT=4":                       "minute",
		"FREQ=MINUTELY;INTERVAL=20;BYHOUR=9,10,11,12,13,14,15,16": "minute",
		"FREQ=SECONDLY":                   "second",
		" freq = secondly ; interval = 1": "second",
		"BYSECOND=1;FREQ=SECONDLY":        "second",
		"FREQ=DAILY;BYHOUR=9,10,11,12,13,14,15,16;BYMINUTE=0,1,2,40": "",
	} {
		got := readNew(t, d(1998, 1, 1), "19970902", rule)
		reason := fmt.Sprintf("what repeats by the %s is not taken", unit)
		if unit == "" {
			reason = "it takes place more than 24 times a day"
		}
		if len(got.Events) != 1 || got.Events[0].From != d(1997, 9, 2) {
			t.Errorf("%s: %v, want its first day", rule, got.Events)
		}
		if want := (LeftOut{5, "Example", reason + firstDay}); len(got.LeftOut) != 1 || got.LeftOut[0] != want {
			t.Errorf("%s: left out %v, want %v", rule, got.LeftOut, want)
		}
	}
}

// readNew reads an event at nine in New York with one rule, up to a last day.
func readNew(t *testing.T, last milestones.Date, start, rule string) Listing {
	t.Helper()
	text := strings.Join([]string{"BEGIN:VCALENDAR", "BEGIN:VEVENT", "SUMMARY:Example",
		"DTSTART;TZID=America/New_York:" + start + "T090000", "RRULE:" + rule, "END:VEVENT", "END:VCALENDAR", ""}, "\r\n")
	got, err := ReadCalendar(strings.NewReader(text), Scope{Source: "rfc5545", Zone: zone(t, "America/New_York"), From: d(1990, 1, 1), To: last})
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	loc, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return loc
}

// printed reads "1997 Sep 2,9-11 Oct 1 1998 Jan 6".
func printed(t *testing.T, text string) (days []milestones.Date) {
	t.Helper()
	year, month := 0, time.Month(0)
	for _, f := range strings.Fields(text) {
		if n, err := strconv.Atoi(f); err == nil && n > 31 {
			year = n
			continue
		}
		if m, err := time.Parse("Jan", f); err == nil {
			month = m.Month()
			continue
		}
		for part := range strings.SplitSeq(f, ",") {
			a, b, ok := strings.Cut(part, "-")
			first, err := strconv.Atoi(a)
			if err != nil {
				t.Fatalf("%q in %q", part, text)
			}
			last := first
			if ok {
				last, _ = strconv.Atoi(b)
			}
			for n := first; n <= last; n++ {
				days = append(days, d(year, month, n))
			}
		}
	}
	return days
}
