package desk_test

import (
	"net/http"
	"strings"
	"testing"

	"banns/testdata"
)

// A plan may give a place as a name alone: the pages show it, change it, and
// add its town and where it is on the map.
func TestPlaceOfANameAlone(t *testing.T) {
	text := replaced(t, string(testdata.Demo), "place: {name: The Net Loft, city: Alder Harbor, at: [44.76, -85.62]}", "place: The Net Loft")
	for _, row := range []struct{ page, at string }{
		{"day", "wedding/place/"},
		{"occasions/rehearsal", "occasions/rehearsal/place/"},
	} {
		s := newSite(t, text)
		b := s.opened(t)
		at := func(part string) string { return strings.Join(s.plan(t).At(row.at+part), ", ") }
		form := b.get(demoDesk+row.page, http.StatusOK).form()
		if got := form.Get(row.at + "name"); got != "The Net Loft" {
			t.Errorf("%s shows the place as %q", row.page, got)
		}
		b.post(demoDesk+row.page, http.StatusOK, form)
		form.Set(row.at+"name", "The Mill")
		p := b.post(demoDesk+row.page, http.StatusOK, form)
		p.has("Saved as version 2")
		form = p.form()
		form.Set(row.at+"city", "Alder Harbor")
		form.Set(row.at+"at", "44.5, -85.5")
		b.post(demoDesk+row.page, http.StatusOK, form).has("Saved as version 3")
		if name, city, where := at("name"), at("city"), at("at"); name != "The Mill" || city != "Alder Harbor" || where != "44.5, -85.5" {
			t.Errorf("%s: the plan has %q in %q at %q", row.page, name, city, where)
		}
	}
}

// What is no point of the map is told beside the field, and as one types it there.
func TestPlaceOnTheMap(t *testing.T) {
	s := demoSite(t)
	b := s.opened(t)
	form := b.get(demoDesk+"day", http.StatusOK).form()
	for value, says := range map[string]string{
		"44.76":         "a place on the map is two numbers, latitude and longitude; write it as 44.76, -85.62",
		"144.76, 85.62": "this is no number from -90 to 90",
	} {
		form.Set("wedding/place/at", value)
		p := b.post(demoDesk+"day", http.StatusUnprocessableEntity, form)
		p.has(says, `id="wedding-place-at-fault"`, `value="`+value+`"`)
	}
}
