package milestones

import "testing"

func TestZoneCalled(t *testing.T) {
	for name, want := range map[string]string{
		"America/Detroit": "America/Detroit", "america/chicago": "America/Chicago", "America/chicago": "America/Chicago",
		"Chicago": "America/Chicago", " new  york ": "America/New_York", "america/new york": "America/New_York",
		"Central": "America/Chicago", "Pacific Time": "America/Los_Angeles", "eastern standard time": "America/New_York",
		"dublin": "Europe/Dublin", "Port-au-Prince": "America/Port-au-Prince", "utc": "UTC", "knox": "America/Indiana/Knox",
		"": "", "Local": "", "Gotham": "", "../etc/passwd": "", "a/b/c": "",
	} {
		zone, known := ZoneCalled(name)
		if zone != want || known != (want != "") {
			t.Errorf("%q is called %q, %v; want %q", name, zone, known, want)
		}
		if _, err := Zone(zone); known && err != nil {
			t.Error(err)
		}
	}
}
