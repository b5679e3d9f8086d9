package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"database/sql"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/feed"
	"banns/store"
)

// smallPlan is a wedding whose every edit is on somebody's feed: its last
// line holds the number of the edit.
const smallPlan = `banns: 1
wedding: {title: Ann and Bo, date: 2027-09-18, start: "16:30", zone: America/Detroit, currency: USD}
people:
  ann: {name: Ann, part: couple}
  bo: {name: Bo, part: couple}
  odile: {name: Odile, part: planner}
  vic: {name: Vic, part: vendor}
  rue: {name: Rue, part: attendant}
agreements:
  hall:
    with: The Hall
    standing: signed
    signed: 2026-10-02
    price: "7200.00"
    contact: vic
    pay: [25% on signing, 25% 6 months before the wedding, balance 90 days before the wedding]
    change: ["head count 10 business days before the wedding by 17:00"]
appointments:
  fitting: {what: First fitting, on: 2027-07-10, at: "11:00", for: [rue]}
occasions:
  rehearsal: {what: Rehearsal, when: 1 day before the wedding, at: "17:30", for: [couple, attendant, vic], place: Room 0}
`

// fixedDay stands in for the clock in every program of the test.
const fixedDay = "2026-11-25"

var fixedNow = time.Date(2026, time.November, 25, 12, 0, 0, 0, time.UTC)

// TestKilled kills the server and an import in the middle of a stream of
// edits, again and again. What was acknowledged is there, nothing is half
// published, and the next start serves every feed.
func TestKilled(t *testing.T) {
	t.Parallel()
	kills := 200
	if testing.Short() {
		kills = 20
	}
	k := newKilling(t)
	k.edit(t.Context())
	k.token = k.find("rue")
	for range kills {
		ctx, kill := context.WithCancel(t.Context())
		at := k.serve(ctx)
		k.served(at)
		var edits sync.WaitGroup
		for _, edit := range []func(){func() { k.edit(ctx) }, func() { k.choose(ctx, at) }} {
			edits.Go(func() {
				for ctx.Err() == nil {
					edit()
				}
			})
		}
		time.Sleep(time.Duration(k.random.Int64N(int64(150 * time.Millisecond))))
		kill()
		edits.Wait()
		k.server.Wait() // it was killed
		k.whole()
	}
	t.Logf("%d kills; %d of %d edits and %d of %d choices were acknowledged", kills, len(k.saved), k.edits, k.chosen, k.choices)
	if len(k.saved) < kills/10 || len(k.saved) == k.edits {
		t.Error("the kills were all between edits, or none was")
	}
}

// killing is a store whose programs are killed, and what they had
// acknowledged by then.
type killing struct {
	*testing.T
	path, data string
	random     *rand.Rand
	server     *exec.Cmd
	token      string           // of rue
	seen       int              // the last version that was looked at
	edits      int              // tried
	saved      map[int]int      // the edit by the version that was acknowledged
	choices    int              // tried
	chosen     int              // acknowledged
	may        []feed.Reminders // what rue may have: as acknowledged last, or as asked for since
}

func newKilling(t *testing.T) *killing {
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	return &killing{T: t, path: path, data: filepath.Join(t.TempDir(), "store"), random: rand.New(rand.NewPCG(seed, 0)),
		saved: map[int]int{}, may: []feed.Reminders{feed.ByAlarm}}
}

// command is a verb on the store; it is killed when ctx ends.
func (k *killing) command(ctx context.Context, args ...string) *exec.Cmd {
	return exec.CommandContext(ctx, k.path, append([]string{"--data", k.data, "--today", fixedDay}, args...)...)
}

var (
	savedVersion = regexp.MustCompile(`version (\d+):`)
	servingAt    = regexp.MustCompile(`serving .* on (\S+);`)
)

// edit imports the plan with another room.
func (k *killing) edit(ctx context.Context) {
	k.edits++
	c := k.command(ctx, "import", "--over", "-")
	c.Stdin = strings.NewReader(strings.Replace(smallPlan, "Room 0", fmt.Sprintf("Room %d", k.edits), 1))
	out, err := c.Output()
	switch said := savedVersion.FindSubmatch(out); {
	case err == nil && said != nil:
		n, _ := strconv.Atoi(string(said[1]))
		k.saved[n] = k.edits
	case ctx.Err() == nil:
		k.Errorf("an import ended with %v: %s", err, out)
	}
}

// find is somebody's token.
func (k *killing) find(who string) string {
	k.Helper()
	out, err := k.command(k.Context(), "feeds", "list", "ann-and-bo", "--for", who).CombinedOutput()
	if err != nil {
		k.Fatalf("%v: %s", err, out)
	}
	return regexp.MustCompile(`/p/(\w+)`).FindStringSubmatch(string(out))[1]
}

// serve starts the server, and is where it listens.
func (k *killing) serve(ctx context.Context) (at string) {
	k.Helper()
	k.server = k.command(ctx, "serve", "--listen", "127.0.0.1:0", "--public", "https://dates.example.org")
	errs, err := k.server.StderrPipe()
	if err != nil {
		k.Fatal(err)
	}
	if err := k.server.Start(); err != nil {
		k.Fatal(err)
	}
	said := bufio.NewScanner(errs)
	for said.Scan() {
		if m := servingAt.FindStringSubmatch(said.Text()); m != nil {
			go io.Copy(io.Discard, errs)
			return "http://" + m[1]
		}
	}
	k.Fatal("the server did not start")
	return ""
}

// served demands every feed of the server as the store has it.
func (k *killing) served(at string) {
	k.Helper()
	for token, body := range k.feeds() {
		resp, got := get(k.T, at+"/c/"+token+".ics", "")
		if resp.StatusCode != http.StatusOK || string(got) != body {
			k.Fatalf("a feed is answered with %s:\n%s\nwant:\n%s", resp.Status, got, body)
		}
	}
}

// feeds are the published calendars by token.
func (k *killing) feeds() map[string]string {
	k.Helper()
	s, err := store.Open(k.Context(), k.data)
	if err != nil {
		k.Fatal(err)
	}
	defer s.Close()
	return bodies(k.T, s)
}

func bodies(t *testing.T, s *store.Store) map[string]string {
	t.Helper()
	all, err := s.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]string{}
	for token, o := range all {
		c, err := s.Calendar(t.Context(), o.Feed)
		if err != nil || c.Revision != o.Revision {
			t.Fatalf("revision %d of a feed at %d: %v", c.Revision, o.Revision, err)
		}
		found[token] = string(c.Body)
	}
	return found
}

// choose has rue choose by what to be reminded, as on their page.
func (k *killing) choose(ctx context.Context, at string) {
	all := feed.AllReminders
	k.choices++
	choice := all[k.choices%len(all)]
	k.may = append(k.may, choice)
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, at+"/p/"+k.token+"/reminders",
		strings.NewReader("reminders="+string(choice)))
	if err != nil {
		k.Error(err)
		return
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	resp, err := http.DefaultTransport.RoundTrip(req)
	switch {
	case err == nil && resp.StatusCode == http.StatusSeeOther:
		k.chosen++
		k.may = []feed.Reminders{choice}
	case err == nil:
		k.Errorf("a choice was answered with %s", resp.Status)
	case ctx.Err() == nil:
		k.Error(err)
	}
	if err == nil {
		resp.Body.Close()
	}
}

// whole demands a sound database with everything that was acknowledged, and
// that publishing its plan anew changes nothing.
func (k *killing) whole() {
	k.Helper()
	s, err := store.Open(k.Context(), k.data)
	if err != nil {
		k.Fatal(err)
	}
	defer s.Close()
	k.versions()
	page, err := s.Page(k.Context(), k.token)
	if err != nil || !slices.Contains(k.may, page.Reminders) {
		k.Fatalf("rue is reminded by %q, %v; want one of %q", page.Reminders, err, k.may)
	}
	k.may = []feed.Reminders{page.Reminders}
	was := bodies(k.T, s)
	if err := s.PublishAll(k.Context(), fixedNow); err != nil {
		k.Fatal(err)
	}
	if diff := cmp.Diff(was, bodies(k.T, s)); diff != "" {
		k.Fatalf("published anew (-was +is):\n%s", diff)
	}
	doc, err := s.Load(k.Context(), "ann-and-bo")
	if err != nil {
		k.Fatal(err)
	}
	if newest := doc.Plan.Occasions[0].Place.Name; !strings.Contains(was[k.token], newest) {
		k.Fatalf("the plan has %s, and the feed of rue is\n%s", newest, was[k.token])
	}
}

// versions looks at the tables themselves.
func (k *killing) versions() {
	k.Helper()
	db, err := sql.Open("sqlite", filepath.Join(k.data, "banns.db"))
	if err != nil {
		k.Fatal(err)
	}
	defer db.Close()
	var sound string
	if err := db.QueryRowContext(k.Context(), "pragma integrity_check").Scan(&sound); err != nil || sound != "ok" {
		k.Fatalf("the database: %s, %v", sound, err)
	}
	rows, err := db.QueryContext(k.Context(), "select n, document from version where n > ? order by n", k.seen)
	if err != nil {
		k.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var n int
		var packed []byte
		if err := rows.Scan(&n, &packed); err != nil {
			k.Fatal(err)
		}
		if k.seen++; n != k.seen {
			k.Fatalf("version %d follows %d", n, k.seen-1)
		}
		if edit, ok := k.saved[n]; ok && !strings.Contains(unzipped(k.T, packed), fmt.Sprintf("Room %d}", edit)) {
			k.Fatalf("version %d was acknowledged for edit %d, and holds another", n, edit)
		}
	}
	for n := range k.saved {
		if n > k.seen {
			k.Fatalf("version %d was acknowledged, and the last is %d", n, k.seen)
		}
	}
}

func unzipped(t *testing.T, packed []byte) string {
	t.Helper()
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
