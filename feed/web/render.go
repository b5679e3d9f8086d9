package web

import (
	"bytes"
	"compress/gzip"
	"embed"
	"html/template"
	"io/fs"
	"net/http"
	"strconv"
	"strings"
	"sync"
)

//go:embed templates
var templateFiles embed.FS

// The pages. Each has a struct of its own, which embeds Frame.
var (
	personTemplate  = Template(templateFiles, "person.html")
	frontTemplate   = Template(templateFiles, "front.html")
	troubleTemplate = Template(templateFiles, "trouble.html")
)

// Template makes a page of files, by their names in the folder templates of
// fsys, inside the layout. They define "body". It is made when it is first
// shown: most commands show no page, and wait for none.
func Template(fsys fs.FS, names ...string) func() *template.Template {
	return sync.OnceValue(func() *template.Template {
		t := template.New("").Funcs(template.FuncMap{"asset": assetPath})
		t = template.Must(t.ParseFS(templateFiles, "templates/layout.html", "templates/date.html", "templates/marks.html", "templates/change.html", "templates/compared.html"))
		for _, name := range names {
			t = template.Must(t.ParseFS(fsys, "templates/"+name))
		}
		return t
	})
}

// Frame is what every page has.
type Frame struct {
	Title   string
	Root    string   // the way from the page to the root, since a proxy may put it under a path
	Sheets  []string // style sheets beside the first
	Scripts []string
}

// NewFrame is the frame of the page that r asks for.
func NewFrame(r *http.Request, title string) Frame {
	return Frame{Title: title, Root: strings.Repeat("../", max(0, strings.Count(r.URL.EscapedPath(), "/")-1))}
}

// Policy lets a page load its style sheet and its script from here, and
// nothing from anywhere else (Content Security Policy Level 3).
const Policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// Show renders a page whole before a byte of it is sent. Pages are small but
// for those of the couple, which are read on a train: hence gzip. It gives no
// secret away, since nothing that another site can choose is in a page. A
// page that no referrer and no cache may keep says nothing; another sets
// these headers, or the policy, first.
func Show(w http.ResponseWriter, r *http.Request, status int, t func() *template.Template, page any) error {
	return ShowPart(w, r, status, t, "layout", page)
}

// ShowPart is Show for one part of a page, by the name of its template: what a
// script of ours puts into a page that is open.
func ShowPart(w http.ResponseWriter, r *http.Request, status int, t func() *template.Template, part string, page any) error {
	var body bytes.Buffer
	if err := t().ExecuteTemplate(&body, part, page); err != nil {
		return err
	}
	h := w.Header()
	if acceptsGzip(r.Header) {
		var zipped bytes.Buffer
		z := gzip.NewWriter(&zipped)
		z.Write(body.Bytes()) // a buffer takes all
		z.Close()
		body = zipped
		h["Content-Encoding"] = gzipCoding
	}
	h.Set("Content-Type", "text/html; charset=utf-8")
	h.Set("Content-Length", strconv.Itoa(body.Len()))
	if h.Get("Content-Security-Policy") == "" {
		h.Set("Content-Security-Policy", Policy)
	}
	if h.Get("Cache-Control") == "" {
		h.Set("Cache-Control", "private, no-store")
	}
	if h.Get("Referrer-Policy") == "" {
		h["Referrer-Policy"] = noReferrer
	}
	h["Vary"] = varyCoding
	h["X-Content-Type-Options"] = noSniff
	h["X-Robots-Tag"] = noIndex
	w.WriteHeader(status)
	w.Write(body.Bytes()) // a client that hangs up is no fault of ours
	return nil
}

// troublePage says what is wrong, and what to do.
type troublePage struct {
	Frame
	Says []string
	Desk bool // it is one of the desk, and leads back there
}
