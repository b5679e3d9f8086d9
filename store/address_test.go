package store_test

import (
	"bytes"
	"context"
	"encoding/base32"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"banns/feed"
	"banns/store"
	"banns/testdata"
)

// TestTokenForm: small letters and digits that survive being read out, always
// as many.
func TestTokenForm(t *testing.T) {
	s := opened(t)
	form, seen := regexp.MustCompile(`^[a-z2-7]+$`), map[string]bool{}
	for key, token := range tokens(t, s, imported(t, s, string(testdata.Demo), start)) {
		if !form.MatchString(token) || len(token) != store.TokenSize || seen[token] {
			t.Errorf("%s's is %q", key, token)
		}
		seen[token] = true
	}
	if len(seen) == 0 {
		t.Error("there are none")
	}
}

// TestDatabaseAloneOpensNothing: with another key beside it, the database of
// a store gives none of its addresses. What it holds of one is an id; the
// other 128 bits come from the key.
func TestDatabaseAloneOpensNothing(t *testing.T) {
	dir := t.TempDir()
	s := openedIn(t, dir)
	doc := imported(t, s, head, start)
	genuine := tokens(t, s, doc)["maren"]
	s.Close()
	if err := os.WriteFile(filepath.Join(dir, "banns.key"), []byte(strings.Repeat("k", 32)), 0o600); err != nil {
		t.Fatal(err)
	}
	thief := openedIn(t, dir)
	forged := tokens(t, thief, doc)["maren"]
	id := one[[]byte](t, thief.DB(), "select a.id from address a join carries c on c.feed = a.feed where c.person = 'maren'")
	for _, token := range []string{genuine, forged} {
		if raw := decoded(t, token); !bytes.HasPrefix(raw, id) || (len(raw)-len(id))*8 < 128 {
			t.Errorf("%q has %d bytes, %d of which the database knows", token, len(raw), len(id))
		}
	}
	if bytes.HasSuffix(decoded(t, forged), decoded(t, genuine)[len(id):]) {
		t.Error("both keys give one address")
	}
	if thief.Genuine(genuine) || !thief.Genuine(forged) {
		t.Error("the other key opens the genuine address, or not its own")
	}
	if _, err := thief.Page(t.Context(), genuine); !errors.Is(err, store.ErrUnknown) {
		t.Errorf("the genuine address under the other key: %v", err)
	}
}

func decoded(t *testing.T, token string) []byte {
	t.Helper()
	raw, err := base32.StdEncoding.WithPadding(base32.NoPadding).DecodeString(strings.ToUpper(token))
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// TestForgedTokens differ from a genuine one in one letter, in length or in
// case.
func TestForgedTokens(t *testing.T) {
	s := opened(t)
	token := tokens(t, s, imported(t, s, head, start))["maren"]
	if !s.Genuine(token) {
		t.Fatalf("%q does not open", token)
	}
	forged := []string{"", token[1:], token + "a", token + token, strings.ToUpper(token), token[:39] + "=", token[:39] + "\n", token + "\n", " " + token[1:]}
	for i := range token {
		letter := "a"
		if token[i] == 'a' {
			letter = "b"
		}
		forged = append(forged, token[:i]+letter+token[i+1:])
	}
	for _, f := range forged {
		if s.Genuine(f) {
			t.Errorf("%q opens as well as %q", f, token)
		}
	}
}

func TestRevoke(t *testing.T) {
	s := opened(t)
	doc := imported(t, s, head, start)
	first := tokens(t, s, doc)
	opening := func(token string) store.Opening {
		all, err := s.Openings(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return all[token]
	}
	revoke := func(again bool) string {
		if err := s.Revoke(t.Context(), "maren-and-theo", "maren", again, start.Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
		return tokens(t, s, doc)["maren"]
	}
	second := revoke(true)
	if second == first["maren"] || second == "" || opening(second).Revoked || !opening(first["maren"]).Revoked {
		t.Errorf("after a new one is issued: %q was %+v, %q is %+v", first["maren"], opening(first["maren"]), second, opening(second))
	}
	if opening(second).Feed != opening(first["maren"]).Feed {
		t.Error("the new address is of another feed")
	}
	if left := revoke(false); left != "" || !opening(second).Revoked {
		t.Errorf("after it was closed there is %q, and %q is %+v", left, second, opening(second))
	}
	if third := revoke(true); third == "" || third == second || opening(third).Revoked {
		t.Errorf("after that a new one is %q, %+v", third, opening(third))
	}
	for _, closed := range []string{first["maren"], second} {
		if _, err := s.Page(t.Context(), closed); !errors.Is(err, store.ErrUnknown) {
			t.Errorf("a closed page: %v", err)
		}
		if err := s.SetReminders(t.Context(), closed, feed.ByNone, start); !errors.Is(err, store.ErrUnknown) {
			t.Errorf("reminders at a closed address: %v", err)
		}
	}
	if opening(first["june"]).Revoked || tokens(t, s, doc)["june"] != first["june"] {
		t.Error("somebody else's address changed")
	}
}

// TestRevokeOfSomebodyGone: whoever is no longer in the plan still has a
// link, and it can be closed.
func TestRevokeOfSomebodyGone(t *testing.T) {
	s := opened(t)
	token := tokens(t, s, imported(t, s, head, start))["june"]
	imported(t, s, strings.Replace(head, ", june: {name: June, part: vendor}", "", 1), start)
	if err := s.Revoke(t.Context(), "maren-and-theo", "june", false, start); err != nil {
		t.Fatal(err)
	}
	if all, err := s.Openings(t.Context()); err != nil || !all[token].Revoked {
		t.Errorf("june's address: %+v, %v", all[token], err)
	}
}

// TestReminders change the feed of whoever chose, and nobody else's.
func TestReminders(t *testing.T) {
	t.Parallel()
	s := opened(t)
	doc := imported(t, s, string(testdata.Demo), start)
	token := tokens(t, s, doc)["bea"]
	for _, row := range []struct {
		choice          feed.Reminders
		alarms, notices bool
	}{{feed.ByNotice, false, true}, {feed.ByBoth, true, true}, {feed.ByNone, false, false}, {feed.ByAlarm, true, false}} {
		was := calendars(t, s, doc)
		if err := s.SetReminders(t.Context(), token, row.choice, start.AddDate(0, 0, 1)); err != nil {
			t.Fatal(err)
		}
		is := calendars(t, s, doc)
		if changed := changedFor(t, was, is); len(changed) != 1 || !changed["bea"] {
			t.Errorf("%s changes the feeds of %v", row.choice, changed)
		}
		body := unfold(string(is["bea"].Body))
		notice := event(body, ": Pay Hollow Oak Table")
		if strings.Contains(body, "BEGIN:VALARM") != row.alarms || (line(notice, "STATUS") == "CONFIRMED") != row.notices {
			t.Errorf("%s gives alarms: %v, and the notice\n%s", row.choice, !row.alarms, notice)
		}
		if p, err := s.Page(t.Context(), token); err != nil || p.Reminders != row.choice || p.Name != "Bea Lindqvist" {
			t.Errorf("her page has %q for %q, %v", p.Reminders, p.Name, err)
		}
	}
	if err := s.SetReminders(t.Context(), token, "pigeon", start); err == nil {
		t.Error("a pigeon is taken for a reminder")
	}
}

// TestPublicAddress: with it, every entry links to its reader's own page, and
// to the new one once the address is another.
func TestPublicAddress(t *testing.T) {
	t.Parallel()
	s := opened(t)
	doc := imported(t, s, string(testdata.Demo), start)
	if body := published(t, s, doc, "june"); strings.Contains(body, "/p/") {
		t.Errorf("there are links before there is a public address:\n%s", body)
	}
	if err := s.SetPublic(t.Context(), "https://dates.example.org", start); err != nil {
		t.Fatal(err)
	}
	links := func() {
		t.Helper()
		all := calendars(t, s, doc)
		for key, token := range tokens(t, s, doc) {
			body, link := unfold(string(all[key].Body)), "https://dates.example.org/p/"+token
			events := strings.Count(body, "BEGIN:VEVENT")
			if events == 0 || strings.Count(body, "\r\nURL:"+link+"\r\n") != events || strings.Count(body, "/p/") != 2*events {
				t.Errorf("%s's calendar has %d entries, and not as many links to %s", key, events, link)
			}
		}
	}
	links()
	if err := s.Revoke(t.Context(), "maren-and-theo", "june", true, start); err != nil {
		t.Fatal(err)
	}
	links()
	if got, err := s.Public(t.Context()); got != "https://dates.example.org" || err != nil {
		t.Errorf("it is kept as %q, %v", got, err)
	}
}

// TestWatch notices what another handle commits.
func TestWatch(t *testing.T) {
	dir := t.TempDir()
	server, other := openedIn(t, dir), openedIn(t, dir)
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	seen, ended := make(chan int), make(chan error, 1)
	go func() {
		ended <- server.Watch(ctx, time.Millisecond, func(ctx context.Context) error {
			all, err := server.Openings(ctx)
			select {
			case seen <- len(all):
			case <-ctx.Done():
			}
			return err
		})
	}()
	for n, people := range []int{0, 2, 3} {
		if n == 1 {
			imported(t, other, head, start)
		} else if n == 2 {
			imported(t, other, strings.Replace(head, "june:", "bea: {name: Bea, part: family}, june:", 1), start)
		}
		select {
		case got := <-seen:
			if got != people {
				t.Errorf("look %d sees %d addresses, want %d", n+1, got, people)
			}
		case <-ctx.Done():
			t.Fatalf("look %d: the commit is not noticed", n+1)
		}
	}
	cancel()
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("it ends with: %v", err)
	}
}
