package desk_test

import (
	"bytes"
	"database/sql"
	"io"
	"io/fs"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"golang.org/x/net/html"

	"banns/feed/web"
	"banns/feed/web/desk"
	"banns/store"
	"banns/testdata"
)

// winter is when the stores of these tests were filled: most of the demo
// plan is still to come.
var winter = time.Date(2026, time.November, 25, 9, 0, 0, 0, time.UTC)

const long = "four plain words here"

// site is a server over a real store, with the demo's wedding in it.
type site struct {
	*httptest.Server
	desk  *desk.Desk
	store *store.Store
	dir   string // of the store
	mu    sync.Mutex
	clock time.Time
	log   bytes.Buffer
}

func (s *site) now() time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.clock
}

func (s *site) pass(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.clock = s.clock.Add(d)
}

// folders are stores as importing the plans of that name left them.
var folders = map[string]fs.FS{}

// stored is a folder of a store with plans in it.
func stored(t testing.TB, plans ...string) string {
	t.Helper()
	name := strings.Join(plans, "\x00")
	if folders[name] == nil {
		folders[name] = filled(t, plans)
	}
	dir := filepath.Join(t.TempDir(), "store")
	if err := os.CopyFS(dir, folders[name]); err != nil {
		t.Fatal(err)
	}
	return dir
}

// filled imports plans into a new store, and keeps its files.
func filled(t testing.TB, plans []string) fs.FS {
	t.Helper()
	dir := t.TempDir()
	s, err := store.Open(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range plans {
		doc, err := store.ReadPlan("plan", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.Import(t.Context(), store.Import{Document: doc}, winter); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	files := fstest.MapFS{}
	if err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		files[d.Name()] = &fstest.MapFile{Data: text, Mode: 0o600}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return files
}

func newSite(t testing.TB, plans ...string) *site {
	t.Helper()
	s := &site{clock: winter, dir: stored(t, plans...)}
	var err error
	if s.store, err = store.Open(t.Context(), s.dir); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.store.Close() })
	log := slog.New(slog.NewTextHandler(&s.log, nil))
	s.desk = desk.New(desk.Options{Store: s.store, Now: s.now, Log: log, Door: "open-sesame"})
	w, err := web.New(t.Context(), web.Options{Store: s.store, Now: s.now, Log: log, Desk: s.desk, Compare: s.desk.Comparison})
	if err != nil {
		t.Fatal(err)
	}
	s.Server = httptest.NewServer(w)
	t.Cleanup(func() {
		s.Close()
		if text := s.log.String(); strings.Contains(text, "level=ERROR") {
			t.Errorf("the log tells of a failure: %s", text)
		}
	})
	return s
}

func demoSite(t testing.TB) *site { return newSite(t, string(testdata.Demo)) }

// browser is somebody's, with their cookies.
type browser struct {
	t    testing.TB
	site *site
	http.Client
}

func (s *site) browser(t testing.TB) *browser {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &browser{t: t, site: s, Client: http.Client{Jar: jar}}
}

// comesIn is the browser of somebody who came in by a one-time link. Their
// account is there already, with a passphrase that was sealed once for all
// tests, since that is slow on purpose.
func (s *site) comesIn(t testing.TB, name string, in store.Invitation) *browser {
	t.Helper()
	secret, err := s.store.Invite(t.Context(), in, s.now())
	if err != nil {
		t.Fatal(err)
	}
	account, err := s.store.Accept(t.Context(), secret, s.account(t, name), "", "", s.now())
	if err != nil {
		t.Fatal(err)
	}
	session, err := s.store.Begin(t.Context(), account.ID, "Go-http-client/1.1", s.now())
	if err != nil {
		t.Fatal(err)
	}
	at, err := url.Parse(s.URL)
	if err != nil {
		t.Fatal(err)
	}
	b := s.browser(t)
	b.Jar.SetCookies(at, []*http.Cookie{{Name: "banns-desk", Value: session, Path: "/"}})
	return b
}

// account makes an account that sees nothing yet.
func (s *site) account(t testing.TB, name string) (id int64) {
	t.Helper()
	if err := s.db(t).QueryRowContext(t.Context(), "insert into account (name, passphrase, created_at) values (?, ?, ?) returning id",
		name, sealed(t), winter.Format(time.RFC3339)).Scan(&id); err != nil {
		t.Fatal(err)
	}
	return id
}

// db is the site's database, beside the store that has it open.
func (s *site) db(t testing.TB) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+(&url.URL{Path: s.dir + "/banns.db"}).EscapedPath())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	return db
}

// kept is what a store keeps of the passphrase long.
var kept string

func sealed(t testing.TB) string {
	t.Helper()
	if kept == "" {
		s := newSite(t)
		secret, err := s.store.Invite(t.Context(), store.Invitation{Owner: true}, winter)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.store.Accept(t.Context(), secret, 0, "Ida", long, winter); err != nil {
			t.Fatal(err)
		}
		if err := s.db(t).QueryRowContext(t.Context(), "select passphrase from account").Scan(&kept); err != nil {
			t.Fatal(err)
		}
	}
	return kept
}

// owner is the browser of the store's owner.
func (s *site) owner(t testing.TB) *browser {
	return s.comesIn(t, "Ida", store.Invitation{Owner: true})
}

// seenPage is a page as it came, after all it was sent on to.
type seenPage struct {
	t    testing.TB
	URL  *url.URL
	Head http.Header
	Text string
	root *html.Node
}

func (b *browser) get(path string, status int) seenPage {
	b.t.Helper()
	res, err := b.Get(b.site.URL + path)
	return b.page(res, err, status)
}

func (b *browser) post(path string, status int, form url.Values) seenPage {
	b.t.Helper()
	res, err := b.PostForm(b.site.URL+path, form)
	return b.page(res, err, status)
}

func (b *browser) page(res *http.Response, err error, status int) seenPage {
	b.t.Helper()
	if err != nil {
		b.t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		b.t.Fatal(err)
	}
	if res.StatusCode != status {
		b.t.Fatalf("%s %s answers %d, not %d: %s", res.Request.Method, res.Request.URL, res.StatusCode, status, body)
	}
	root, err := html.Parse(bytes.NewReader(body))
	if err != nil {
		b.t.Fatal(err)
	}
	return seenPage{b.t, res.Request.URL, res.Header, string(body), root}
}

// has fails where the page lacks a text that its reader should see.
func (p seenPage) has(texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		if !strings.Contains(html.UnescapeString(p.Text), text) {
			p.t.Errorf("%s lacks %q:\n%s", p.URL.Path, text, p.Text)
		}
	}
}

// lacks fails where the page has a text that its reader should not see.
func (p seenPage) lacks(texts ...string) {
	p.t.Helper()
	for _, text := range texts {
		if strings.Contains(html.UnescapeString(p.Text), text) {
			p.t.Errorf("%s has %q", p.URL.Path, text)
		}
	}
}

// form is what the page's forms would send as they stand: every field with
// its value, the hidden ones too.
func (p seenPage) form() url.Values {
	form := url.Values{}
	for n := range p.root.Descendants() {
		name := attr(n, "name")
		switch {
		case n.Type != html.ElementNode || name == "":
		case n.Data == "input" && attr(n, "type") != "checkbox" && attr(n, "type") != "radio":
			form.Set(name, attr(n, "value"))
		case n.Data == "textarea":
			form.Set(name, "")
			for c := range n.ChildNodes() {
				form.Set(name, c.Data)
			}
		case n.Data == "select":
			for o := range n.Descendants() {
				if o.Data == "option" && has(o, "selected") {
					form.Set(name, attr(o, "value"))
				}
			}
		case n.Data == "input" && has(n, "checked"):
			form.Add(name, attr(n, "value")) // of several, behind the blank one
		}
	}
	return form
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func has(n *html.Node, key string) bool {
	for _, a := range n.Attr {
		if a.Key == key {
			return true
		}
	}
	return false
}
