package desk

import (
	"net/http"

	"banns/feed/web"
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
	return web.Show(w, r, status, dayTemplate, dayPage{newPageFrame(r, "The day", "day"), f})
}

func dayForm(doc *store.Document) form {
	return newForm(doc,
		field{Path: "wedding/title", Label: "What the wedding is called", Hint: "Everybody sees it. Such as: Maren and Theo"},
		field{Path: "wedding/date", Label: "The day", Kind: dateKind, Hint: "Leave it empty while it is open"},
		field{Path: "wedding/start", Label: "The hour it begins", Kind: timeKind},
		field{Path: "wedding/place/name", Label: "The place"},
		field{Path: "wedding/place/city", Label: "The town"},
		field{Path: "wedding/zone", Label: "The time zone", Hint: "Such as America/Detroit or Europe/London"},
		field{Path: "wedding/region", Label: "Whose public holidays count", Options: regions(),
			Hint: "Pick the country, or write it with its part: US-MI, CA-ON, GB-SCT, DE-BY"},
		field{Path: "wedding/currency", Label: "The currency of the contracts", Hint: "Such as USD or EUR"},
	)
}

// saveDay answers POST of the wedding's own facts.
func (d *Desk) saveDay(w http.ResponseWriter, r *http.Request) error {
	f := dayForm(sightOf(r).doc)
	return d.save(w, r, &f, "day", func(status int) error { return d.showDay(w, r, status, f) })
}
