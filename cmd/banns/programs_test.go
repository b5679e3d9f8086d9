package main

import (
	"bufio"
	"context"
	"io"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"banns/store"
)

// programs are the program, run as processes of their own on one store, on
// a day that stands in for the clock.
type programs struct {
	*testing.T
	path, data string
}

const fixedDay = "2026-11-25"

var fixedNow = time.Date(2026, time.November, 25, 12, 0, 0, 0, time.UTC)

func newPrograms(t *testing.T) programs {
	t.Helper()
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	return programs{t, path, filepath.Join(t.TempDir(), "store")}
}

// command is a verb on the store; it is killed when ctx ends.
func (p programs) command(ctx context.Context, args ...string) *exec.Cmd {
	return exec.CommandContext(ctx, p.path, append([]string{"--data", p.data, "--today", fixedDay}, args...)...)
}

// imports saves a plan over what is there, and returns what was said.
func (p programs) imports(ctx context.Context, plan string) (string, error) {
	c := p.command(ctx, "import", "--over", "-")
	c.Stdin = strings.NewReader(plan)
	said, err := c.CombinedOutput()
	return string(said), err
}

var servingAt = regexp.MustCompile(`serving .* on (\S+);`)

// serve starts a server, which is killed when ctx ends; at is where it
// listens.
func (p programs) serve(ctx context.Context) (server *exec.Cmd, at string) {
	p.Helper()
	server = p.command(ctx, "serve", "--listen", "127.0.0.1:0", "--public", "https://dates.example.org")
	errs, err := server.StderrPipe()
	if err != nil {
		p.Fatal(err)
	}
	if err := server.Start(); err != nil {
		p.Fatal(err)
	}
	said := bufio.NewScanner(errs)
	for said.Scan() {
		if m := servingAt.FindStringSubmatch(said.Text()); m != nil {
			go io.Copy(io.Discard, errs)
			return server, "http://" + m[1]
		}
	}
	p.Fatal("the server did not start")
	return nil, ""
}

// open is a handle on the store beside those of the programs.
func (p programs) open() *store.Store {
	p.Helper()
	s, err := store.Open(p.Context(), p.data)
	if err != nil {
		p.Fatal(err)
	}
	return s
}

// published are all calendars by token.
func (p programs) published(s *store.Store) map[string]string {
	p.Helper()
	all, err := s.Openings(p.Context())
	if err != nil {
		p.Fatal(err)
	}
	found := map[string]string{}
	for token, o := range all {
		c, err := s.Calendar(p.Context(), o.Feed)
		if err != nil || c.Revision != o.Revision {
			p.Fatalf("revision %d of a feed at %d: %v", c.Revision, o.Revision, err)
		}
		found[token] = string(c.Body)
	}
	return found
}

// token is that of somebody's address.
func (p programs) token(s *store.Store, wedding, who string) string {
	p.Helper()
	all, err := s.Addresses(p.Context(), wedding)
	if err != nil {
		p.Fatal(err)
	}
	for _, a := range all {
		if a.Person == who {
			return a.Token
		}
	}
	p.Fatalf("%s has no address", who)
	return ""
}
