package desk

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"net/http"
	"regexp"
	"slices"
	"strings"

	"golang.org/x/text/currency"
	"golang.org/x/text/language"

	"banns/conflicts"
	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var beginTemplate = page("begin.html")

// beginPage asks for what is known of a wedding that is not here yet.
type beginPage struct {
	web.Frame
	Visitor string
	ID      string // what the wedding will be known by: a form that is sent twice begins one
	First   bool   // there is no wedding yet
	Form    form
}

// owners lets nobody pass but those who plan every wedding of the store.
func (d *Desk) owners(next http.Handler) http.Handler {
	return d.answer(func(w http.ResponseWriter, r *http.Request) error {
		if !visitorOf(r).Owner {
			return nothing(w, r)
		}
		next.ServeHTTP(w, r)
		return nil
	})
}

// newWedding answers GET of the page on which a wedding is begun.
func (d *Desk) newWedding(w http.ResponseWriter, r *http.Request) error {
	id := make([]byte, 8)
	rand.Read(id) // it never fails
	return d.showBegin(w, r, http.StatusOK, hex.EncodeToString(id), weddingForm())
}

func (d *Desk) showBegin(w http.ResponseWriter, r *http.Request, status int, id string, f form) error {
	all, err := d.Store.Admitted(r.Context(), visitorOf(r).Account)
	if err != nil {
		return err
	}
	p := beginPage{Frame: frame(r, "A new wedding"), Visitor: visitorOf(r).Name, ID: id, First: len(all) == 0, Form: f}
	p.Scripts = []string{"begin.js"}
	return web.Show(w, r, status, beginTemplate, p)
}

// weddingForm asks for the wedding's own facts, and for days to choose among
// while its day is open. Where it is on the map can wait.
func weddingForm() form {
	f := dayForm(store.Blank())
	at := f.of("wedding/place/at")
	f.Fields = slices.Delete(f.Fields, at, at+1)
	n := f.of("wedding/date") + 1
	days := field{Path: "candidates", Label: "Or the days that you choose among", Kind: daysKind, Hint: "As many as you know; others can follow"}
	f.Fields = append(f.Fields[:n:n], append([]field{days}, f.Fields[n:]...)...)
	return f
}

var weddingID = regexp.MustCompile(`^[0-9a-f]{16}$`)

// begun answers POST of a new wedding.
func (d *Desk) begun(w http.ResponseWriter, r *http.Request) error {
	id := r.PostForm.Get("id")
	if !weddingID.MatchString(id) {
		return web.Trouble(w, r, http.StatusBadRequest, "Nothing was changed", "What was sent could not be read. Go back, and try once more.")
	}
	f := weddingForm()
	f.coded(r.PostForm)
	sets := f.sets(r.PostForm)
	if text := f.value("wedding/currency"); text == "" {
		sets = append(sets, store.Set{Path: "wedding/currency", Value: usualCurrency(f.value("wedding/region"))})
	}
	f.missing("wedding/title", "the wedding has no name yet", "write one that those who marry would know it by")
	f.missing("wedding/zone", "which clock the hours are of is not said", "write a place whose clock it keeps, such as America/Detroit")
	if f.value("wedding/currency") == "" && usualCurrency(f.value("wedding/region")) == nil {
		f.fault("wedding/currency", "the currency is not said", "write one, such as USD, CAD, GBP or EUR")
	}
	if f.Faults != nil {
		return d.showBegin(w, r, http.StatusUnprocessableEntity, id, f)
	}
	blank := store.Blank()
	doc, err := blank.With(append(sets, store.Set{Path: "wedding/id", Value: []string{id}})...)
	if f.refused(&sight{doc: blank, plan: blank.Plan}, err) {
		return d.showBegin(w, r, http.StatusUnprocessableEntity, id, f)
	} else if err != nil {
		return err
	}
	begun, err := d.firstKept(r, doc)
	if err != nil {
		return err
	}
	return goTo(w, r, "w/"+begun.Name+"/?kept=1")
}

// firstKept keeps the first version of a wedding, under a name of its own. One
// that is there already, by its id, stays as it is.
func (d *Desk) firstKept(r *http.Request, doc *store.Document) (store.Wedding, error) {
	name := store.Slug(doc.Plan.Wedding.Title, "wedding")
	in := store.Import{Document: doc, Name: name, By: visitorOf(r).Name}
	for n := 2; ; n++ {
		done, err := d.Store.Import(r.Context(), in, d.Now())
		switch {
		case errors.Is(err, store.ErrTaken):
			in.Name = fmt.Sprintf("%s-%d", name, n)
		case errors.Is(err, store.ErrHeld):
			return d.Store.WeddingCalled(r.Context(), doc.Plan.ID)
		default:
			return done.Wedding, err
		}
	}
}

// usualCurrency is the currency of a region's country, as a set has it, or
// none where it is not known.
func usualCurrency(region string) []string {
	country, _, _ := strings.Cut(region, "-")
	place, err := language.ParseRegion(strings.TrimSpace(country))
	if err != nil {
		return nil
	}
	unit, ok := currency.FromRegion(place)
	if !ok {
		return nil
	}
	if _, err := milestones.ParseCurrency(unit.String()); err != nil {
		return nil
	}
	return []string{unit.String()}
}

// regions are the countries whose holidays are known, to pick from.
func regions() []option {
	var all []option
	for _, c := range conflicts.Covered() {
		all = append(all, option{c.Code, c.Name})
	}
	return all
}
