package fetch

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"strings"
	"time"

	"banns/conflicts"
)

// Bounds on one reading.
const (
	ownPatience  = 20 * time.Second // in all, where a Fetcher has none of its own
	maxRedirects = 5
	maxHeader    = 64 << 10
)

// Fetcher reads calendars. Its zero value reads public ones.
type Fetcher struct {
	Private  bool          // servers on this machine and on private networks are read too
	Patience time.Duration // how long one reading may take in all; 0: 20 seconds
}

func (f Fetcher) patience() time.Duration { return cmp.Or(f.Patience, ownPatience) }

// Seen is what a server said of the copy that it gave last, so that it need
// not send the same again (RFC 9110 13.1).
type Seen struct {
	ETag     string
	Modified string // the Last-Modified header, as it came
}

// Copy is what came back.
type Copy struct {
	Body      []byte
	Seen      Seen
	Unchanged bool // it is still what was seen; there is no Body
}

// Get reads a calendar or a table from an address that Address gave. Errors
// are for people, and do not repeat the address, which may be a secret.
func (f Fetcher) Get(ctx context.Context, address string, seen Seen) (Copy, error) {
	ctx, cancel := context.WithTimeout(ctx, f.patience())
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, address, nil)
	if err != nil {
		return Copy{}, errors.New("it is no address that can be read")
	}
	req.Header.Set("User-Agent", "banns (reads public calendars)")
	req.Header.Set("Accept", "text/calendar, text/csv, text/plain;q=0.8, */*;q=0.5")
	if seen.ETag != "" {
		req.Header.Set("If-None-Match", seen.ETag)
	}
	if seen.Modified != "" {
		req.Header.Set("If-Modified-Since", seen.Modified)
	}
	client := f.client()
	defer client.CloseIdleConnections()
	resp, err := client.Do(req)
	if err != nil {
		return Copy{}, f.plain(err)
	}
	defer resp.Body.Close()
	return f.read(resp, seen)
}

// client makes a client whose every connection passes the guard. It takes no
// proxy from the environment: a proxy would do the dialling, unguarded.
func (f Fetcher) client() *http.Client {
	dialer := &net.Dialer{Timeout: f.patience()}
	if !f.Private {
		dialer.Control = guard
	}
	return &http.Client{
		Transport: &http.Transport{
			DialContext:            dialer.DialContext,
			ForceAttemptHTTP2:      true,
			TLSHandshakeTimeout:    f.patience(),
			MaxResponseHeaderBytes: maxHeader,
		},
		CheckRedirect: redirect,
	}
}

var (
	errRedirects = fmt.Errorf("it leads on more than %d times", maxRedirects)
	errDown      = errors.New("it leads from https to an address that is not")
)

func redirect(req *http.Request, via []*http.Request) error {
	last := via[len(via)-1].URL
	switch {
	case len(via) > maxRedirects:
		return errRedirects
	case last.Scheme == "https" && req.URL.Scheme != "https":
		return errDown
	}
	if _, err := Address(req.URL.String()); err != nil {
		return fmt.Errorf("it leads on to another, and %w", err)
	}
	return nil
}

// plain is an error of the client in words, without the address.
func (f Fetcher) plain(err error) error {
	var wrapped *url.Error
	if errors.As(err, &wrapped) {
		err = wrapped.Err
	}
	var dns *net.DNSError
	switch {
	case errors.Is(err, ErrPrivate):
		return ErrPrivate
	case errors.Is(err, context.DeadlineExceeded):
		return fmt.Errorf("no whole answer came within %s", f.patience())
	case errors.As(err, &dns):
		return errors.New("its server is not found; look at the spelling")
	}
	return fmt.Errorf("it cannot be read: %w", err)
}

// read takes an answer.
func (f Fetcher) read(resp *http.Response, seen Seen) (Copy, error) {
	switch code := resp.StatusCode; {
	case code == http.StatusNotModified && seen != (Seen{}):
		return Copy{Seen: seen, Unchanged: true}, nil
	case code == http.StatusNotFound || code == http.StatusGone:
		return Copy{}, fmt.Errorf("there is nothing at this address any more (%d)", code)
	case code == http.StatusUnauthorized || code == http.StatusForbidden:
		return Copy{}, fmt.Errorf("it is not public: the server asks who is there (%d)", code)
	case code != http.StatusOK:
		return Copy{}, fmt.Errorf("the server answers %d %s", code, http.StatusText(code))
	}
	// The body is unpacked on the way, so the bound is on what it unpacks to.
	body, err := io.ReadAll(io.LimitReader(resp.Body, conflicts.MaxBody+1))
	switch {
	case err != nil:
		return Copy{}, f.plain(err)
	case len(body) > conflicts.MaxBody:
		return Copy{}, errors.New("it is larger than 5 MB")
	case len(bytes.TrimSpace(body)) == 0:
		return Copy{}, errors.New("the answer is empty")
	case isPage(resp.Header.Get("Content-Type"), body):
		return Copy{}, errors.New("it is a web page, not a calendar; look on that page for a link to subscribe, or one that ends in .ics")
	}
	return Copy{Body: body, Seen: Seen{resp.Header.Get("ETag"), resp.Header.Get("Last-Modified")}}, nil
}

// isPage reports whether an answer is HTML. Some servers call a calendar
// HTML, so what it begins with decides where it says so.
func isPage(kind string, body []byte) bool {
	text := strings.ToLower(string(bytes.TrimLeft(body[:min(len(body), 1024)], "\xef\xbb\xbf \t\r\n")))
	if strings.HasPrefix(text, "begin:vcalendar") {
		return false
	}
	return strings.HasPrefix(strings.ToLower(kind), "text/html") || strings.HasPrefix(text, "<!doctype html") || strings.HasPrefix(text, "<html")
}
