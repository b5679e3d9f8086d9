package web

import (
	"bytes"
	"compress/gzip"
	"embed"
	"html/template"
	"net/http"
	"strconv"
	"strings"
)

//go:embed templates
var templateFiles embed.FS

// The pages. Each has a struct of its own, which embeds frame.
var (
	personTemplate  = parse("person.html", "date.html", "marks.html")
	frontTemplate   = parse("front.html")
	troubleTemplate = parse("trouble.html")
)

func parse(names ...string) *template.Template {
	t := template.New("").Funcs(template.FuncMap{"asset": assetPath})
	for _, name := range append(names, "layout.html") {
		t = template.Must(t.ParseFS(templateFiles, "templates/"+name))
	}
	return t
}

// frame is what every page has.
type frame struct {
	Title string
	Root  string // the way from the page to the root, since a proxy may put it under a path
	Copy  bool   // the page has something to copy
}

func newFrame(r *http.Request, title string) frame {
	return frame{Title: title, Root: strings.Repeat("../", max(0, strings.Count(r.URL.EscapedPath(), "/")-1))}
}

// policy lets a page load its style sheet and its script from here, and
// nothing from anywhere else (Content Security Policy Level 3).
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// show renders a page whole before a byte of it is sent. Pages are small but
// for those of the couple, which are read on a train: hence gzip. It gives no
// secret away, since nothing that another site can choose is in a page.
func show(w http.ResponseWriter, r *http.Request, status int, t *template.Template, page any) error {
	var body bytes.Buffer
	if err := t.ExecuteTemplate(&body, "layout", page); err != nil {
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
	h.Set("Content-Security-Policy", policy)
	h.Set("Cache-Control", "private, no-store")
	h["Vary"] = varyCoding
	h["X-Content-Type-Options"] = noSniff
	h["X-Robots-Tag"] = noIndex
	h["Referrer-Policy"] = noReferrer
	w.WriteHeader(status)
	w.Write(body.Bytes()) // a client that hangs up is no fault of ours
	return nil
}

// troublePage says what is wrong, and what to do.
type troublePage struct {
	frame
	Says []string
}
