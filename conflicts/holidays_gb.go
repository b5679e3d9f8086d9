package conflicts

import (
	"slices"
	"time"

	"github.com/rickar/cal/v2"
	"github.com/rickar/cal/v2/gb"
)

// The United Kingdom: the bank holidays of the Banking and Financial Dealings
// Act 1971, section 1 and Schedule 1, with the days that a royal proclamation
// adds or moves under section 1(2) and (3). A proclamation gives every one
// that falls on a weekend the next weekday that is not a bank holiday yet.
// Names are those of the government's published list.
var (
	everywhereInUK = []*cal.Holiday{
		gb.NewYear,
		gb.GoodFriday,
		named("Early May bank holiday", gb.EarlyMay),
		named("Early May bank holiday (VE Day)", gb.VEDay),
		named("Spring bank holiday", gb.SpringHoliday),
		named("Spring bank holiday", gb.SpringHoliday2022),
		gb.PlatinumJubilee,
		once("State Funeral of Queen Elizabeth II", 2022, time.September, 19),
		gb.CoronationDay,
		gb.ChristmasDay,
		gb.BoxingDay,
	}
	summerBankHoliday = named("Summer bank holiday", gb.SummerHoliday)

	englandAndWales = inUK(gb.EasterMonday, summerBankHoliday)

	// St Andrew's Day: the St Andrew's Day Bank Holiday (Scotland) Act 2007.
	// 15 June 2026: the proclamation of 4 February 2026.
	scotland = inUK(
		yearly("2nd January", 0, time.January, 2),
		gb.SummerHolidayScotland,
		yearly("St Andrew's Day", 2007, time.November, 30),
		once("World Cup bank holiday", 2026, time.June, 15),
	)

	northernIreland = inUK(
		yearly("St Patrick's Day", 0, time.March, 17),
		gb.EasterMonday,
		yearly("Battle of the Boyne (Orangemen's Day)", 0, time.July, 12),
		summerBankHoliday,
	)
)

// inUK is the bank holidays of one part of the kingdom.
func inUK(own ...*cal.Holiday) []*cal.Holiday {
	return observing(nextWeekday, slices.Concat(everywhereInUK, own)...)
}
