package conflicts

import (
	"slices"
	"strings"
	"testing"
)

func TestSeriesName(t *testing.T) {
	rows := []struct{ what, name, key string }{
		{"12th Annual Harbor Run 2026", "Harbor Run", "harbor run"},
		{"2026 Harbor Run", "Harbor Run", "harbor run"},
		{"Harbor Run (2025)", "Harbor Run", "harbor run"},
		{"Harbor Run – 2025", "Harbor Run", "harbor run"},
		{"2025: Harbor Run", "Harbor Run", "harbor run"},
		{"Harbor Run '25", "Harbor Run", "harbor run"},
		{"Harbor Run #12", "Harbor Run", "harbor run"},
		{"The Harbor Run, 21st edition", "The Harbor Run, edition", "harbor run edition"},
		{"First Annual Harbor Run", "Harbor Run", "harbor run"},
		{"HARBOR RUN XII", "HARBOR RUN", "harbor run"},
		{"12. Hafenfest", "Hafenfest", "hafenfest"},
		{"Season opening 2026/27", "Season opening", "season opening"},
		// Numbers that are the thing's own.
		{"5th Avenue Mile", "5th Avenue Mile", "5th avenue mile"},
		{"4th of July Parade 2026", "4th of July Parade", "4th of july parade"},
		{"3rd Friday Art Walk", "3rd Friday Art Walk", "3rd friday art walk"},
		{"Twelfth Night", "Twelfth Night", "twelfth night"},
		{"First Night 2026", "First Night", "first night"},
		{"Harbor 10K", "Harbor 10K", "harbor 10k"},
		{"Route 66 Festival", "Route 66 Festival", "route 66 festival"},
		{"Malcolm X Day", "Malcolm X Day", "malcolm x day"},
		{"Fête de l'été, 3rd edition", "Fête de l'été, edition", "fête de l été edition"},
		{"2026", "2026", "2026"},
		{"", "", ""},
	}
	for _, r := range rows {
		if name, key := seriesName(r.what), seriesKey(r.what); name != r.name || key != r.key {
			t.Errorf("%q is %q, %q, want %q, %q", r.what, name, key, r.name, r.key)
		}
	}
}

func TestSeries(t *testing.T) {
	held := func(what string, year int) Event { return Event{What: what, From: d(year, 6, 5), To: d(year, 6, 5)} }
	events := []Event{
		held("14th Annual Harbor Run", 2026), held("Jazz on the Pier 2025", 2025), held("12th Annual Harbor Run", 2024),
		held("jazz on the pier 2026", 2026), held("The Harbor Run 2025", 2025), held("", 2025),
	}
	want := "Harbor Run: 2024 2025 2026; jazz on the pier: 2025 2026"
	for range 2 {
		var got []string
		for _, s := range SeriesOf(events) {
			years := s.Name + ":"
			for _, e := range s.Editions {
				years += " " + e.From.String()[:4]
			}
			got = append(got, years)
		}
		if got := strings.Join(got, "; "); got != want {
			t.Errorf("%s, want %s", got, want)
		}
		slices.Reverse(events)
	}
}
