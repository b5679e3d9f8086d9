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
