package store_test

import (
	"errors"
	"strings"
	"testing"

	"banns/store"
	"banns/testdata"
)

// What is far too long for its place, or no mail address, is not kept; a
// telephone number may be in any words.
func TestEditsHaveBounds(t *testing.T) {
	doc, err := store.ReadPlan("demo", testdata.Demo)
	if err != nil {
		t.Fatal(err)
	}
	long := func(n int) string { return strings.Repeat("å", n) }
	for _, row := range []struct{ path, value, says string }{
		{"people/priya/name", long(100), ""},
		{"people/priya/name", long(101), "it has 101 letters, and 100 is the most"},
		{"people/priya/phone", "555 call me", ""},
		{"people/priya/phone", long(61), "60 is the most"},
		{"people/priya/email", "nobody", "this is no mail address"},
		{"people/priya/email", "Priya <priya@example.org>", "this is no mail address"},
		{"people/priya/email", "p.nair+us@example.org", ""},
		{"people/priya/email", strings.Repeat("a", 250) + "@example.org", "254 is the most"},
		{"people/priya/note", long(5000), ""},
		{"people/priya/note", long(5001), "it has 5001 letters, and 5000 is the most"},
		{"people/priya/diet", long(1001), "1000 is the most"},
		{"people/priya/measures/" + long(101), "US 8", "100 is the most"},
		{"people/priya/measures/dress", long(101), "100 is the most"},
		{"agreements/catering/with", long(101), "100 is the most"},
		{"agreements/catering/note", long(5001), "5000 is the most"},
		{"agreements/catering/pay/1/wording", long(5001), "5000 is the most"},
		{"appointments/priya-fitting/what", long(101), "100 is the most"},
		{"wedding/title", long(101), "100 is the most"},
		{"wedding/place/name", long(101), "100 is the most"},
	} {
		_, err := doc.With(set(row.path, row.value))
		var faults store.Faults
		switch {
		case row.says == "" && err != nil:
			t.Errorf("%s: %v", row.path, err)
		case row.says != "" && (!errors.As(err, &faults) || len(faults) != 1 || faults[0].Path != row.path || !strings.Contains(faults[0].Says, row.says)):
			t.Errorf("%s of %d letters: %v", row.path, len(row.value), err)
		}
	}
}

// What is stored already is no fault of an edit that leaves it alone.
func TestBoundsAreOfEdits(t *testing.T) {
	doc, err := store.ReadPlan("old", []byte(strings.Replace(string(testdata.Demo), "priya@example.org", "no address", 1)))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := doc.With(set("people/priya/name", "Priya N.")); err != nil {
		t.Error(err)
	}
}
