package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"database/sql"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
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
)

// roomPlan is a wedding whose edits are on everybody's feed.
const roomPlan = `banns: 1
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

// inRoom is the small plan after the n-th edit.
func inRoom(n int) string { return strings.Replace(roomPlan, "Room 0", fmt.Sprintf("Room %d", n), 1) }

// TestKilled kills the server and an import in the middle of a stream of
// edits, again and again. What was acknowledged is there, nothing is half
// published, and the next start serves every feed.
func TestKilled(t *testing.T) {
	t.Parallel()
	kills := 200
	if testing.Short() {
		kills = 20
	}
	seed := uint64(time.Now().UnixNano())
	random := rand.New(rand.NewPCG(seed, 0))
	k := killing{programs: newPrograms(t), saved: map[int]int{}, may: []feed.Reminders{feed.ByAlarm}}
	begun := time.Now()
	k.edit(t.Context())
	window := time.Since(begun) * 3 / 2
	for range kills {
		ctx, kill := context.WithCancel(t.Context())
		server, at := k.serve(ctx)
		k.served(at)
		var edits sync.WaitGroup
		for _, edit := range []func(){func() { k.edit(ctx) }, func() { k.choose(ctx, at) }} {
			edits.Go(func() {
				for ctx.Err() == nil {
					edit()
				}
			})
		}
		time.Sleep(time.Duration(random.Int64N(int64(window))))
		kill()
		edits.Wait()
		server.Wait() // it was killed
		k.whole()
	}
	t.Logf("seed %d: %d kills; %d of %d edits and %d of %d choices were acknowledged", seed, kills, len(k.saved), k.edits, k.chosen, k.choices)
	if len(k.saved) == 1 || len(k.saved) == k.edits {
		t.Error("all kills were between edits, or none was")
	}
}

// killing is what programs that are killed had acknowledged by then.
type killing struct {
	programs
	edits   int              // tried
	saved   map[int]int      // the edit by the version that was acknowledged
	choices int              // tried
	chosen  int              // acknowledged
	may     []feed.Reminders // what rue may have: as acknowledged last, or asked for since
	token   string           // rue's
	seen    int              // the last version that was looked at
}

var savedVersion = regexp.MustCompile(`version (\d+):`)

// edit imports the plan with another room.
func (k *killing) edit(ctx context.Context) {
	k.edits++
	said, err := k.imports(ctx, inRoom(k.edits))
	switch version := savedVersion.FindStringSubmatch(said); {
	case err == nil && version != nil:
		n, _ := strconv.Atoi(version[1])
		k.saved[n] = k.edits
	case ctx.Err() == nil:
		k.Errorf("an import ended with %v: %s", err, said)
	}
}

// choose has rue choose by what to be reminded, as on their page.
func (k *killing) choose(ctx context.Context, at string) {
	k.choices++
	choice := feed.AllReminders[k.choices%len(feed.AllReminders)]
	k.may = append(k.may, choice)
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, at+"/p/"+k.token+"/reminders", strings.NewReader("reminders="+string(choice)))
	if err != nil {
		k.Error(err)
		return
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	resp, err := http.DefaultTransport.RoundTrip(req)
	if err != nil {
		if ctx.Err() == nil {
			k.Error(err)
		}
		return
	}
	resp.Body.Close()
	if resp.StatusCode != http.StatusSeeOther {
		k.Errorf("a choice was answered with %s", resp.Status)
		return
	}
	k.chosen++
	k.may = []feed.Reminders{choice}
}

// served demands every feed of the server as the store has it.
func (k *killing) served(at string) {
	k.Helper()
	s := k.open()
	defer s.Close()
	k.token = k.programs.token(s, "ann-and-bo", "rue")
	for token, body := range k.published(s) {
		if resp, got := get(k.T, at+"/c/"+token+".ics", ""); resp.StatusCode != http.StatusOK || string(got) != body {
			k.Fatalf("a feed is answered with %s:\n%s\nwant:\n%s", resp.Status, got, body)
		}
	}
}

// whole demands a sound database with everything that was acknowledged, and
// that publishing its plan anew changes nothing.
func (k *killing) whole() {
	k.Helper()
	k.versions()
	s := k.open()
	defer s.Close()
	page, err := s.Page(k.Context(), k.token)
	if err != nil || !slices.Contains(k.may, page.Reminders) {
		k.Fatalf("rue is reminded by %q, %v; want one of %q", page.Reminders, err, k.may)
	}
	k.may = []feed.Reminders{page.Reminders}
	was := k.published(s)
	if err := s.PublishAll(k.Context(), fixedNow); err != nil {
		k.Fatal(err)
	}
	if diff := cmp.Diff(was, k.published(s)); diff != "" {
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
			k.Fatalf("version %d stands where %d should", n, k.seen)
		}
		plan, err := gunzip(packed)
		if edit, ok := k.saved[n]; err != nil || ok && !bytes.Contains(plan, fmt.Appendf(nil, "Room %d}", edit)) {
			k.Fatalf("version %d was acknowledged for edit %d, and is %v\n%s", n, edit, err, plan)
		}
	}
	for n := range k.saved {
		if n > k.seen {
			k.Fatalf("version %d was acknowledged, and the last is %d: %v", n, k.seen, rows.Err())
		}
	}
}

func gunzip(packed []byte) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
}

// TestKilledAtFirst kills the first import of all, which makes the store. The
// next one makes what is missing, and one wedding of it.
func TestKilledAtFirst(t *testing.T) {
	t.Parallel()
	kills := 60
	if testing.Short() {
		kills = 6
	}
	random := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 0))
	for range kills {
		p := newPrograms(t)
		ctx, kill := context.WithTimeout(t.Context(), time.Duration(random.Int64N(int64(100*time.Millisecond))))
		p.imports(ctx, roomPlan) // however it ends
		kill()
		if said, err := p.imports(t.Context(), roomPlan); err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		s := p.open()
		if all := p.published(s); len(all) != 5 {
			t.Errorf("%d feeds", len(all))
		}
		s.Close()
	}
}
