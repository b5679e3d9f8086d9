package store_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"banns/milestones"
	"banns/store"
	"banns/testdata"
)

func set(path string, value ...string) store.Set { return store.Set{Path: path, Value: value} }

// put saves an edit by somebody who saw a version.
func put(t testing.TB, s *store.Store, seen int, sets ...store.Set) (store.Imported, error) {
	t.Helper()
	return s.Update(t.Context(), store.Edit{Wedding: "maren-and-theo", Seen: seen, Sets: sets}, start.Add(time.Duration(seen)*time.Hour))
}

func demo(t testing.TB) *store.Store {
	t.Helper()
	s := opened(t)
	imported(t, s, string(testdata.Demo), start)
	return s
}

// An edit that says what stands there already makes no version.
func TestUpdateOfNothing(t *testing.T) {
	s := demo(t)
	done, err := put(t, s, 1, set("people/priya/phone", "+1 555 0106"), set("agreements/catering/note"))
	if plan := loaded(t, s, "maren-and-theo").Plan; err != nil || done.Version != 1 || plan.Version != 1 {
		t.Errorf("version %d was made, and %d is there: %v", done.Version, plan.Version, err)
	}
}

func TestUpdate(t *testing.T) {
	s := demo(t)
	_, err := put(t, s, 1,
		set("wedding/date", "2027-10-02"),
		set("people/priya/phone", "+1 555 0199"),
		store.Set{Path: "people/priya/groups", Value: []string{"readers"}, List: true},
		set("people/ines/name", "Ines Duarte"), set("people/ines/part", "helper"),
		set("agreements/catering/pay/+", "250 7 days before the wedding"),
		set("agreements/catering/change/+1/says", "high chairs 3 weeks before the wedding"),
		set("agreements/catering/change/+1/wording", "Chairs: three weeks, #1"),
		set("agreements/kites/with", "Kite Hire"), set("agreements/kites/standing", "quoted"),
		set("agreements/kites/pay/+", "100 on the wedding"),
		set("agreements/catering/note"), // not there, and stays away
		set("away/+1/who", "priya"), set("away/+1/from", "2027-08-01"), set("away/+1/to", "2027-08-04"),
	)
	if err != nil {
		t.Fatal(err)
	}
	plan := loaded(t, s, "maren-and-theo").Plan
	if plan.Version != 2 || plan.Wedding.Date.String() != "2027-10-02" {
		t.Errorf("version %d is on %s", plan.Version, plan.Wedding.Date)
	}
	priya, _ := plan.Person("priya")
	if ines, ok := plan.Person("ines"); !ok || ines.Part != milestones.Helper || priya.Phone != "+1 555 0199" || len(priya.Groups) != 1 {
		t.Errorf("people are %v and %v", ines, priya)
	}
	catering, _ := plan.Agreement("catering")
	chairs := catering.Change[len(catering.Change)-1]
	if chairs.Wording != "Chairs: three weeks, #1" || !chairs.Keyed || chairs.Label != "high chairs" {
		t.Errorf("the new line is %+v", chairs.Line)
	}
	if pay := catering.Pay[len(catering.Pay)-1]; !pay.Keyed {
		t.Errorf("the new payment has no key: %+v", pay.Line)
	}
	if kites, ok := plan.Agreement("kites"); !ok || len(kites.Pay) != 1 {
		t.Error("the new agreement is not there")
	}
	if away := plan.Away[len(plan.Away)-1]; away.Who != "priya" {
		t.Errorf("the last absence is %v", away)
	}

	// And away with some of it again.
	if _, err := put(t, s, 2, set("agreements/kites"), set("agreements/catering/change/"+chairs.Key), set("people/ines"),
		set("agreements/catering/pay/pay-1/what")); err != nil {
		t.Fatal(err)
	}
	plan = loaded(t, s, "maren-and-theo").Plan
	after, _ := plan.Agreement("catering")
	if _, ok := plan.Agreement("kites"); ok || len(after.Change) != len(catering.Change)-1 {
		t.Error("what was taken away is still there")
	}
}

// Two people edit from the same version: both edits stand.
func TestUpdatesAreMerged(t *testing.T) {
	s := demo(t)
	for _, path := range []string{"people/priya/phone", "agreements/catering/pay/pay-1/note", "wedding/title", "people/kofi/note"} {
		if _, err := put(t, s, 1, set(path, "changed")); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
	}
	doc := loaded(t, s, "maren-and-theo")
	priya, _ := doc.Plan.Person("priya")
	kofi, _ := doc.Plan.Person("kofi")
	if doc.Plan.Version != 5 || doc.Plan.Wedding.Title != "changed" || priya.Phone != "changed" || kofi.Note != "changed" {
		t.Errorf("version %d lost an edit", doc.Plan.Version)
	}
	if _, err := put(t, s, 1, set("people/priya/phone", "changed")); err != nil {
		t.Errorf("the same change by two is an overlap: %v", err)
	}
}

func TestOverlap(t *testing.T) {
	s := demo(t)
	priya, _ := loaded(t, s, "maren-and-theo").Plan.Person("priya")
	if _, err := put(t, s, 1, set("people/priya/phone", "111"), set("agreements/catering/pay/pay-1/note", "mine")); err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		set  store.Set
		want []store.Overlap
	}{
		{set("people/priya/phone", "222"), []store.Overlap{{Path: "people/priya/phone", Seen: priya.Phone, Theirs: "111", Yours: "222"}}},
		{set("people/priya/phone"), []store.Overlap{{Path: "people/priya/phone", Seen: priya.Phone, Theirs: "111"}}},
		{set("people/priya/email", "p@example.org"), nil},
	} {
		_, err := put(t, s, 1, set("people/kofi/note", "beside"), row.set)
		var got store.Overlaps
		if errors.As(err, &got); len(got) != len(row.want) || len(got) > 0 && got[0] != row.want[0] {
			t.Errorf("%v: %v, not %v", row.set, err, row.want)
		}
	}
	// Taking away a line that somebody else has changed since.
	var got store.Overlaps
	if _, err := put(t, s, 1, set("agreements/catering/pay/pay-1")); !errors.As(err, &got) {
		t.Errorf("a changed line was taken away: %v", err)
	}
	if n := loaded(t, s, "maren-and-theo").Plan.Version; n != 3 {
		t.Errorf("an overlap saved something: version %d", n)
	}
}

func TestRefusedUpdates(t *testing.T) {
	s := demo(t)
	for _, row := range []struct {
		sets   []store.Set
		faults bool
		says   string // and, of a fault, where
	}{
		{[]store.Set{set("agreements/catering/pay/+", "500 til the wedding")}, true, "agreements/catering/pay/+: "},
		{[]store.Set{set("agreements/catering/pay/+", "1 on signing"), set("agreements/catering/pay/+2/says", "500 til the wedding"), set("agreements/catering/pay/+2/note", "x")},
			true, "agreements/catering/pay/+2/says: "},
		{[]store.Set{set("agreements/catering/change/change-2/says", "menu til the wedding")}, true, "agreements/catering/change/change-2/says: "},
		{[]store.Set{set("agreements/catering/change/change-2/done", "2027-02-30")}, true, "agreements/catering/change/change-2/done: "},

		{[]store.Set{set("wedding/date", "2027-02-30")}, true, "2027-02-30"},
		{[]store.Set{set("people/priya/part", "bridesmaid")}, true, "part"},
		{[]store.Set{set("agreements/catering/pay/pay-99/note", "x")}, false, "pay-99"},
		{[]store.Set{set("agreements/catering/pay/pay-99", "x")}, false, "pay-99"},
		{[]store.Set{set("wedding/title/more", "x")}, false, "wedding/title"},
	} {
		_, err := put(t, s, 1, row.sets...)
		var faults store.Faults
		if err == nil || errors.As(err, &faults) != row.faults || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%v: %v", row.sets, err)
		}
	}
	if n := loaded(t, s, "maren-and-theo").Plan.Version; n != 1 {
		t.Errorf("something was saved: version %d", n)
	}
	if _, err := put(t, s, 7, set("wedding/title", "x")); !errors.Is(err, store.ErrUnknown) {
		t.Errorf("an edit of a version to come: %v", err)
	}
}

// What anybody types reads back as they typed it, whatever YAML makes of it.
func TestTypedTextStays(t *testing.T) {
	s := demo(t)
	for n, typed := range []string{"no", "010", "~", "null", "a: b", "- a", "# not a comment", `say "hi"`, "it's", "{x}", "[y]", "*z", "&q",
		"two\nlines", " spaces ", "ü 🎉", "1e3", "2027-01-01", "!!str x", "%", "@", "`"} {
		if _, err := put(t, s, n+1, set("people/priya/note", typed)); err != nil {
			t.Errorf("%q: %v", typed, err)
			continue
		}
		priya, _ := loaded(t, s, "maren-and-theo").Plan.Person("priya")
		if strings.TrimSpace(priya.Note) != strings.TrimSpace(typed) {
			t.Errorf("%q came back as %q", typed, priya.Note)
		}
	}
}

// What a plan writes as one text is read by what it says in short, and written
// out, with its comment, where more is set of it.
func TestUpdateOfWhatIsInShort(t *testing.T) {
	s := opened(t)
	imported(t, s, strings.Replace(string(testdata.Demo), "place: {name: The Net Loft, city: Alder Harbor, at: [44.76, -85.62]}", "place: The Net Loft # by the river", 1), start)
	place := func() (name, city string) {
		at := func(path string) string { return strings.Join(loaded(t, s, "maren-and-theo").At(path), ", ") }
		return at("wedding/place/name"), at("wedding/place/city")
	}
	if name, city := place(); name != "The Net Loft" || city != "" {
		t.Errorf("the place is %q in %q", name, city)
	}
	if done, err := put(t, s, 1, set("wedding/place/name", "The Net Loft"), set("wedding/place/city")); err != nil || done.Version != 1 {
		t.Errorf("what did not change made version %d: %v", done.Version, err)
	}
	if _, err := put(t, s, 1, set("wedding/place/name", "The Net Loft"), set("wedding/place/city", "Alder Harbor")); err != nil {
		t.Fatal(err)
	}
	if name, city := place(); name != "The Net Loft" || city != "Alder Harbor" {
		t.Errorf("with its town, the place is %q in %q", name, city)
	}
	text, err := loaded(t, s, "maren-and-theo").Text()
	if err != nil || !strings.Contains(string(text), "place: {name: The Net Loft, city: Alder Harbor} # by the river") {
		t.Errorf("the plan lost what stood beside it: %v\n%s", err, text)
	}
	for n, row := range []struct {
		sets       []store.Set
		name, city string
	}{
		{[]store.Set{set("wedding/place", "The Mill")}, "The Mill", ""},
		{[]store.Set{set("wedding/place/name", "The Barn")}, "The Barn", ""},
		{[]store.Set{set("wedding/place", "The Mill")}, "The Mill", ""},
		{[]store.Set{set("wedding/place/name")}, "", ""},
		{[]store.Set{set("wedding/place", "The Mill")}, "The Mill", ""},
		{[]store.Set{set("wedding/place/name"), set("wedding/place/city", "Arklow")}, "", "Arklow"},
	} {
		if _, err := put(t, s, n+2, row.sets...); err != nil {
			t.Fatalf("%v: %v", row.sets, err)
		}
		if name, city := place(); name != row.name || city != row.city {
			t.Errorf("%v: the place is %q in %q", row.sets, name, city)
		}
	}
}
