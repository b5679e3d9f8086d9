package conflicts

import (
	"slices"
	"strings"
	"testing"

	"banns/milestones"
)

// stands is the events of that name which begin in a year.
func stands(t *testing.T, what string, year int) (all []Event) {
	t.Helper()
	for _, e := range Observances(Traditions(), d(year, 1, 1), d(year, 12, 31)) {
		if e.What == what && e.From.Year == year {
			all = append(all, e)
		}
	}
	return all
}

func TestObservances(t *testing.T) {
	rows := []struct {
		what     string
		from, to milestones.Date
	}{
		// The trade's check values for 2027.
		{"Easter Sunday", d(2027, 3, 28), d(2027, 3, 28)},
		{"Pascha (Orthodox Easter)", d(2027, 5, 2), d(2027, 5, 2)},
		{"Passover", d(2027, 4, 22), d(2027, 4, 29)},
		{"Shavuot", d(2027, 6, 11), d(2027, 6, 12)},
		{"The Three Weeks", d(2027, 7, 22), d(2027, 8, 12)},
		{"Whit Monday", d(2027, 5, 17), d(2027, 5, 17)},
		// Ghost Month of 2015, as published.
		{"Ghost Month", d(2015, 8, 14), d(2015, 9, 12)},

		// Whit Mondays as they were kept, a public holiday in Germany.
		{"Whit Monday", d(2016, 5, 16), d(2016, 5, 16)},
		{"Whit Monday", d(2017, 6, 5), d(2017, 6, 5)},
		{"Whit Monday", d(2018, 5, 21), d(2018, 5, 21)},
		{"Whit Monday", d(2019, 6, 10), d(2019, 6, 10)},
		{"Whit Monday", d(2020, 6, 1), d(2020, 6, 1)},
		{"Whit Monday", d(2021, 5, 24), d(2021, 5, 24)},
		{"Whit Monday", d(2022, 6, 6), d(2022, 6, 6)},
		{"Whit Monday", d(2023, 5, 29), d(2023, 5, 29)},

		// Of Easter 2027, 28 March, counted by hand; common practice.
		{"Ash Wednesday", d(2027, 2, 10), d(2027, 2, 10)},
		{"Lent", d(2027, 2, 10), d(2027, 3, 20)},
		{"Palm Sunday to Easter Sunday", d(2027, 3, 21), d(2027, 3, 28)},
		{"Palm Sunday", d(2027, 3, 21), d(2027, 3, 21)},
		{"Good Friday", d(2027, 3, 26), d(2027, 3, 26)},
		{"Easter Monday", d(2027, 3, 29), d(2027, 3, 29)},
		{"Ascension Day", d(2027, 5, 6), d(2027, 5, 6)},
		{"Pentecost (Whit Sunday)", d(2027, 5, 16), d(2027, 5, 16)},
		{"Corpus Christi", d(2027, 5, 27), d(2027, 5, 27)},

		// The handbook of a Greek Orthodox archdiocese: no marriages in Great
		// Lent until Easter Sunday, on 1-15 August, 29 August, 14 September,
		// from 13 December to Christmas, or on 5 January. Clean Monday of 2027
		// is a public holiday of Cyprus.
		{"Clean Monday (Orthodox)", d(2027, 3, 15), d(2027, 3, 15)},
		{"Great Lent and Holy Week (Orthodox)", d(2027, 3, 15), d(2027, 5, 1)},
		{"Dormition Fast (Orthodox)", d(2027, 8, 1), d(2027, 8, 15)},
		{"Beheading of St John the Baptist (Orthodox)", d(2027, 8, 29), d(2027, 8, 29)},
		{"Exaltation of the Holy Cross (Orthodox)", d(2027, 9, 14), d(2027, 9, 14)},
		{"Last days before Christmas (Orthodox)", d(2027, 12, 13), d(2027, 12, 25)},
		{"Eve of Theophany (Orthodox)", d(2027, 1, 5), d(2027, 1, 5)},

		// A congregation's table of holidays for 5783-5786 (qctemple.org), which
		// gives the evening and the days: "Apr 22-29" is here from the 23rd.
		{"Rosh Hashanah", d(2022, 9, 26), d(2022, 9, 27)},
		{"Rosh Hashanah", d(2023, 9, 16), d(2023, 9, 17)},
		{"Rosh Hashanah", d(2024, 10, 3), d(2024, 10, 4)},
		{"Rosh Hashanah", d(2025, 9, 23), d(2025, 9, 24)},
		{"Yom Kippur", d(2022, 10, 5), d(2022, 10, 5)},
		{"Yom Kippur", d(2025, 10, 2), d(2025, 10, 2)},
		{"Sukkot", d(2024, 10, 17), d(2024, 10, 25)}, // its last days from another congregation's, rodephsholom.org
		{"Passover", d(2024, 4, 23), d(2024, 4, 30)},
		{"Passover", d(2026, 4, 2), d(2026, 4, 9)},
		{"Lag BaOmer", d(2023, 5, 9), d(2023, 5, 9)},
		{"Lag BaOmer", d(2026, 5, 5), d(2026, 5, 5)},
		{"Shavuot", d(2025, 6, 2), d(2025, 6, 3)},
		{"Tisha B'Av", d(2023, 7, 27), d(2023, 7, 27)},
		{"Tisha B'Av", d(2024, 8, 13), d(2024, 8, 13)},
		{"Tisha B'Av", d(2025, 8, 3), d(2025, 8, 3)},
		{"Tisha B'Av", d(2026, 7, 23), d(2026, 7, 23)},
		// The 9th of Av of 5782 was a Sabbath, so both fasts were on Sundays:
		// from memory.
		{"Tisha B'Av", d(2022, 8, 7), d(2022, 8, 7)},
		{"The Three Weeks", d(2022, 7, 17), d(2022, 8, 7)},

		{"The Omer", d(2027, 4, 23), d(2027, 6, 10)}, // 49 days, to the eve of Shavuot
		{"Eve of Passover", d(2027, 4, 21), d(2027, 4, 21)},
		{"The days between Rosh Hashanah and Yom Kippur", d(2027, 10, 4), d(2027, 10, 10)},
	}
	for _, r := range rows {
		all := stands(t, r.what, r.from.Year)
		if len(all) != 1 || all[0].From != r.from || all[0].To != r.to {
			t.Errorf("%s: %+v\nwant %s to %s", r.what, all, r.from.Words(), r.to.Words())
		}
	}
}

// What the trade knows of each period; the notes say so in words.
func TestCustoms(t *testing.T) {
	rows := map[string]Custom{
		"Lent":                                        Discouraged,
		"Palm Sunday to Easter Sunday":                NotHeld,
		"Great Lent and Holy Week (Orthodox)":         NotHeld,
		"Pascha (Orthodox Easter)":                    NotHeld,
		"Dormition Fast (Orthodox)":                   NotHeld,
		"Beheading of St John the Baptist (Orthodox)": NotHeld,
		"Exaltation of the Holy Cross (Orthodox)":     NotHeld,
		"Last days before Christmas (Orthodox)":       NotHeld,
		"Eve of Theophany (Orthodox)":                 NotHeld,
		"Passover":                                    NotHeld,
		"Shavuot":                                     NotHeld,
		"Yom Kippur":                                  NotHeld,
		"The Omer":                                    Discouraged, // in parts, which differ
		"Lag BaOmer":                                  Unsaid,
		"The Three Weeks":                             NotHeld,
		"Tisha B'Av":                                  NotHeld,
		"Eve of Yom Kippur":                           Discouraged,
		"Ramadan":                                     Discouraged, // avoided rather than forbidden
		"Eid al-Fitr":                                 Unsaid,
		"Ghost Month":                                 Discouraged,
	}
	words := map[Custom]string{NotHeld: "commonly not held", Discouraged: "weddings are discouraged"}
	for what, want := range rows {
		all := stands(t, what, 2027)
		if len(all) != 1 || all[0].Custom != want {
			t.Errorf("%s: %+v, want %q", what, all, want)
		} else if !strings.Contains(all[0].Note, words[want]) && !strings.HasPrefix(what, "Eve of Yom") {
			t.Errorf("%s: the note does not say it: %s", what, all[0].Note)
		}
	}
}

// A Hijra year has 11 days fewer, so that 2030 has two Ramadans: "about 5
// January and 26 December", from memory.
func TestRamadan(t *testing.T) {
	all := stands(t, "Ramadan", 2030)
	if len(all) != 2 || all[0].From.DaysSince(d(2030, 1, 5)) > 1 || d(2030, 12, 26).DaysSince(all[1].From) > 1 {
		t.Errorf("2030: %+v", all)
	}
	for _, e := range all {
		if e.Status != Expected || !strings.Contains(e.Note, "a day earlier or later") {
			t.Errorf("a sighted month is not computed: %+v", e)
		}
	}
}

// What is asked about may lie inside a season that began the year before.
func TestSeasonsTouchTheDay(t *testing.T) {
	rows := []struct {
		day  milestones.Date
		what string
	}{
		{d(2027, 3, 2), "Lent"},
		{d(2031, 1, 5), "Ramadan"},
		{d(2027, 8, 7), "The Three Weeks"},
	}
	for _, r := range rows {
		all := Observances(Traditions(), r.day, r.day)
		i := slices.IndexFunc(all, func(e Event) bool { return e.What == r.what })
		if i < 0 || !all[i].Season {
			t.Errorf("%s: no season of %s in %+v", r.day.Words(), r.what, all)
		}
	}
}

// A Sabbath is a Saturday, and begins on the Friday; both stand in the list
// of whoever asks about the Jewish calendar, and of nobody else.
func TestSabbath(t *testing.T) {
	names := func(on milestones.Date, traditions ...Tradition) (all []string) {
		for _, e := range Observances(traditions, on, on) {
			all = append(all, e.What)
		}
		return all
	}
	if got := names(d(2027, 9, 17), Jewish); !slices.Equal(got, []string{"Eve of Sabbath"}) {
		t.Errorf("Friday: %q", got)
	}
	if got := names(d(2027, 9, 18), Jewish); !slices.Equal(got, []string{"Sabbath"}) {
		t.Errorf("Saturday: %q", got)
	}
	if got := names(d(2027, 9, 18), Catholic, Orthodox, Muslim, Chinese, "unheard of"); got != nil {
		t.Errorf("others' Saturday: %q", got)
	}
}

// Public holidays of the West are told to everybody, and nothing else is.
func TestEasterIsAlwaysThere(t *testing.T) {
	var got []string
	for _, e := range Observances(nil, d(2027, 1, 1), d(2027, 12, 31)) {
		if e.Custom != Unsaid || e.Season {
			t.Errorf("nobody asked for customs: %+v", e)
		}
		got = append(got, e.What)
	}
	want := []string{"Palm Sunday", "Good Friday", "Easter Sunday", "Easter Monday", "Ascension Day",
		"Pentecost (Whit Sunday)", "Whit Monday", "Corpus Christi"}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

func TestEveryObservance(t *testing.T) {
	all := Observances(Traditions(), d(1900, 1, 1), d(2200, 12, 31))
	for i, e := range all {
		if e.Kind != Observance || e.To.Before(e.From) || !strings.Contains(e.Note, "customs vary: ask the ") {
			t.Fatalf("%+v", e)
		}
		if e.Season != (e.To.DaysSince(e.From) >= 6) && e.What != "Passover" && e.What != "Sukkot" && e.What != "Palm Sunday to Easter Sunday" {
			t.Fatalf("a season is a matter of weeks: %+v", e)
		}
		if i > 0 && e.From.Before(all[i-1].From) {
			t.Fatalf("out of order: %+v after %+v", e, all[i-1])
		}
	}
	if len(all) < 300*(2*52+40) {
		t.Errorf("only %d in 301 years", len(all))
	}
}

func TestTraditionNames(t *testing.T) {
	for _, tradition := range Traditions() {
		if tradition.Name() == "" || tradition.Leaves() == "" {
			t.Errorf("%s has no name, or does not tell what it leaves out", tradition)
		}
	}
	if len(Traditions()) != len(customs) {
		t.Error("a tradition is not offered")
	}
	if Tradition("unheard of").Name() != "" {
		t.Error("a tradition that is not known has a name")
	}
}

func BenchmarkObservances(b *testing.B) {
	for b.Loop() {
		Observances(Traditions(), d(2026, 1, 1), d(2027, 12, 31))
	}
}
