package web

import (
	"net/http"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"
)

// Values that every answer to a poll shares; headers are set without copies.
var (
	typeCalendar = []string{"text/calendar; charset=utf-8"}
	cacheRule    = []string{"private, no-cache"} // keep it, but ask each time
	varyCoding   = []string{"Accept-Encoding"}
	noIndex      = []string{"noindex"}
	noReferrer   = []string{"no-referrer"}
	gzipCoding   = []string{"gzip"}
	noSniff      = []string{"nosniff"}
)

// calendar answers GET and HEAD of /c/TOKEN.ics: 200, or 304 where the
// client has it already; 404 for an address that never was, 410 for one that
// was revoked, and never anything else: some clients take 410 as the end of
// the calendar, and an answer in HTML as an empty one.
func (s *Server) calendar(w http.ResponseWriter, r *http.Request) error {
	o, known := s.shelf.find(r.Context(), chi.URLParam(r, "token"))
	switch {
	case !known:
		return nothing(w, r)
	case o.Revoked:
		return closed(w, r)
	}
	c, err := s.shelf.calendar(r.Context(), o)
	if err != nil {
		return err
	}
	c.send(w, r)
	if r.Method == http.MethodGet {
		s.heard(o.Feed, c)
	}
	return nil
}

// send writes c as the client asked for it.
func (c *edition) send(w http.ResponseWriter, r *http.Request) {
	body, tag, size := c.plain, c.plainTag, c.plainSize
	h := w.Header()
	if zipped := acceptsGzip(r.Header); zipped {
		body, tag, size = c.gzip, c.gzipTag, c.zipSize
		h["Content-Encoding"] = gzipCoding
	}
	h["Etag"] = tag
	h["Last-Modified"] = c.modified
	h["Cache-Control"] = cacheRule
	h["Vary"] = varyCoding
	h["X-Robots-Tag"] = noIndex
	h["Referrer-Policy"] = noReferrer
	if c.known(r.Header) {
		delete(h, "Content-Encoding")
		w.WriteHeader(http.StatusNotModified)
		return
	}
	h["Content-Type"] = typeCalendar
	h["Content-Length"] = size
	h["X-Content-Type-Options"] = noSniff
	if r.Method != http.MethodHead {
		w.Write(body) // a client that hangs up is no fault of ours
	}
}

// known reports whether the client has this very calendar: by its tag, or,
// where it sends none, by its date (RFC 9110 13.2.2).
func (c *edition) known(h http.Header) bool {
	if tags := h["If-None-Match"]; len(tags) > 0 {
		for _, list := range tags {
			for one := range strings.SplitSeq(list, ",") {
				one = strings.TrimPrefix(strings.TrimSpace(one), "W/")
				if one == c.plainTag[0] || one == c.gzipTag[0] || one == "*" {
					return true
				}
			}
		}
		return false
	}
	since, err := time.Parse(http.TimeFormat, h.Get("If-Modified-Since"))
	return err == nil && !c.changed.Truncate(time.Second).After(since)
}

// acceptsGzip reports whether the client asked for gzip (RFC 9110 12.5.3).
func acceptsGzip(h http.Header) bool {
	for _, list := range h["Accept-Encoding"] {
		for one := range strings.SplitSeq(list, ",") {
			coding, q, _ := strings.Cut(strings.TrimSpace(one), ";")
			if strings.EqualFold(strings.TrimSpace(coding), "gzip") {
				q = strings.ReplaceAll(q, " ", "")
				return q != "q=0" && q != "q=0.0" && q != "q=0.00" && q != "q=0.000"
			}
		}
	}
	return false
}

// plain answers in one line of text.
func plain(w http.ResponseWriter, status int, says string) error {
	h := w.Header()
	h.Set("Content-Type", "text/plain; charset=utf-8")
	h.Set("Cache-Control", "no-store")
	h["X-Content-Type-Options"] = noSniff
	h["X-Robots-Tag"] = noIndex
	h["Referrer-Policy"] = noReferrer
	w.WriteHeader(status)
	w.Write([]byte(says + "\n")) // a client that hangs up is no fault of ours
	return nil
}
