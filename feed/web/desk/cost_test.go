package desk_test

import (
	"bytes"
	"fmt"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"

	"golang.org/x/net/html"
	"modernc.org/sqlite"
)

// selects counts the reads of every database of this test program: SQLite
// asks its authorizer once for each SELECT that it compiles.
var selects atomic.Int64

func init() {
	sqlite.RegisterConnectionHook(func(conn sqlite.ExecQuerierContext, _ string) error {
		asks, ok := conn.(sqlite.AuthorizerRegisterer)
		if !ok {
			return fmt.Errorf("the driver has no authorizer")
		}
		return asks.RegisterAuthorizer(func(action sqlite.AuthorizerActionCode, _, _, _, _ string) sqlite.AuthorizerReturnCode {
			if action == sqlite.AuthSelect {
				selects.Add(1)
			}
			return sqlite.AuthorizerOK
		})
	})
}

const (
	readsMost = 12     // of the database, for one page
	bytesMost = 60_000 // of a page with all that it loads, as it travels
)

// A page asks the database for a handful, however large the plan, and comes
// over a slow line.
func TestPagesAreCheap(t *testing.T) {
	s := walkedSite(t)
	for _, r := range s.routes(t) {
		if r.method != http.MethodGet {
			continue
		}
		for _, path := range s.seen(t, r) {
			for name, b := range map[string]*browser{"the planner": s.planner, "Theo": s.theo} {
				b.ask(r.method, path, nil) // the plan is read and dated once
				before := selects.Load()
				a := b.ask(r.method, path, nil)
				if n := selects.Load() - before; n > readsMost || n == 0 && a.status == http.StatusOK && !r.public() {
					t.Errorf("GET %s reads the database %d times for %s, and %d is the most", path, n, name, readsMost)
				}
			}
			if n := s.planner.weighs(path); n > bytesMost {
				t.Errorf("GET %s comes to %d bytes at first, and %d is the most", path, n, bytesMost)
			}
		}
	}
}

// weighs is how many bytes travel for a page with all that it loads.
func (b *browser) weighs(path string) int {
	b.t.Helper()
	page := b.ask(http.MethodGet, path, nil, "Accept-Encoding", "gzip")
	total := len(page.raw)
	root, err := html.Parse(bytes.NewReader(b.ask(http.MethodGet, path, nil).raw))
	if err != nil {
		b.t.Fatal(err)
	}
	for n := range root.Descendants() {
		if _, file, ok := strings.Cut(attr(n, "href")+attr(n, "src"), "static/"); ok {
			total += len(b.ask(http.MethodGet, "/static/"+file, nil).raw)
		}
	}
	return total
}
