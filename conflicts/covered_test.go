package conflicts

import "testing"

// Every country that is offered has holidays, and every one that has them is
// offered.
func TestCovered(t *testing.T) {
	offered := map[string]bool{}
	for _, c := range Covered() {
		offered[c.Code] = true
		if _, ok := regions[c.Code]; !ok {
			t.Errorf("%s (%s) has no holidays", c.Name, c.Code)
		}
	}
	for code := range regions {
		if len(code) == 2 && !offered[code] {
			t.Errorf("%s is not offered", code)
		}
	}
}

// A region goes by its name or its code.
func TestRegionCalled(t *testing.T) {
	for name, want := range map[string]string{"Ohio": "US-OH", "  united  states": "US", "us-oh": "US-OH", "UK": "GB", "uk-sct": "GB-SCT", "jp": "JP",
		"New York": "US-NY", "Quebec": "CA-QC", "Ireland": "IE", "Ohios": "", "U.S.": "", "": ""} {
		if code, known := RegionCalled(name); code != want || known != (want != "") {
			t.Errorf("%q is %q, %t", name, code, known)
		}
	}
}
