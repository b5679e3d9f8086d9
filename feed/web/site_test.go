package web_test

import (
	"bytes"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"banns/feed/web"
	"banns/store"
)

// winter is when the stores of these tests were filled: most of the demo
// plan is still to come.
var winter = time.Date(2026, time.November, 25, 9, 0, 0, 0, time.UTC)

const demoPlan = "../../testdata/plans/maren-and-theo.yaml"

// site is a server over a real store, and what it logs.
type site struct {
	*httptest.Server
	web    *web.Server
	store  *store.Store
	dir    string
	name   string // of the wedding
	log    *logged
	tokens map[string]string // by person
	mu     sync.Mutex
	clock  time.Time
	broken bool // the clock panics
}

// logged is a log that several goroutines write.
type logged struct {
	mu   sync.Mutex
	text bytes.Buffer
}

func (l *logged) Write(b []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(b)
}

func (l *logged) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

func readFile(t testing.TB, path string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.FromSlash(path))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// newSite serves the plan from a store of its own.
func newSite(t testing.TB, plan string) *site {
	t.Helper()
	s := &site{dir: t.TempDir(), log: &logged{}, clock: winter}
	s.name = s.take(t, s.open(t), plan)
	s.serve(t, "")
	s.readTokens(t)
	return s
}

// demoSite serves the demo plan. It is imported once; every site then has a
// copy of that store.
func demoSite(t testing.TB) *site {
	t.Helper()
	demo.once.Do(func() {
		first := &site{dir: t.TempDir(), clock: winter}
		demo.name = first.take(t, first.open(t), readFile(t, demoPlan))
		if err := first.store.Close(); err != nil { // nothing is left in the write-ahead log
			t.Fatal(err)
		}
		demo.db, demo.key = readFile(t, first.dir+"/banns.db"), readFile(t, first.dir+"/banns.key")
	})
	s := &site{dir: t.TempDir(), log: &logged{}, clock: winter, name: demo.name}
	for name, text := range map[string]string{"banns.db": demo.db, "banns.key": demo.key} {
		if err := os.WriteFile(filepath.Join(s.dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	s.open(t)
	s.serve(t, "")
	s.readTokens(t)
	return s
}

var demo struct {
	once          sync.Once
	name, db, key string
}

// open opens the site's store.
func (s *site) open(t testing.TB) *store.Store {
	t.Helper()
	var err error
	if s.store, err = store.Open(t.Context(), s.dir); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.store.Close() })
	return s.store
}

// serve puts a server before the store; public is its public address.
func (s *site) serve(t testing.TB, public string) {
	t.Helper()
	var err error
	s.web, err = web.New(t.Context(), web.Options{Store: s.store, Now: s.now, Public: public,
		Log: slog.New(slog.NewTextHandler(s.log, &slog.HandlerOptions{Level: slog.LevelDebug}))})
	if err != nil {
		t.Fatal(err)
	}
	s.Server = httptest.NewServer(s.web)
	t.Cleanup(s.Server.Close)
}

func (s *site) now() time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.broken {
		panic("the clock broke")
	}
	return s.clock
}

// panics breaks the server's clock.
func (s *site) panics(t testing.TB) {
	t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.broken = true
}

// goTo sets the server's clock.
func (s *site) goTo(when time.Time) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.clock = when
}

// take imports the plan over what in has of it, and returns the wedding's name.
func (s *site) take(t testing.TB, in *store.Store, plan string) string {
	t.Helper()
	doc, err := store.ReadPlan("plan.yaml", []byte(plan))
	if err != nil {
		t.Fatal(err)
	}
	done, err := in.Import(t.Context(), store.Import{Document: doc, Over: true}, s.now())
	if err != nil {
		t.Fatal(err)
	}
	return done.Name
}

func (s *site) readTokens(t testing.TB) {
	t.Helper()
	all, err := s.store.Addresses(t.Context(), s.name)
	if err != nil {
		t.Fatal(err)
	}
	s.tokens = map[string]string{}
	for _, a := range all {
		s.tokens[a.Person] = a.Token
	}
}

func (s *site) page(who string) string     { return s.URL + "/p/" + s.tokens[who] }
func (s *site) calendar(who string) string { return s.URL + "/c/" + s.tokens[who] + ".ics" }

// answer is what a server answered.
type answer struct {
	*http.Response
	body string
}

// plainly is a client that follows nothing and unpacks nothing.
var plainly = &http.Client{
	Transport:     &http.Transport{DisableCompression: true, MaxIdleConnsPerHost: 64},
	CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
}

// ask sends a request with headers, given as name, value, name, value.
func ask(t testing.TB, method, url, body string, headers ...string) answer {
	t.Helper()
	req, err := http.NewRequestWithContext(t.Context(), method, url, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(headers); i += 2 {
		req.Header.Add(headers[i], headers[i+1])
	}
	res, err := plainly.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	got, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer{res, string(got)}
}

func get(t testing.TB, url string, headers ...string) answer {
	t.Helper()
	return ask(t, http.MethodGet, url, "", headers...)
}

// formType is the header of a form.
var formType = []string{"Content-Type", "application/x-www-form-urlencoded"}

// wants fails where the answer has another status.
func (a answer) wants(t testing.TB, status int) answer {
	t.Helper()
	if a.StatusCode != status {
		t.Errorf("%s %s: status %d, want %d; %.300s", a.Request.Method, a.Request.URL.Path, a.StatusCode, status, a.body)
	}
	return a
}

// header fails where the answer's header is another.
func (a answer) header(t testing.TB, name, want string) answer {
	t.Helper()
	if got := a.Header.Get(name); got != want {
		t.Errorf("%s %s: %s is %q, want %q", a.Request.Method, a.Request.URL.Path, name, got, want)
	}
	return a
}
