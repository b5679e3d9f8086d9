package desk

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"banns/conflicts"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var dayTemplate = page("day.html")

// dayPage is the wedding itself: its day, its place, its money.
type dayPage struct {
	pageFrame
	Form form
}

// day answers GET of the wedding's own facts.
func (d *Desk) day(w http.ResponseWriter, r *http.Request) error {
	return d.showDay(w, r, http.StatusOK, dayForm(sightOf(r).doc))
}

func (d *Desk) showDay(w http.ResponseWriter, r *http.Request, status int, f form) error {
	return web.Show(w, r, status, dayTemplate, dayPage{newPageFrame(r, "The wedding", "day"), f})
}

func dayForm(doc *store.Document) form {
	return newForm(doc, slices.Concat([]field{
		{Path: "wedding/title", Label: "What the wedding is called", Hint: "Everybody sees it. Such as: Maren and Theo"},
		{Path: "wedding/date", Label: "The day", Kind: dateKind, Hint: "Leave it empty while it is open"},
		{Path: "wedding/start", Label: "The hour it begins", Kind: timeKind},
	}, placeFields("wedding/place", "The place", "The town"), []field{
		{Path: "wedding/zone", Label: "The time zone", Hint: "A city that keeps it, such as Detroit or London"},
		{Path: "wedding/region", Label: "Whose public holidays count", Options: regions(),
			Hint: "A country, a state or a province, such as Ohio; or its code, such as US-MI, CA-ON, GB-SCT or DE-BY"},
		{Path: "wedding/currency", Label: "The currency of the contracts", Hint: "Such as USD or EUR"},
	})...)
}

// placeFields ask for a place: what it is called, its town, and where it is on
// the map.
func placeFields(base, name, city string) []field {
	return []field{
		{Path: base + "/name", Label: name},
		{Path: base + "/city", Label: city},
		{Path: base + "/at", Label: "On the map", Kind: listKind,
			Hint: "Its latitude and longitude, as 44.76, -85.62; south and west have a minus"},
	}
}

// coded has a form's zone go by its name in the database of zones, and its
// region by its code. It reports whether the region has one, or is left out;
// otherwise the form holds what was sent, and the fault.
func (f *form) coded(sent url.Values) bool {
	if zone, known := milestones.ZoneCalled(sent.Get("wedding/zone")); known {
		sent.Set("wedding/zone", zone)
	}
	const path = "wedding/region"
	name := strings.TrimSpace(sent.Get(path))
	code, known := conflicts.RegionCalled(name)
	if name != "" && !known {
		f.sets(sent)
		f.fault(path, fmt.Sprintf("%q is no country, state or province that is known by name", name), "pick a country, or write a code such as US-OH")
		return false
	}
	if sent.Has(path) {
		sent.Set(path, code)
	}
	return true
}

// saveDay answers POST of the wedding's own facts.
func (d *Desk) saveDay(w http.ResponseWriter, r *http.Request) error {
	f := dayForm(sightOf(r).doc)
	if !f.coded(r.PostForm) {
		return d.showDay(w, r, http.StatusUnprocessableEntity, f)
	}
	return d.save(w, r, &f, "day", func(status int) error { return d.showDay(w, r, status, f) })
}
