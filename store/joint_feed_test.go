package store_test

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"banns/feed"
	"banns/store"
	"banns/testdata"
)

// TestJointReminders are chosen for the joint feed alone.
func TestJointReminders(t *testing.T) {
	s := opened(t)
	docs := []*store.Document{imported(t, s, shore, start), imported(t, s, valley, start)}
	j := together(t, s, start, pairs("noor", "ann-and-bo", "cleo-and-dee")...)
	if err := s.SetReminders(t.Context(), tokens(t, s, docs[0])["noor"], feed.ByNone, start); err != nil {
		t.Fatal(err)
	}
	own := []map[string]store.Calendar{calendars(t, s, docs[0]), calendars(t, s, docs[1])}
	for _, row := range []struct {
		choice                     feed.Reminders
		notices, withdrawn, alarms int
	}{
		{feed.ByAlarm, 0, 0, 8}, {feed.ByNotice, 6, 0, 0}, {feed.ByBoth, 6, 0, 8}, {feed.ByNone, 0, 6, 0}, {feed.ByNotice, 6, 0, 0},
	} {
		before := jointCalendar(t, s, j)
		if err := s.SetReminders(t.Context(), j.Token, row.choice, start.AddDate(0, 0, 1)); err != nil {
			t.Fatal(err)
		}
		c := jointCalendar(t, s, j)
		notices := 0
		for _, said := range says(c, "By ") {
			if strings.HasPrefix(said, "By ") && (strings.HasSuffix(said, " (Ann and Bo)") || strings.HasSuffix(said, " (Cleo and Dee)")) {
				notices++
			}
		}
		withdrawn, alarms := len(says(c, "Withdrawn: By ")), strings.Count(text(c), "BEGIN:VALARM")
		if notices != row.notices || withdrawn != row.withdrawn || alarms != row.alarms {
			t.Errorf("%s: %d notices, %d withdrawn, %d alarms; want %+v", row.choice, notices, withdrawn, alarms, row)
		}
		if rose := c.Revision - before.Revision; rose != 1 && !bytes.Equal(c.Body, before.Body) {
			t.Errorf("%s: the revision rose by %d", row.choice, rose)
		}
		if p, err := s.Page(t.Context(), j.Token); err != nil || p.Reminders != row.choice || p.Joint != "Noor’s year" {
			t.Errorf("the page has %q of %q, %v", p.Reminders, p.Joint, err)
		}
	}
	for n, doc := range docs {
		if changed := changedFor(t, own[n], calendars(t, s, doc)); len(changed) > 0 {
			t.Errorf("the own feeds of %v changed", changed)
		}
	}
}

// TestJointAddress: it is closed and given anew like any other, and its
// entries lead to its own page.
func TestJointAddress(t *testing.T) {
	s := opened(t)
	doc := imported(t, s, shore, start)
	imported(t, s, valley, start)
	if err := s.SetPublic(t.Context(), "https://dates.example.org", start); err != nil {
		t.Fatal(err)
	}
	j := together(t, s, start, pairs("noor", "ann-and-bo", "cleo-and-dee")...)
	links := func(j store.Joint) {
		t.Helper()
		if n := strings.Count(text(jointCalendar(t, s, j)), "\r\nURL:https://dates.example.org/p/"+j.Token+"\r\n"); n != 10 {
			t.Errorf("%d entries lead to its page", n)
		}
	}
	links(j)
	if err := s.RevokeJoint(t.Context(), "Noor’s year", true, start.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	again, err := s.Joint(t.Context(), j.Name)
	if err != nil || again.Token == j.Token || again.Token == "" {
		t.Fatalf("the new address is %q, %v", again.Token, err)
	}
	links(again)
	if err := s.RevokeJoint(t.Context(), j.Name, false, start.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	openings, err := s.Openings(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, token := range []string{j.Token, again.Token} {
		if !openings[token].Revoked {
			t.Errorf("%q opens %+v", token, openings[token])
		}
	}
	if o := openings[tokens(t, s, doc)["noor"]]; o.Revoked || o.Revision == 0 {
		t.Errorf("noor's own address opens %+v", o)
	}
	if err := s.Revoke(t.Context(), "ann-and-bo", "noor", false, start); err != nil {
		t.Fatal(err)
	}
	if closed := tokens(t, s, doc)["noor"]; closed != "" {
		t.Errorf("her own is closed, and %q is given for it", closed)
	}
}

func TestTogetherRefuses(t *testing.T) {
	s := opened(t)
	imported(t, s, shore, start)
	together(t, s, start, pairs("noor", "ann-and-bo")...)
	before := state(t, s)
	for _, row := range []struct {
		name string
		do   func() error
		want error
	}{
		{"an unknown wedding", func() error {
			_, err := s.Together(t.Context(), "New", "", pairs("noor", "ann-and-bo", "nobody"), start)
			return err
		}, store.ErrUnknown},
		{"an unknown person", func() error {
			_, err := s.Together(t.Context(), "New", "", pairs("zoe", "ann-and-bo"), start)
			return err
		}, store.ErrUnknown},
		{"two of one wedding", func() error {
			_, err := s.Together(t.Context(), "Noor’s year", "", pairs("ann", "ann-and-bo"), start)
			return err
		}, store.ErrTaken},
		{"apart from what is not in it", func() error {
			_, err := s.Apart(t.Context(), "Noor’s year", []string{"ann-and-bo", "nobody"}, start)
			return err
		}, store.ErrUnknown},
		{"a name that is none for commands", func() error {
			_, err := s.Together(t.Context(), "婚礼", "", pairs("noor", "ann-and-bo"), start)
			return err
		}, store.ErrName},
		{"an unknown feed", func() error { return s.RevokeJoint(t.Context(), "none", true, start) }, store.ErrUnknown},
	} {
		if err := row.do(); !errors.Is(err, row.want) {
			t.Errorf("%s: %v", row.name, err)
		}
		if diff := cmp.Diff(before, state(t, s)); diff != "" {
			t.Errorf("%s: the store changed (-was +is):\n%s", row.name, diff)
		}
	}
}

// TestADozenWeddings of the demo's size, which has 22 people and more than a
// hundred dates for its planner, stay in what clients take.
func TestADozenWeddings(t *testing.T) {
	t.Parallel()
	s := opened(t)
	if err := s.SetPublic(t.Context(), "https://dates.example.org", start); err != nil {
		t.Fatal(err)
	}
	var who []store.Pair
	for n := range 12 {
		doc := imported(t, s, strings.Replace(string(testdata.Demo), "title: Maren and Theo", fmt.Sprintf("title: Maren and Theo the %d", n+1), 1), start)
		who = append(who, store.Pair{Wedding: doc.Plan.ID, Person: "odile"})
	}
	few := together(t, s, start, who[:6]...)
	if few.Brief || few.Bytes > feed.MostBytes {
		t.Errorf("six come to %d bytes, brief: %v", few.Bytes, few.Brief)
	}
	j := together(t, s, start.Add(time.Hour), who[6:]...)
	c := jointCalendar(t, s, j)
	if !j.Brief || j.Bytes > feed.MostBytes || j.Bytes < feed.MostBytes/2 {
		t.Errorf("a dozen come to %d bytes, brief: %v", j.Bytes, j.Brief)
	}
	page, err := s.Page(t.Context(), j.Token)
	if err != nil {
		t.Fatal(err)
	}
	dated := events(c)
	for _, p := range page.Entries {
		if e := dated[p.UID]; e == "" && p.Day().String() >= "2026-11-25" {
			t.Errorf("%s of %s is left out", p.Summary(), p.Day())
		}
	}
	imported(t, s, strings.NewReplacer("title: Maren and Theo", "title: Maren and Theo the 12", "on: 2027-07-10", "on: 2027-07-12").Replace(string(testdata.Demo)), start.AddDate(0, 0, 1))
	changed := 0
	for uid, e := range events(jointCalendar(t, s, j)) {
		if e != dated[uid] {
			changed++
		}
	}
	if changed != 1 {
		t.Errorf("an edit of one fitting changes %d entries", changed)
	}
	t.Logf("six: %d bytes; a dozen: %d bytes, %d of %d entries", few.Bytes, j.Bytes, len(dated), len(page.Entries))
	if _, err := s.Apart(t.Context(), j.Name, []string{who[0].Wedding, who[1].Wedding, who[2].Wedding, who[3].Wedding, who[4].Wedding, who[5].Wedding}, start.AddDate(0, 0, 1)); err != nil {
		t.Fatal(err)
	}
	if half, err := s.Joint(t.Context(), j.Name); err != nil || half.Brief || !strings.Contains(text(jointCalendar(t, s, j)), "The agreement\\, in short") {
		t.Errorf("six of them come to %d bytes, brief: %v, %v", half.Bytes, half.Brief, err)
	}
}

// TestAnotherRelease writes calendars otherwise: each feed is at its next
// revision, once, whatever it carries.
func TestAnotherRelease(t *testing.T) {
	s := opened(t)
	imported(t, s, shore, start)
	imported(t, s, valley, start)
	j := together(t, s, start, pairs("noor", "ann-and-bo", "cleo-and-dee")...)
	if _, err := s.DB().ExecContext(t.Context(), "update feed set body = ?", store.Pack([]byte("as another release had it"))); err != nil {
		t.Fatal(err)
	}
	if err := s.PublishAll(t.Context(), start.AddDate(0, 0, 1)); err != nil {
		t.Fatal(err)
	}
	if c := jointCalendar(t, s, j); c.Revision != 2 || len(events(c)) != 10 {
		t.Errorf("the joint feed is at revision %d with %d entries", c.Revision, len(events(c)))
	}
	if low, high := one[int](t, s.DB(), "select min(revision) from feed"), one[int](t, s.DB(), "select max(revision) from feed"); low != 2 || high != 2 {
		t.Errorf("revisions are %d to %d", low, high)
	}
}
