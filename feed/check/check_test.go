package check

import (
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// good is a sound feed: an all-day entry with an alarm and folded text of
// several octets a rune, a timed entry with its zone, and the second pass of a
// doubled hour, in UTC. The tests name its lines by number: add at the end.
const good = `BEGIN:VCALENDAR
VERSION:2.0
PRODID:-//banns//feed//EN
CALSCALE:GREGORIAN
NAME:Maren and Theo
X-WR-CALNAME:Maren and Theo
REFRESH-INTERVAL;VALUE=DURATION:PT12H
X-PUBLISHED-TTL:PT12H
BEGIN:VTIMEZONE
TZID:America/Detroit
BEGIN:DAYLIGHT
DTSTART:20270314T020000
TZOFFSETFROM:-0500
TZOFFSETTO:-0400
TZNAME:EDT
END:DAYLIGHT
BEGIN:STANDARD
DTSTART:20271107T020000
TZOFFSETFROM:-0400
TZOFFSETTO:-0500
TZNAME:EST
END:STANDARD
END:VTIMEZONE
BEGIN:VEVENT
UID:pay-2@banns.example.org
DTSTAMP:20261002T120000Z
LAST-MODIFIED:20261002T120000Z
CREATED:20261001T090000Z
SEQUENCE:2
DTSTART;VALUE=DATE:20270904
DTEND;VALUE=DATE:20270905
SUMMARY:Hollow Oak Table\, Crêperie: balance
DESCRIPTION:Zwölf Gäste äßen gern Crêpes\; die übrigen möchten Käse
  und Brötchen.\nhttps://banns.example.org/p/abc
STATUS:CONFIRMED
TRANSP:TRANSPARENT
CATEGORIES:payment,catering
URL;VALUE=URI:https://banns.example.org/p/abc
BEGIN:VALARM
ACTION:DISPLAY
DESCRIPTION:Balance
TRIGGER:-P7D
END:VALARM
END:VEVENT
BEGIN:VEVENT
UID:wedding@banns.example.org
DTSTAMP:20261002T120000Z
LAST-MODIFIED:20261002T120000Z
SEQUENCE:0
DTSTART;TZID=America/Detroit:20270918T163000
DTEND;TZID=America/Detroit:20270918T233000
SUMMARY:Wedding
LOCATION;LANGUAGE="en":The Net Loft\, Alder Harbor
GEO:44.76;-85.62
STATUS:TENTATIVE
TRANSP:OPAQUE
END:VEVENT
BEGIN:VEVENT
UID:return@banns.example.org
DTSTAMP:20261002T120000Z
SEQUENCE:0
DTSTART;TZID=America/Detroit:20271107T013000
DTEND:20271107T063000Z
SUMMARY:Return the van
STATUS:CANCELLED
END:VEVENT
END:VCALENDAR
`

// crlf gives a literal the line ends of a stream.
func crlf(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }

func TestGood(t *testing.T) {
	for _, says := range Calendar([]byte(crlf(good))) {
		t.Error(says)
	}
}

// sound are changes of good that are no fault.
var sound = []struct{ name, old, new string }{
	{"names in lower case", "BEGIN:VALARM\nACTION:DISPLAY\n", "begin:valarm\naction:DISPLAY\n"},
	{"types in lower case", "DTSTART;VALUE=DATE:", "dtstart;value=date:"},
	{"fold by a tab", "Käse\n  und", "Käse\n\t und"},
	{"fold in an escape", "übrigen möchten Käse\n ", "übrigen\\\n ,"},
	{"tab in a text", "SUMMARY:Wedding", "SUMMARY:Wed\tding"},
	{"75 octets", "SUMMARY:Wedding", "SUMMARY:" + strings.Repeat("w", 67)},
	{"quoted delimiters", `LANGUAGE="en"`, `X-SEEN=a,"b;c:d,e",f`},
	{"extension of another type", "TRANSP:OPAQUE", `X-NOTE;VALUE=URI:a:b;c`},
	{"days instead of an end", "DTEND;VALUE=DATE:20270905", "DURATION:P1D"},
	{"hours instead of an end", "DTEND;TZID=America/Detroit:20270918T233000", "DURATION:PT7H"},
	{"end in UTC", "DTEND;TZID=America/Detroit:20270918T233000", "DTEND:20270918T203001Z"},
	{"alarm of weeks and clock", "TRIGGER:-P7D", "TRIGGER;RELATED=START:-P1DT2H30M"},
	{"no alarm", "BEGIN:VALARM\nACTION:DISPLAY\nDESCRIPTION:Balance\nTRIGGER:-P7D\nEND:VALARM\n", ""},
	{"offset to the second", "TZOFFSETFROM:-0500\n", "TZOFFSETFROM:-053211\n"},
}

func TestSound(t *testing.T) {
	for _, row := range sound {
		t.Run(row.name, func(t *testing.T) {
			for _, says := range Calendar(mutated(t, row.old, row.new)) {
				t.Error(says)
			}
		})
	}
}

// TestZoneOfItsOwn has a zone that no tz database knows: its VTIMEZONE is then
// all there is to go by.
func TestZoneOfItsOwn(t *testing.T) {
	own := strings.ReplaceAll(crlf(good), "America/Detroit", "Alder Harbor")
	for _, says := range Calendar([]byte(own)) {
		t.Error(says)
	}
}

// seeded are faults put into good, one at a time: what is replaced (once, or
// wherever all is set), by what, and all that must be said of it. In them \n
// stands for CRLF.
var seeded = []struct{ name, old, new, want string }{
	// Lines.
	{"long line", "SUMMARY:Wedding", "SUMMARY:" + strings.Repeat("w", 68), "line 52: 76 octets, the limit is 75 (RFC 5545 3.1)"},
	{"long by octets only", "SUMMARY:Wedding", "SUMMARY:" + strings.Repeat("é", 34), "line 52: 76 octets, the limit is 75 (RFC 5545 3.1)"},
	{"bare LF", "SUMMARY:Wedding\n", "SUMMARY:Wedding<LF>", "line 52: ends in a bare LF, not CRLF (RFC 5545 3.1)"},
	{"bare CR", "SUMMARY:Wedding", "SUMMARY:Wed\rding", "line 52: a bare CR (RFC 5545 3.1)"},
	{"no last line end", "END:VCALENDAR\n", "END:VCALENDAR", "line 67: the stream ends without CRLF (RFC 5545 3.1)"},
	{"half a last line end", "END:VCALENDAR\n", "END:VCALENDAR\r", "line 67: the stream ends without CRLF (RFC 5545 3.1)"},
	{"control character", "SUMMARY:Wedding", "SUMMARY:Wed\x07ding", "line 52: control character 0x07 (RFC 5545 3.1)"},
	{"delete", "LANGUAGE=\"en\"", "LANGUAGE=\"e\x7Fn\"", "line 53: control character 0x7F (RFC 5545 3.1)"},
	{"not UTF-8", "und Brötchen", "und Br\xF6tchen", "line 34: not UTF-8 (RFC 5545 3.1.4)"},
	{"fold inside a rune", "Käse\n  und", "K\xC3\n \xA4se und", "line 34: the fold before it is inside a rune (RFC 5545 3.1)"},
	{"empty line", "END:VALARM\n", "END:VALARM\n\n", "line 44: an empty line (RFC 5545 3.1)"},
	{"fold of nothing", "BEGIN:VCALENDAR", " x\nBEGIN:VCALENDAR", "line 1: folded, with no line before it (RFC 5545 3.1)"},
	{"byte order mark", "BEGIN:VCALENDAR", "\uFEFFBEGIN:VCALENDAR", "line 1: a byte order mark before the first line (RFC 5545 3.4)"},
	{"too large", "END:VCALENDAR", strings.Repeat("X-PAD:0123456789012345678901234567890123456789\n", 21_000) + "END:VCALENDAR", "line 21067: 1009584 octets by here, a feed stays under 1000000"},

	// Names and parameters.
	{"no name", "TRANSP:OPAQUE", ":OPAQUE", `line 56: ":OPAQUE" does not begin with a property name (RFC 5545 3.1)`},
	{"space in a name", "TRANSP:OPAQUE", "TRANSP :OPAQUE", "line 56: TRANSP has no colon after it (RFC 5545 3.1)"},
	{"no colon", "TRANSP:OPAQUE", "TRANSP", "line 56: TRANSP has no colon after it (RFC 5545 3.1)"},
	{"parameter without name", `LOCATION;LANGUAGE="en"`, `LOCATION;`, "line 53: LOCATION: a semicolon with no parameter name after it (RFC 5545 3.1)"},
	{"parameter without value", `LANGUAGE="en"`, `LANGUAGE`, "line 53: LOCATION: parameter LANGUAGE has no value (RFC 5545 3.1)"},
	{"parameter twice", `LANGUAGE="en"`, `LANGUAGE=en;LANGUAGE=de`, "line 53: LOCATION: parameter LANGUAGE stands twice (RFC 5545 3.1)"},
	{"quote in a parameter", `LANGUAGE="en"`, `LANGUAGE=e"n"`, "line 53: LOCATION: parameter LANGUAGE has a quote inside its value (RFC 5545 3.1)"},
	{"quote in quotes", `LANGUAGE="en"`, `LANGUAGE="e\"n"`, "line 53: LOCATION: parameter LANGUAGE goes on after its closing quote (RFC 5545 3.1)"},
	{"quote left open", `LANGUAGE="en"`, `LANGUAGE="en`, "line 53: LOCATION: parameter LANGUAGE opens a quote and does not close it (RFC 5545 3.1)"},
	{"second of several values", `LANGUAGE="en"`, `X-SEEN=a,"b,c",d"`, "line 53: LOCATION: parameter X-SEEN has a quote inside its value (RFC 5545 3.1)"},

	// Texts.
	{"bare comma", `Net Loft\,`, `Net Loft,`, `line 53: LOCATION has a bare ',' (RFC 5545 3.3.11)`},
	{"bare semicolon", `Crêpes\;`, `Crêpes;`, `line 33: DESCRIPTION has a bare ';' (RFC 5545 3.3.11)`},
	{"bare semicolon in a list", "payment,catering", "payment;catering", `line 37: CATEGORIES has a bare ';' (RFC 5545 3.3.11)`},
	{"escaped colon", "Crêperie:", `Crêperie\:`, `line 32: SUMMARY escapes ':', which has no escape (RFC 5545 3.3.11)`},
	{"escaped rune", "Crêperie:", `Cr\êperie:`, `line 32: SUMMARY escapes 'ê', which has no escape (RFC 5545 3.3.11)`},
	{"backslash at the end", "SUMMARY:Wedding", `SUMMARY:Wedding\`, "line 52: SUMMARY ends in a backslash (RFC 5545 3.3.11)"},
	{"empty summary", "SUMMARY:Wedding", "SUMMARY:", "line 52: SUMMARY is empty"},
	{"unescaped extension", "TRANSP:OPAQUE", `X-NOTE:C:\temp`, `line 56: X-NOTE escapes 't', which has no escape (RFC 5545 3.3.11)`},

	// Nesting.
	{"no END", "END:VALARM\n", "", "line 43: END:VEVENT before the END of VALARM, begun on line 39 (RFC 5545 3.6)"},
	{"no END at the end", "END:VCALENDAR\n", "", "line 1: BEGIN:VCALENDAR has no END (RFC 5545 3.6)"},
	{"no BEGIN", "BEGIN:VALARM\nACTION:DISPLAY\nDESCRIPTION:Balance\nTRIGGER:-P7D\n", "", "line 39: END:VALARM has no BEGIN (RFC 5545 3.6)"},
	{"not a calendar", "BEGIN:VCALENDAR", "BEGIN:VCARD", "line 1: the stream begins with \"VCARD\", not VCALENDAR (RFC 5545 3.4)\n" +
		"line 1: BEGIN:VCARD has no END (RFC 5545 3.6)\nline 67: END:VCALENDAR has no BEGIN (RFC 5545 3.6)"},
	{"text after the end", "END:VCALENDAR", "END:VCALENDAR\nX-A:b\nX-A:c", "line 68: X-A stands outside VCALENDAR (RFC 5545 3.4)"},
	{"two calendars", "END:VCALENDAR", "END:VCALENDAR\nBEGIN:VCALENDAR\nEND:VCALENDAR", "line 68: a second calendar in the stream, a feed is one"},
	{"deep nesting", "END:VCALENDAR", strings.Repeat("BEGIN:X-A\n", 9) + "END:VCALENDAR", "line 67: X-A has no place in VCALENDAR\nline 74: nested deeper than 8"},
	{"to-do", "END:VCALENDAR", "BEGIN:VTODO\nEND:VTODO\nEND:VCALENDAR", "line 67: VTODO has no place in VCALENDAR"},
	{"event in an event", "BEGIN:VALARM", "BEGIN:VEVENT\nEND:VEVENT\nBEGIN:VALARM", "line 39: VEVENT has no place in VEVENT"},

	// Which properties, and how often.
	{"METHOD", "CALSCALE:GREGORIAN", "METHOD:PUBLISH", "line 4: METHOD makes the feed a scheduling message, which it is not (RFC 5546 3.2.1)"},
	{"old version", "VERSION:2.0", "VERSION:1.0", `line 2: VERSION is "1.0", not 2.0`},
	{"no version", "VERSION:2.0\n", "", "line 1: VCALENDAR has no VERSION (RFC 5545 3.7.4)"},
	{"PRODID twice", "CALSCALE:GREGORIAN", "PRODID:other", "line 4: a second PRODID, the first is on line 3 (RFC 5545 3.7.3)"},
	{"no NAME", "NAME:Maren and Theo\nX-WR", "X-WR", "line 1: VCALENDAR has no NAME (RFC 7986 5.1)"},
	{"no X-WR-CALNAME", "X-WR-CALNAME:Maren and Theo\n", "", "line 1: VCALENDAR has no X-WR-CALNAME (the NAME of older clients)"},
	{"no X-PUBLISHED-TTL", "X-PUBLISHED-TTL:PT12H\n", "", "line 1: VCALENDAR has no X-PUBLISHED-TTL (the REFRESH-INTERVAL of older clients)"},
	{"refresh without VALUE", "REFRESH-INTERVAL;VALUE=DURATION:", "REFRESH-INTERVAL:", "line 7: REFRESH-INTERVAL has no VALUE=DURATION (RFC 7986 5.7)"},
	{"refresh backwards", "VALUE=DURATION:PT12H", "VALUE=DURATION:-PT12H", `line 7: REFRESH-INTERVAL is "-PT12H", not a positive duration`},
	{"no UID", "UID:wedding@banns.example.org\n", "", "line 45: VEVENT has no UID (RFC 5545 3.8.4.7)"},
	{"no DTSTAMP", "DTSTAMP:20261002T120000Z\nLAST-MODIFIED:20261002T120000Z\nSEQUENCE:0\n", "", "line 45: VEVENT has no DTSTAMP (RFC 5545 3.8.7.2)"},
	{"no DTSTART", "DTSTART;VALUE=DATE:20270904\n", "", "line 24: VEVENT has no DTSTART (RFC 5545 3.8.2.4)"},
	{"UID twice in an event", "TRANSP:OPAQUE", "UID:x", "line 56: a second UID, the first is on line 46 (RFC 5545 3.8.4.7)"},
	{"UID of another event", "UID:wedding@", "UID:pay-2@", `line 46: UID "pay-2@banns.example.org" is the UID of line 25 too (RFC 5545 3.8.4.7)`},
	{"SUMMARY twice", "TRANSP:OPAQUE", "SUMMARY:x", "line 56: a second SUMMARY, the first is on line 52 (RFC 5545 3.8.1.12)"},
	{"recurrence", "TRANSP:OPAQUE", "RECURRENCE-ID:20270918T203000Z", "line 56: RECURRENCE-ID, but every entry of a feed has its own UID"},
	{"misplaced", "TRANSP:OPAQUE", "TZOFFSETTO:-0400", "line 56: TZOFFSETTO has no place in VEVENT (RFC 5545 3.8.3.4)"},
	{"misspelt", "TRANSP:OPAQUE", "TRANSPARENT:OPAQUE", "line 56: TRANSPARENT is no property that a feed has"},

	// Values.
	{"negative sequence", "SEQUENCE:2", "SEQUENCE:-2", `line 29: SEQUENCE is "-2", no count (RFC 5545 3.3.8)`},
	{"sequence no number", "SEQUENCE:2", "SEQUENCE:2.0", `line 29: SEQUENCE is "2.0", no count (RFC 5545 3.3.8)`},
	{"sequence beyond 32 bits", "SEQUENCE:2", "SEQUENCE:2147483648", `line 29: SEQUENCE is "2147483648", no count (RFC 5545 3.3.8)`},
	{"status", "STATUS:TENTATIVE", "STATUS:MAYBE", `line 55: STATUS is "MAYBE", not TENTATIVE or CONFIRMED or CANCELLED`},
	{"transparency", "TRANSP:OPAQUE", "TRANSP:BUSY", `line 56: TRANSP is "BUSY", not OPAQUE or TRANSPARENT`},
	{"place", "GEO:44.76;-85.62", "GEO:44.76,-85.62", `line 54: GEO is "44.76,-85.62", not latitude;longitude (RFC 5545 3.8.1.6)`},
	{"place off the earth", "GEO:44.76;-85.62", "GEO:-185.62;44.76", `line 54: GEO "-185.62;44.76" is nowhere on earth (RFC 5545 3.8.1.6)`},
	{"space in a URL", "URI:https://banns.example.org/p/abc", "URI:https://banns.example.org/p /abc", `line 38: URL is "https://banns.example.org/p /abc", no URI (RFC 5545 3.3.13)`},
	{"URL without a scheme", "URI:https://banns.example.org/p/abc", "URI:banns.example.org/p/abc", `line 38: URL is "banns.example.org/p/abc", no URI (RFC 5545 3.3.13)`},
	{"wrong type", "URL;VALUE=URI", "URL;VALUE=TEXT", `line 38: URL is said to be "TEXT", it is URI (RFC 5545 3.2.20)`},

	// Dates and times.
	{"stamp not in UTC", "DTSTAMP:20261002T120000Z\nLAST-MODIFIED:20261002T120000Z\nCREATED", "DTSTAMP:20261002T120000\nLAST-MODIFIED:20261002T120000Z\nCREATED", "line 26: DTSTAMP 20261002T120000 is not in UTC (RFC 5545 3.8.7)"},
	{"change not in UTC", "LAST-MODIFIED:20261002T120000Z\nCREATED", "LAST-MODIFIED;TZID=America/Detroit:20261002T120000\nCREATED", "line 27: LAST-MODIFIED 20261002T120000 is not in UTC (RFC 5545 3.8.7)"},
	{"creation a date", "CREATED:20261001T090000Z", "CREATED:20261001", "line 28: CREATED 20261001 is a date without VALUE=DATE (RFC 5545 3.3.4)"},
	{"no such day", "VALUE=DATE:20270904", "VALUE=DATE:20270229", `line 30: DTSTART "20270229" is no date (RFC 5545 3.3.4)`},
	{"day with hyphens", "VALUE=DATE:20270904", "VALUE=DATE:2027-09-04", `line 30: DTSTART "2027-09-04" is no date (RFC 5545 3.3.4)`},
	{"date without VALUE", "DTSTART;VALUE=DATE:20270904", "DTSTART:20270904", "line 30: DTSTART 20270904 is a date without VALUE=DATE (RFC 5545 3.3.4)"},
	{"time with VALUE=DATE", "VALUE=DATE:20270905", "VALUE=DATE:20270905T000000Z", `line 31: DTEND "20270905T000000Z" is no date (RFC 5545 3.3.4)`},
	{"no such hour", "20270918T233000", "20270918T243000", `line 51: DTEND "20270918T243000" is no date-time (RFC 5545 3.3.5)`},
	{"fraction of a second", "DTEND:20271107T063000Z", "DTEND:20271107T063000.5Z", `line 63: DTEND "20271107T063000.5Z" is no date-time (RFC 5545 3.3.5)`},
	{"floating", "DTEND;TZID=America/Detroit:20270918T233000", "DTEND:20270918T233000", "line 51: DTEND 20270918T233000 floats: it has neither Z nor TZID, and some clients read it as UTC"},
	{"UTC with TZID", "20270918T233000", "20270919T033000Z", "line 51: DTEND is in UTC and has a TZID (RFC 5545 3.2.19)"},
	{"date with TZID", "DTSTART;VALUE=DATE", "DTSTART;VALUE=DATE;TZID=America/Detroit", "line 30: DTSTART is a date and has a TZID (RFC 5545 3.2.19)"},
	{"date and time", "DTEND;VALUE=DATE:20270905", "DTEND:20270905T000000Z", "line 31: DTEND and DTSTART are not both dates or both times (RFC 5545 3.8.2.2)"},
	{"one day too few", "VALUE=DATE:20270905", "VALUE=DATE:20270904", "line 31: DTEND is not after DTSTART (RFC 5545 3.8.2.2)"},
	{"end before start", "20270918T233000", "20270918T153000", "line 51: DTEND is not after DTSTART (RFC 5545 3.8.2.2)"},
	{"end in UTC at the start", "DTEND:20271107T063000Z", "DTEND:20271107T053000Z", "line 63: DTEND is not after DTSTART (RFC 5545 3.8.2.2)"},
	{"length twice", "TRANSP:OPAQUE", "DURATION:PT7H", "line 56: DURATION beside DTEND (RFC 5545 3.6.1)"},
	{"no length", "DTEND;VALUE=DATE:20270905\n", "", "line 24: VEVENT has no DTEND"},
	{"hours of a day", "DTEND;VALUE=DATE:20270905", "DURATION:PT24H", "line 31: DURATION of an all-day event is not in days or weeks (RFC 5545 3.8.2.5)"},
	{"duration of months", "DTEND;VALUE=DATE:20270905", "DURATION:P1M", `line 31: DURATION is "P1M", no duration (RFC 5545 3.3.6)`},

	// Time zones.
	{"unknown zone", "DTEND;TZID=America/Detroit:20270918", "DTEND;TZID=America/Chicago:20270918", `line 51: DTEND names "America/Chicago", which has no VTIMEZONE (RFC 5545 3.2.19)`},
	{"unused zone", "END:VTIMEZONE", "END:VTIMEZONE\nBEGIN:VTIMEZONE\nTZID:X\nBEGIN:STANDARD\nDTSTART:19700101T000000\nTZOFFSETFROM:+0000\nTZOFFSETTO:+0000\nEND:STANDARD\nEND:VTIMEZONE", `line 24: VTIMEZONE "X" is named by no entry`},
	{"zone twice", "END:VTIMEZONE", "END:VTIMEZONE\nBEGIN:VTIMEZONE\nTZID:America/Detroit\nEND:VTIMEZONE", `line 24: a second VTIMEZONE "America/Detroit", the first is on line 9 (RFC 5545 3.8.3.1)`},
	{"zone of nothing", good[strings.Index(good, "BEGIN:DAYLIGHT"):strings.Index(good, "END:VTIMEZONE")], "", "line 9: VTIMEZONE has neither STANDARD nor DAYLIGHT (RFC 5545 3.6.5)"},
	{"zone not covering", "DTSTART:20270314T020000", "DTSTART:20271014T020000", "line 50: DTSTART is before the first observance of its VTIMEZONE, 20271014T020000 (RFC 5545 3.6.5)\n" +
		"line 51: DTEND is before the first observance of its VTIMEZONE, 20271014T020000 (RFC 5545 3.6.5)"},
	{"zone an hour off", "TZOFFSETFROM:-0500\nTZOFFSETTO:-0400", "TZOFFSETFROM:-0500\nTZOFFSETTO:-0500", "line 50: DTSTART 20270918T163000 is by its VTIMEZONE 20270918T173000 in America/Detroit\n" +
		"line 51: DTEND 20270918T233000 is by its VTIMEZONE 20270919T003000 in America/Detroit\n" +
		"line 63: DTEND is not after DTSTART (RFC 5545 3.8.2.2)"},
	{"hour that is skipped", "DTSTART;TZID=America/Detroit:20270918T163000", "DTSTART;TZID=America/Detroit:20270314T023000", "line 50: DTSTART 20270314T023000 is by its VTIMEZONE 20270314T033000 in America/Detroit"},
	{"offset without minutes", "TZOFFSETFROM:-0500", "TZOFFSETFROM:-5", `line 13: TZOFFSETFROM is "-5", no UTC offset (RFC 5545 3.3.14)`},
	{"minus nought", "TZOFFSETFROM:-0500", "TZOFFSETFROM:-0000", `line 13: TZOFFSETFROM is "-0000", no UTC offset (RFC 5545 3.3.14)`},
	{"observance without offset", "TZOFFSETFROM:-0400\n", "", "line 17: STANDARD has no TZOFFSETFROM (RFC 5545 3.8.3.3)"},
	{"observance in UTC", "DTSTART:20271107T020000", "DTSTART:20271107T060000Z", "line 18: DTSTART of an observance is not a local time (RFC 5545 3.6.5)"},
	{"recurring observance", "TZNAME:EST", "RRULE:FREQ=YEARLY;BYMONTH=11;BYDAY=1SU", "line 21: RRULE, but a feed writes every entry and every observance out"},

	// Alarms.
	{"sound", "ACTION:DISPLAY", "ACTION:AUDIO", `line 40: ACTION is "AUDIO", not DISPLAY`},
	{"no ACTION", "ACTION:DISPLAY\n", "", "line 39: VALARM has no ACTION (RFC 5545 3.8.6.1)"},
	{"alarm without words", "DESCRIPTION:Balance\n", "", "line 39: VALARM has no DESCRIPTION (RFC 5545 3.8.1.5)"},
	{"alarm after the start", "TRIGGER:-P7D", "TRIGGER:P7D", `line 42: TRIGGER is "P7D", not before the start`},
	{"alarm at the start", "TRIGGER:-P7D", "TRIGGER:-PT0S", `line 42: TRIGGER is "-PT0S", not before the start`},
	{"alarm before the end", "TRIGGER:-P7D", "TRIGGER;RELATED=END:-P7D", `line 42: TRIGGER is related to "END", in a feed it is to START`},
	{"alarm at a time", "TRIGGER:-P7D", "TRIGGER;VALUE=DATE-TIME:20270901T090000Z", `line 42: TRIGGER is said to be "DATE-TIME", it is DURATION (RFC 5545 3.2.20)`},
	{"weeks and days", "TRIGGER:-P7D", "TRIGGER:-P1W1D", `line 42: TRIGGER is "-P1W1D", no duration (RFC 5545 3.3.6)`},
	{"two alarms", "END:VALARM", "END:VALARM\nBEGIN:VALARM\nACTION:DISPLAY\nDESCRIPTION:x\nTRIGGER:-P1D\nEND:VALARM", "line 44: a second VALARM in the event, the first is on line 39"},
}

// mutated is good with one seeded fault in it, as a stream.
func mutated(t testing.TB, old, new string) []byte {
	t.Helper()
	if !strings.Contains(good, old) {
		t.Fatalf("good does not hold %q", old)
	}
	s := crlf(strings.Replace(good, old, new, 1))
	return []byte(strings.ReplaceAll(s, "<LF>", "\n"))
}

func TestSeededFaults(t *testing.T) {
	for _, row := range seeded {
		t.Run(row.name, func(t *testing.T) {
			got := strings.Join(Calendar(mutated(t, row.old, row.new)), "\n")
			if got != row.want {
				t.Errorf("got:\n%s\nwant:\n%s", got, row.want)
			}
		})
	}
}

func TestNothing(t *testing.T) {
	if got := Calendar(nil); len(got) != 1 || !strings.HasPrefix(got[0], "line 1: nothing here") {
		t.Errorf("got %q", got)
	}
}

func TestNoComponent(t *testing.T) {
	head, _, _ := strings.Cut(good, "BEGIN:VTIMEZONE")
	got := Calendar([]byte(crlf(head + "END:VCALENDAR\n")))
	if len(got) != 1 || got[0] != "line 1: VCALENDAR holds no component (RFC 5545 3.6)" {
		t.Errorf("got %q", got)
	}
}

// TestNoEvent has the one component of an empty feed, which no entry names; a
// second one is for nothing.
func TestNoEvent(t *testing.T) {
	head, _, _ := strings.Cut(good, "BEGIN:VEVENT")
	for _, says := range Calendar([]byte(crlf(head + "END:VCALENDAR\n"))) {
		t.Error(says)
	}
	_, zone, _ := strings.Cut(head, "BEGIN:VTIMEZONE")
	second := "BEGIN:VTIMEZONE" + strings.ReplaceAll(zone, "America/Detroit", "X")
	got := strings.Join(Calendar([]byte(crlf(head+second+"END:VCALENDAR\n"))), "\n")
	want := "line 9: VTIMEZONE \"America/Detroit\" is named by no entry\nline 24: VTIMEZONE \"X\" is named by no entry"
	if got != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
}

// TestBombs gives the check a quarter megabyte of what is quadratic in a careless one.
func TestBombs(t *testing.T) {
	for _, part := range []string{
		"[", "\n", "\r", "\r\n", " ", "\r\n ", "\\", "\"", ";", "X;", ",", "A=\"", "A;B=c", "BEGIN:A\r\n", "END:A\r\n",
		"BEGIN:VCALENDAR\r\n", "BEGIN:VEVENT\r\nEND:VEVENT\r\n", "\xFF", "ä\r\n ", ";A=,", "BEGIN:VTIMEZONE\r\nTZID:a\r\n",
	} {
		bomb := strings.Repeat(part, 250_000/len(part))
		done := make(chan bool)
		go func() {
			Calendar([]byte(bomb))
			Calendar([]byte(strings.Replace(crlf(good), "Wedding", bomb, 1)))
			Calendar([]byte(strings.Replace(crlf(good), "LANGUAGE", bomb, 1)))
			close(done)
		}()
		select {
		case <-done:
		case <-time.After(10 * time.Second):
			t.Fatalf("stalls on many %q", part)
		}
	}
}

func FuzzCalendar(f *testing.F) {
	f.Add([]byte(crlf(good)))
	for _, row := range seeded {
		if b := mutated(f, row.old, row.new); len(b) < 10_000 {
			f.Add(b)
		}
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		for _, says := range Calendar(b) {
			var n int
			if _, err := fmt.Sscanf(says, "line %d: ", &n); err != nil || n < 1 {
				t.Errorf("no line number: %q", says)
			}
			if len(says) > 1000 || !utf8.ValidString(says) || strings.ContainsAny(says, "\r\n") {
				t.Errorf("not one plain sentence: %q", says)
			}
		}
	})
}
