package store_test

import (
	"strings"
	"testing"
)

func TestFaultsOfTheWedding(t *testing.T) {
	wedding := func(fields string) string { return "banns: 1\nwedding:\n" + fields }
	wantFaults(t, []faulty{
		{"nothing", "banns: 1\n", []string{
			"plan wedding: the wedding is missing; write at least its title, date, zone and currency",
		}},
		{"all missing", wedding("  place: here\n"), []string{
			"plan:2 wedding/title: title is missing; write for instance title: Maren and Theo",
			"plan:2 wedding/zone: zone is missing; write for instance zone: America/Detroit",
			"plan:2 wedding/currency: currency is missing; write for instance currency: USD",
		}},
		{"all wrong", wedding(`  title: [A]
  date: 2027-02-29
  start: "25:00"
  zone: Detroit
  region: US-MI
  currency: DOLLAR
  place: {name: A, at: [91, west]}
  version: -1
`), []string{
			"plan:3 wedding/title: one piece of text belongs here; phrases with commas stand in quotes",
			`plan:4 wedding/date: "2027-02-29" is no day of the calendar; write it as 2027-09-18`,
			`plan:5 wedding/start: "25:00" is no hour of the day; write it as "16:30"`,
			`plan:6 wedding/zone: "Detroit" is no time zone; write a place that keeps it, such as America/Detroit or Europe/Dublin`,
			`plan:8 wedding/currency: "DOLLAR" is no code of a currency; write its three letters, such as USD, CAD, GBP or EUR`,
			"plan:9 wedding/place/at[1]: this is no number from -90 to 90; write degrees such as 44.76",
			"plan:9 wedding/place/at[2]: this is no number from -180 to 180; write degrees such as 44.76",
			`plan:10 wedding/version: "-1" does not do here; write a whole number from 0 to 1073741824`,
		}},
		{"far away", wedding("  title: A\n  date: 3027-09-18\n  zone: Local\n  currency: usd\n  place: {at: [1]}\n"), []string{
			"plan:4 wedding/date: 3027-09-18 is not between 1900 and 2200; look at the year",
			`plan:5 wedding/zone: "Local" is no time zone; write a place that keeps it, such as America/Detroit or Europe/Dublin`,
			"plan:7 wedding/place/at: a place on the map is two numbers, latitude and longitude; write it as [44.76, -85.62]",
		}},
		{"misspelt", wedding("  titel: A\n  Date: 2027-09-18\n  zone: UTC\n  currency: USD\n  guests: 120\n"), []string{
			`plan:3 wedding/titel: "titel" means nothing here; did you mean "title"?`,
			`plan:4 wedding/Date: "Date" means nothing here; did you mean "date"?`,
			`plan:7 wedding/guests: "guests" means nothing here; known here are: id, version, title, date, start, zone, place, region, currency`,
		}},
		{"no table", "banns: 1\nwedding: soon\n", []string{
			"plan:2 wedding: a set of key: value lines belongs here; write it as key: value lines",
		}},
	})
}

func TestFaultsOfPeople(t *testing.T) {
	people := func(lines string) string {
		return strings.SplitAfter(head, "\n")[0] + strings.SplitAfter(head, "\n")[1] + "people:\n" + lines
	}
	wantFaults(t, []faulty{
		{"twice", people("  a: {name: A, part: couple}\n  a: {name: B, part: couple}\n"), []string{
			`plan:5 people/a: "a" stands here twice, first on line 4; keep one of them`,
		}},
		{"no table", people("  a: Ada\n  b:\n"), []string{
			"plan:4 people/a: a set of key: value lines belongs here; write it as key: value lines",
			"plan:5 people/b/name: name is missing; write for instance name: Priya Nair",
			"plan:5 people/b/part: part is missing; write for instance part: attendant",
		}},
		{"keys", people("  Ada: {name: A, part: couple}\n  couple: {name: B, part: couple}\n  everybody: {name: C, part: couple, was: C D}\n  ? [d]\n  : {}\n"), []string{
			`plan:4 people/Ada: "Ada" cannot be a key: keys are small letters, digits and hyphens, at most 64; write it as "hair-and-makeup"`,
			`plan:5 people/couple: "couple" already means everyone of that part; give the person a key of their own, such as their name`,
			`plan:6 people/everybody: "everybody" already means everyone of that part; give the person a key of their own, such as their name`,
			`plan:6 people/everybody/was: "C D" cannot be a key: keys are small letters, digits and hyphens, at most 64; write it as "hair-and-makeup"`,
			"plan:7 people: only plain words can stand before a colon; write the lines out",
		}},
		{"aliases", people("  a: &a {name: A, part: couple}\n  b: *a\n  c: {<<: *a}\n  d: {name: D, part: couple, note: *a}\n"), []string{
			"plan:5 people/b: a plan has no aliases (*a); write it out",
			"plan:6 people/c: only plain words can stand before a colon; write the lines out",
			"plan:7 people/d/note: a plan has no aliases (*a); write it out",
		}},
		{"parts", people("  a: {name: A, part: cuple}\n  b: {name: B, part: cat}\n  c: {name: C, prat: couple}\n"), []string{
			`plan:4 people/a/part: "cuple" is not known as part; did you mean "couple"?`,
			`plan:5 people/b/part: "cat" is not known as part; write one of: couple, planner, family, attendant, vendor, officiant, helper`,
			`plan:6 people/c/prat: "prat" means nothing here; did you mean "part"?`,
		}},
		{"names", people("  a: {name: A, part: couple, groups: [x, ]}\n  b: {name: B, part: couple, groups: [~, [c]]}\n"), []string{
			"plan:5 people/b/groups[1]: a name is missing; write a name, or take it out",
			"plan:5 people/b/groups[2]: one piece of text belongs here; phrases with commas stand in quotes",
		}},
		{"one calendar for two", people("  ada: {name: A, part: couple}\n  eda: {name: B, part: couple, was: ada}\n  ida: {name: C, part: couple, was: ada}\n"), []string{
			`plan:5 people/eda: ada and eda would share one calendar, since both go back to the key "ada"; give whoever is new another key`,
			`plan:6 people/ida: ada and ida would share one calendar, since both go back to the key "ada"; give whoever is new another key`,
		}},
	})
}

func TestFaultsOfAgreements(t *testing.T) {
	wantFaults(t, []faulty{
		{"bare", head + "agreements:\n  hall:\n  wedding: {with: A, standing: quoted}\n  B!: {with: B, standing: singed}\n", []string{
			"plan:5 agreements/hall/with: with is missing; write for instance with: Hollow Oak Table",
			"plan:5 agreements/hall/standing: standing is missing; write for instance standing: signed",
			`plan:6 agreements/wedding: "wedding" is taken as a key; give the agreement another key`,
			`plan:7 agreements/B!: "B!" cannot be a key: keys are small letters, digits and hyphens, at most 64; write it as "hair-and-makeup"`,
			`plan:7 agreements/B!/standing: "singed" is not known as standing; did you mean "signed"?`,
		}},
		{"signing", head + "agreements:\n  a: {with: A, standing: signed}\n  b:\n    with: B\n    standing: signed\n    signed: open\n  c: {with: C, standing: signed, singed: 2026-08-21}\n  d: {with: D, standing: signed, signed: 21 August}\n", []string{
			"plan:5 agreements/a/signed: a signed agreement needs the day of its last signature; write signed: 2026-10-02, or standing: quoted",
			"plan:9 agreements/b/signed: a signed agreement needs the day of its last signature; write signed: 2026-10-02, or standing: quoted",
			`plan:10 agreements/c/singed: "singed" means nothing here; did you mean "signed"?`,
			`plan:11 agreements/d/signed: "21 August" is no day of the calendar; write it as 2027-09-18`,
		}},
		{"nobody", hall + "    payer: mren\n    contact: bea\n    hide from: [jun, friends]\n    pay:\n      - {says: 5 on signing, for: juen, hide from: [mren]}\n", []string{
			`plan:9 agreements/hall/payer: nobody under people has the key "mren"; did you mean "maren"?`,
			`plan:10 agreements/hall/contact: nobody under people has the key "bea"`,
			`plan:11 agreements/hall/hide from: "jun" is no person, group or part here; did you mean "june"?`,
			`plan:11 agreements/hall/hide from: "friends" is no person, group or part here`,
			`plan:13 agreements/hall/pay[1]/for: "juen" is no person, group or part here; did you mean "june"?`,
			`plan:13 agreements/hall/pay[1]/hide from: "mren" is no person, group or part here; did you mean "maren"?`,
		}},
		{"days", hall + "    business days: bank\n    closed: [2027-06-31, 2027-07-02, '', {}]\n    dates: {invoice: soon, arrival: open, on: 2027-13-01}\n", []string{
			`plan:9 agreements/hall/business days: "bank" is not known as business days; did you mean "banks"?`,
			`plan:10 agreements/hall/closed[1]: "2027-06-31" is no day of the calendar; write it as 2027-09-18`,
			`plan:10 agreements/hall/closed[3]: "" is no day of the calendar; write it as 2027-09-18`,
			"plan:10 agreements/hall/closed[4]: one piece of text belongs here; phrases with commas stand in quotes",
			`plan:11 agreements/hall/dates/invoice: "soon" is no day of the calendar; write it as 2027-09-18`,
			`plan:11 agreements/hall/dates/on: "2027-13-01" is no day of the calendar; write it as 2027-09-18`,
		}},
		{"dates that are no table", hall + "    dates: [2027-01-01]\n    pay: [5 on invoice]\n", []string{
			"plan:9 agreements/hall/dates: a set of key: value lines belongs here; write it as key: value lines",
		}},
		{"a price with wrong decimals", hall + "    price: 7200.005\n", []string{
			`plan:9 agreements/hall/price: "7200.005" has more decimals than USD has (2)`,
		}},
		{"a price in no digits", hall + "    price: 1e3\n", []string{
			`plan:9 agreements/hall/price: "1e3" is no sum; write it as 2500 or 2,500.00`,
		}},
		{"a price in hexadecimal", hall + "    price: 0x10\n", []string{
			`plan:9 agreements/hall/price: "0x10" is no sum; write it as 2500 or 2,500.00`,
		}},
		{"a price that is a list", hall + "    price: [98]\n", []string{
			"plan:9 agreements/hall/price: a set of key: value lines belongs here; write it as key: value lines",
		}},
		{"a price by the head", hall + "    price: {each: 1.234, count: ten, at least: 90, at most: 80, service: 22, tax: 101%, tax on: wine}\n", []string{
			`plan:9 agreements/hall/price/each: "1.234" has more decimals than USD has (2)`,
			`plan:9 agreements/hall/price/count: "ten" does not do here; write a whole number from 0 to 100000`,
			`plan:9 agreements/hall/price/service: "22" is no share; write it as 25% or 33.33%`,
			`plan:9 agreements/hall/price/tax: "101%" is more than the whole; a share is at most 100%`,
			`plan:9 agreements/hall/price/tax on: "wine" is not known as tax on; write one of: all, food`,
			"plan:9 agreements/hall/price/at most: at most 80 is fewer than at least 90; exchange the two",
		}},
		{"a price by nothing", hall + "    price: {count: 10, echa: 98}\n", []string{
			`plan:9 agreements/hall/price/echa: "echa" means nothing here; did you mean "each"?`,
		}},
		{"yen have no decimals", strings.Replace(hall, "currency: USD", "currency: JPY", 1) + "    price: 1000.50\n", []string{
			`plan:9 agreements/hall/price: "1000.50" has more decimals than JPY has (0)`,
		}},
		{"more than the price", hall + "    price: 100\n    pay:\n      - 60 on signing\n      - 50% on the day\n", []string{
			"plan:10 agreements/hall/pay: the payments come to $110.00, which is $10.00 more than the price of $100.00; lower one of them, or write the last as the balance",
		}},
		{"what remains, twice", hall + "    price: 100\n    pay:\n      - balance on signing\n      - balance on the day\n", []string{
			"plan:10 agreements/hall/pay: only one line can take what remains: one balance, or one set of equal payments; give the others sums or shares of their own",
		}},
		{"one key for two", hall + "    pay:\n      - {key: a, says: 5 on signing}\n      - {key: a, says: 6 on signing}\n    papers:\n      - {key: a, says: plan on signing}\n", []string{
			`plan:11 agreements/hall/pay[2]: the key "a" is used already at agreements/hall/pay[1]; give one of them another key`,
			`plan:13 agreements/hall/papers[1]: the key "a" is used already at agreements/hall/pay[2]; give one of them another key`,
		}},
		{"keys", hall + "    pay:\n      - {key: A 1, says: 5 on signing}\n      - key: postpone\n        says: 6 on signing\n", []string{
			`plan:10 agreements/hall/pay[1]/key: "A 1" cannot be a key: keys are small letters, digits and hyphens, at most 64; write it as "hair-and-makeup"`,
			`plan:11 agreements/hall/pay[2]/key: "postpone" is taken as a key; give the line another key`,
		}},
		{"lines", hall + "    pay:\n      -\n      - [5 on signing]\n      - {what: Deposit}\n      - {says: 5 on signing, done: 2026-02-30, amount: 5.001, given: 1.5, owed: maybe}\n    cancel: nothing until 2027-01-01\n", []string{
			"plan:10 agreements/hall/pay[1]: the line is empty; write the phrase, or take the dash away",
			"plan:11 agreements/hall/pay[2]: a set of key: value lines belongs here; write it as key: value lines",
			`plan:12 agreements/hall/pay[3]/says: says is missing; write for instance says: "balance 14 days before the wedding"`,
			`plan:13 agreements/hall/pay[4]/done: "2026-02-30" is no day of the calendar; write it as 2027-09-18`,
			`plan:13 agreements/hall/pay[4]/amount: "5.001" has more decimals than USD has (2)`,
			`plan:13 agreements/hall/pay[4]/given: "1.5" does not do here; write a whole number from 0 to 100000`,
			`plan:13 agreements/hall/pay[4]/owed: "maybe" is neither yes nor no; write one of: yes, no`,
			"plan:14 agreements/hall/cancel: a list belongs here; begin each line with a dash",
		}},
		{"lists", hall + "    pay: 5 on signing\n    cancel: {a: b}\n    papers: [{says: plan on signing, amount: 5}]\n", []string{
			"plan:9 agreements/hall/pay: a list belongs here; begin each line with a dash",
			"plan:10 agreements/hall/cancel: a list belongs here; begin each line with a dash",
			"plan:11 agreements/hall/papers[1]: only a payment has an amount; leave the amount out",
		}},
		{"circle", hall + "    change:\n      - menu 3 days after plan\n      - plan 3 days after menu\n", []string{
			"plan:10 agreements/hall/change[1]: these wait for each other: hall/change-1 -> hall/change-2 -> hall/change-1; count one of them from the wedding or from a date",
		}},
	})
}

func TestFaultsElsewhere(t *testing.T) {
	wantFaults(t, []faulty{
		{"days", head + `appointments:
  a: {what: A, on: 2027-07-10, when: on the day}
  b:
    what: B
  c: {what: C, on: 2027-02-30, until: "12:00"}
  d: {what: D, on: open}
  e: {what: E, when: soon, at: noon}
  f: {when: on the day, for: [june, jun]}
  g: {what: G, no: 2027-07-10}
`, []string{
			"plan:5 appointments/a: its day is given twice, as a date and in words; keep one of them",
			"plan:6 appointments/b: the day is missing; write on: 2027-07-10, or when: 1 day before the wedding",
			`plan:8 appointments/c/on: "2027-02-30" is no day of the calendar; write it as 2027-09-18`,
			`plan:8 appointments/c/until: there is an end and no beginning; write at: "17:30" too`,
			`plan:9 appointments/d/on: "open" is no day of the calendar; write it as 2027-09-18`,
			`plan:10 appointments/e/at: "noon" is no hour of the day; write it as "16:30"`,
			`plan:10 appointments/e: "soon": "soon" is not understood here; did you mean "on"?`,
			"plan:11 appointments/f/what: what is missing; write for instance what: First fitting",
			`plan:11 appointments/f/for: "jun" is no person, group or part here; did you mean "june"?`,
			`plan:12 appointments/g/no: "no" means nothing here; known here are: what, on, when, at, until, for, place, note, hide from, answer, answers`,
			"plan:12 appointments/g: the day is missing; write on: 2027-07-10, or when: 1 day before the wedding",
		}},
		{"countdown", head + `countdown:
  planning from: 2026-13-01
  done: {cake: yesterday}
  move: {cake: [], flowers: }
  add:
    Bags: {what: Bags, when: 3 days before the weding}
    rings: {whta: Rings, wehn: on the day, done: 1827-01-01}
`, []string{
			`plan:5 countdown/planning from: "2026-13-01" is no day of the calendar; write it as 2027-09-18`,
			`plan:6 countdown/done/cake: "yesterday" is no day of the calendar; write it as 2027-09-18`,
			"plan:7 countdown/move/cake: one piece of text belongs here; phrases with commas stand in quotes",
			`plan:7 countdown/move/flowers: there is nothing here; expected "on signing" or "by 2027-05-03" or "14 days before the wedding" or "with the balance" or "within 30 days of the wedding" or "more than 30 days before the wedding"`,
			`plan:9 countdown/add/Bags: "Bags" cannot be a key: keys are small letters, digits and hyphens, at most 64; write it as "hair-and-makeup"`,
			`plan:9 countdown/add/Bags: "3 days before the weding": nothing here is called "weding"; did you mean "wedding"?`,
			`plan:10 countdown/add/rings/whta: "whta" means nothing here; did you mean "what"?`,
			`plan:10 countdown/add/rings/wehn: "wehn" means nothing here; did you mean "when"?`,
			"plan:10 countdown/add/rings/done: 1827-01-01 is not between 1900 and 2200; look at the year",
		}},
		{"away", head + `away:
  - {who: june, from: 2027-08-14, to: 2027-08-01}
  - {who: juno, from: 2027-08-14, to: 2027-08-32}
  - june
  - {from: 2027-08-14}
`, []string{
			"plan:5 away[1]: it ends on 2027-08-01, before it begins on 2027-08-14; exchange the two",
			`plan:6 away[2]/to: "2027-08-32" is no day of the calendar; write it as 2027-09-18`,
			`plan:6 away[2]/who: nobody under people has the key "juno"; did you mean "june"?`,
			"plan:7 away[3]: a set of key: value lines belongs here; write it as key: value lines",
			"plan:8 away[4]/who: who is missing; write for instance who: priya",
			"plan:8 away[4]/to: to is missing; write for instance to: 2027-08-14",
		}},
		{"candidates", head + "candidates: [2027-09-18, 2027-09-31, next year]\n", []string{
			`plan:4 candidates[2]: "2027-09-31" is no day of the calendar; write it as 2027-09-18`,
			`plan:4 candidates[3]: "next year" is no day of the calendar; write it as 2027-09-18`,
		}},
		{"licence", head + "licence: {office: [a], wait: 3 days}\n", []string{
			`plan:4 licence/wait: "wait" means nothing here; did you mean "waits"?`,
			"plan:4 licence/office: one piece of text belongs here; phrases with commas stand in quotes",
		}},
		{"sections", head + "agrements: {}\n", []string{
			`plan:4 agrements: "agrements" means nothing here; did you mean "agreements"?`,
		}},
		{"a section that is no table", head + "agreements: []\noccasions: {a: {what: A, when: on hall/pay-1}}\n", []string{
			"plan:4 agreements: a set of key: value lines belongs here; write it as key: value lines",
		}},
	})
}

// TestAllAtOnce has faults of every kind in one file: all come in one pass,
// in the order of their lines, and none is the echo of another.
func TestAllAtOnce(t *testing.T) {
	wantFaults(t, []faulty{{"six", hall + `    payer: mren
    price: 12.345
    pay:
      - {says: 25% nigh signing, done: 2026-02-30}
      - balance 14 days before the wedding
    papers:
      - signed floor plan 30 days befor the wedding
    knote: Ask for the keys
`, []string{
		`plan:9 agreements/hall/payer: nobody under people has the key "mren"; did you mean "maren"?`,
		`plan:10 agreements/hall/price: "12.345" has more decimals than USD has (2)`,
		`plan:12 agreements/hall/pay[1]/done: "2026-02-30" is no day of the calendar; write it as 2027-09-18`,
		`plan:12 agreements/hall/pay[1]: "25% nigh signing": "nigh" is not understood here; did you mean "with"?`,
		`plan:15 agreements/hall/papers[1]: "signed floor plan 30 days befor the wedding": "befor" is not understood here; did you mean "before"?`,
		`plan:16 agreements/hall/knote: "knote" means nothing here; did you mean "note"?`,
	}}})
}

// What the countdown and the licence say is checked where it stands.
func TestCountdownFaults(t *testing.T) {
	wantFaults(t, []faulty{
		{"keys", head + `countdown:
  drop:
    - rings
    - cake
  done: {guest-adresses: 2026-11-15}
  move: {invitation: 9 weeks before the wedding, rings: within 3 weeks of the wedding}
  add:
    bags: {what: Bags, when: 3 days before the wedding, takes: a day or so, after: [replise, rings]}
licence: {waits: a while, lasts: 720 hours}
`, []string{
			`plan:7 countdown/drop[2]: the countdown has nothing called "cake"; "banns countdown" shows the key of each milestone`,
			`plan:8 countdown/done/guest-adresses: the countdown has nothing called "guest-adresses"; did you mean "guest-addresses"?`,
			`plan:9 countdown/move/invitation: the countdown has nothing called "invitation"; did you mean "invitations"?`,
			`plan:9 countdown/move/rings: "within 3 weeks of the wedding" leaves the day open; say the day, as "9 weeks before the wedding"`,
			`plan:11 countdown/add/bags/takes: "a day or so" is no number of days or weeks; write it as 1 day or 2 weeks`,
			`plan:11 countdown/add/bags/after: nothing here is called "replise"; did you mean "replies"?`,
			`plan:12 licence/waits: "a while" is no stretch of time of the office's rule; write it as "3 days from application", "72 hours from issue", "6 months from issue" or "before the 90th day from issue"`,
			`plan:12 licence/lasts: only the waiting is counted in hours; write it in days, weeks or months`,
		}},
	})
}
