package desk

import (
	"bytes"
	"cmp"
	"errors"
	"mime"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"banns/feed/web"
	"banns/milestones"
	"banns/store"
)

var copiesTemplate = page("copies.html", "copies_list.html")

// copiesPage is the contract itself, as it was kept: files and links.
type copiesPage struct {
	pageFrame
	copiesPart
	Key  string
	Form form
}

// maySeeCopies reports whether contracts are for the visitor to read. They
// hold every line, so they are for planners: were they shown to a partner
// wherever no line is hidden, their absence would tell that one is.
func (s *sight) maySeeCopies() bool { return s.planner() }

// copiesOf are the copies of an agreement, the newest first; nil where they
// are not for the visitor.
func (d *Desk) copiesOf(r *http.Request, a *milestones.Agreement) (*copiesPart, error) {
	s := sightOf(r)
	if !s.maySeeCopies() {
		return nil, nil
	}
	all, err := d.Store.Copies(r.Context(), s.ID)
	if err != nil {
		return nil, err
	}
	p := &copiesPart{To: frame(r, "").Root + "desk/" + s.at("agreements/"+a.Key+"/copies")}
	for _, c := range all {
		if c.Agreement != a.Key {
			continue
		}
		one := copyRow{Copy: c, Is: "a link", When: milestones.DateOf(c.Added.In(s.plan.Wedding.Location())).Words()}
		if c.Link == "" {
			one.Is = mediaWords[c.Media] + ", " + c.SizeWords()
		}
		p.Rows = append(p.Rows, one)
	}
	return p, nil
}

var mediaWords = map[string]string{"application/pdf": "PDF", "image/png": "picture (PNG)", "image/jpeg": "picture (JPEG)",
	"image/heic": "picture (HEIC)", "text/plain; charset=utf-8": "text"}

// copiesAsked is the agreement whose copies a request is about, where they are
// for the visitor.
func copiesAsked(r *http.Request) (*milestones.Agreement, bool) {
	a, ok := sightOf(r).plan.Agreement(chi.URLParam(r, "agreement"))
	return a, ok && sightOf(r).maySeeCopies()
}

// copies answers GET of an agreement's copies.
func (d *Desk) copies(w http.ResponseWriter, r *http.Request) error {
	return d.showCopies(w, r, http.StatusOK, copyForm())
}

func (d *Desk) showCopies(w http.ResponseWriter, r *http.Request, status int, f form) error {
	a, ok := copiesAsked(r)
	if !ok {
		return nothing(w, r)
	}
	part, err := d.copiesOf(r, a)
	if err != nil {
		return err
	}
	p := copiesPage{newPageFrame(r, a.With+": the contract itself", "agreements"), *part, a.Key, f}
	return web.Show(w, r, status, copiesTemplate, p)
}

// copyForm asks for a file or a link.
func copyForm() form {
	return form{Lead: "Nothing was kept.", Fields: []field{
		{Path: "file", Label: "A file", Kind: fileKind, Accept: ".pdf,.png,.jpg,.jpeg,.heic,.txt", Hint: "PDF, picture (PNG, JPEG, HEIC) or plain text, up to 10 MB"},
		{Path: "link", Label: "Or a link", Kind: urlKind, Hint: "Whoever opens it has to be let in there too"},
		{Path: "name", Label: "What it is called", Hint: "Such as signed contract, or changes of Mon 3 May. Leave it empty for the name it has"},
	}}
}

// addCopy answers POST of a file or a link.
func (d *Desk) addCopy(w http.ResponseWriter, r *http.Request) error {
	a, ok := copiesAsked(r)
	if !ok {
		return nothing(w, r)
	}
	s, f := sightOf(r), copyForm()
	sent, err := readFileForm(r, store.CopyMost)
	for n := range f.Fields {
		f.Fields[n].Value = sent.get(f.Fields[n].Path)
	}
	c := store.Copy{Agreement: a.Key, Name: sent.get("name"), Link: sent.get("link"), By: visitorOf(r).Name}
	switch {
	case err != nil:
		f.fault("file", "it did not come through whole", "try once more, or choose one of up to 10 MB")
	case len(sent.body) > 0 || sent.file != "":
		c.Name = cmp.Or(c.Name, sent.file)
		err = d.Store.AddFile(r.Context(), s.ID, c, sent.body, d.Now())
	case c.Link != "":
		err = d.Store.AddLink(r.Context(), s.ID, c, d.Now())
	default:
		f.fault("file", "nothing is chosen here, and no link is written", "choose a file, or write a link")
	}
	for refused, says := range copyFaults {
		if errors.Is(err, refused) {
			f.fault(says[0], says[1], says[2])
		}
	}
	if f.Faults != nil {
		return d.showCopies(w, r, http.StatusUnprocessableEntity, f)
	} else if err != nil {
		return err
	}
	return goTo(w, r, s.at("agreements/"+a.Key+"/copies"))
}

// copyFaults say where something is wrong with a copy, what, and how to mend
// it.
var copyFaults = map[error][3]string{
	store.ErrCopyMedia: {"file", "this is no PDF, no picture (PNG, JPEG, HEIC) and no plain text", "print it to a PDF, or take a picture of it, and choose that"},
	store.ErrCopySize:  {"file", "the file is empty, or larger than 10 MB", "choose a smaller one, or write a link to it"},
	store.ErrCopyLink:  {"link", "a link begins with https://, as https://example.org/contract", "copy it whole from the browser’s address line"},
	store.ErrCopyCount: {"", "there are as many copies here as are kept: take an old one away first", ""},
}

// copyAsked is the number of the copy that a request is about.
func copyAsked(r *http.Request) (int64, bool) {
	id, err := strconv.ParseInt(chi.URLParam(r, "copy"), 10, 64)
	return id, err == nil
}

// copy answers GET of a file. It is handed over to be saved, and never shown
// as a page of ours: what is in it is not ours (CSP 3, sandbox).
func (d *Desk) copy(w http.ResponseWriter, r *http.Request) error {
	a, ok := copiesAsked(r)
	id, isOne := copyAsked(r)
	if !ok || !isOne {
		return nothing(w, r)
	}
	c, body, err := d.Store.File(r.Context(), sightOf(r).ID, a.Key, id)
	if err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", c.Media)
	h.Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": c.Name}))
	h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cache-Control", "private, no-store")
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(body))
	return nil
}

// dropCopy answers POST that takes a copy away.
func (d *Desk) dropCopy(w http.ResponseWriter, r *http.Request) error {
	a, ok := copiesAsked(r)
	id, isOne := copyAsked(r)
	if !ok || !isOne {
		return nothing(w, r)
	}
	if err := d.Store.DropCopy(r.Context(), sightOf(r).ID, a.Key, id); err != nil {
		return err
	}
	return goTo(w, r, sightOf(r).at("agreements/"+a.Key+"/copies"))
}

// takesFile reports whether a request may carry a contract.
func takesFile(r *http.Request) bool {
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); err != nil || kind != "multipart/form-data" {
		return false
	}
	parts := strings.Split(strings.Trim(r.URL.Path, "/"), "/")
	n := slices.Index(parts, "w")
	return n >= 0 && len(parts) == n+5 && parts[n+2] == "agreements" && parts[n+4] == "copies"
}
