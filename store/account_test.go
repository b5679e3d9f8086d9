package store_test

import (
	"errors"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"banns/store"
)

const long = "four plain words here"

// owner is a store with the demo in it and somebody who owns it.
func owner(t testing.TB) (*store.Store, store.Account) {
	t.Helper()
	s := demo(t)
	secret, err := s.Invite(t.Context(), store.Invitation{Owner: true}, start)
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.Accept(t.Context(), secret, 0, "Ida", long, start)
	if err != nil {
		t.Fatal(err)
	}
	return s, a
}

func TestOwnerGetsIn(t *testing.T) {
	s := demo(t)
	ctx := t.Context()
	if owned, err := s.Owned(ctx); err != nil || owned {
		t.Fatalf("a fresh store has an owner: %v, %v", owned, err)
	}
	old, err1 := s.Invite(ctx, store.Invitation{Owner: true}, start)
	secret, err2 := s.Invite(ctx, store.Invitation{Owner: true}, start)
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Accept(ctx, old, 0, "Ida", long, start); !errors.Is(err, store.ErrSpent) {
		t.Errorf("an owner's older link still opens: %v", err)
	}
	if _, err := s.Accept(ctx, secret, 0, "Ida", "too short", start); !errors.Is(err, store.ErrPassphrase) {
		t.Errorf("a short passphrase was taken: %v", err)
	}
	a, err := s.Accept(ctx, secret, 0, " Ida ", long, start.Add(time.Hour))
	if err != nil || !a.Owner || a.Name != "Ida" {
		t.Fatalf("the owner is %+v: %v", a, err)
	}
	if kept, want := one[string](t, s.DB(), "select passphrase from account"), "$argon2id$v=19$m=65536,t=3,p=4$"; !strings.HasPrefix(kept, want) { // RFC 9106 section 4
		t.Errorf("a passphrase is kept as %q, and not %s…", kept, want)
	}
	if _, err := s.Accept(ctx, secret, 0, "Eve", long, start.Add(time.Hour)); !errors.Is(err, store.ErrSpent) {
		t.Errorf("the link opened twice: %v", err)
	}
	if owned, err := s.Owned(ctx); err != nil || !owned {
		t.Errorf("the store has no owner: %v", err)
	}
	got, err := s.SignIn(ctx, "iDA", long, start.Add(time.Hour))
	if err != nil || got != a {
		t.Errorf("signed in as %+v: %v", got, err)
	}
	// The same characters in their decomposed form.
	again, err := s.Invite(ctx, store.Invitation{Wedding: "maren-and-theo", Person: "theo"}, start)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Accept(ctx, again, 0, "Theo", "caf\u00e9 in the harbor", start); err != nil {
		t.Fatal(err)
	}
	if _, err := s.SignIn(ctx, "Theo", "cafe\u0301 in the harbor", start); err != nil {
		t.Errorf("a passphrase from another keyboard: %v", err)
	}
}

func TestInvitations(t *testing.T) {
	s, ida := owner(t)
	ctx := t.Context()
	for _, bad := range []store.Invitation{{Wedding: "nobody"}, {Wedding: "maren-and-theo", Person: "nobody"}, {}} {
		if _, err := s.Invite(ctx, bad, start); !errors.Is(err, store.ErrUnknown) {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	secret, err := s.Invite(ctx, store.Invitation{Wedding: "maren-and-theo", Person: "theo"}, start)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Accept(ctx, secret, 0, "theo", long, start.Add(store.InvitationLasts)); !errors.Is(err, store.ErrSpent) {
		t.Errorf("an old link opened: %v", err)
	}
	if _, err := s.Accept(ctx, secret, 0, "ida", long, start); !errors.Is(err, store.ErrNameTaken) {
		t.Errorf("a name was taken twice: %v", err)
	}
	theo, err := s.Accept(ctx, secret, 0, "theo", long, start) // a refused try does not spend it
	if err != nil || theo.Owner {
		t.Fatalf("%+v: %v", theo, err)
	}
	for _, row := range []struct {
		who    store.Account
		person string
	}{{ida, ""}, {theo, "theo"}} {
		all, err := s.Admitted(ctx, row.who)
		if err != nil || len(all) != 1 || all[0].Name != "maren-and-theo" || all[0].Person != row.person {
			t.Errorf("%s sees %+v: %v", row.who.Name, all, err)
		}
	}
	imported(t, s, "banns: 1\nwedding: {title: Ada and Finn, zone: UTC, currency: USD}\npeople:\n  ada: {name: Ada, part: couple}\n", start)
	if all, err := s.Admitted(ctx, theo); err != nil || len(all) != 1 {
		t.Errorf("theo sees another's wedding: %+v, %v", all, err)
	}
	if all, err := s.Admitted(ctx, ida); err != nil || len(all) != 2 {
		t.Errorf("the owner sees %+v: %v", all, err)
	}
	// Somebody who has an account already is let in to another wedding.
	second, err := s.Invite(ctx, store.Invitation{Wedding: "ada-and-finn"}, start)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Accept(ctx, second, theo.ID, "", "", start); err != nil {
		t.Fatal(err)
	}
	if all, err := s.Admitted(ctx, theo); err != nil || len(all) != 2 || all[0].Person != "" {
		t.Errorf("theo plans %+v: %v", all, err)
	}
}

func TestFailedSignIns(t *testing.T) {
	s, _ := owner(t)
	ctx, now := t.Context(), start
	try := func(passphrase string) error {
		_, err := s.SignIn(ctx, "Ida", passphrase, now)
		return err
	}
	for range 5 {
		if err := try("not the passphrase"); !errors.Is(err, store.ErrWrong) {
			t.Fatal(err)
		}
	}
	var soon store.TooSoon
	if err := try(long); !errors.As(err, &soon) || soon.Until.Sub(now) != 2*time.Second {
		t.Fatalf("the sixth try at once: %v", err)
	}
	for range 12 {
		now = soon.Until
		if err := try("not the passphrase"); !errors.Is(err, store.ErrWrong) {
			t.Fatal(err)
		}
		if err := try(long); !errors.As(err, &soon) {
			t.Fatal(err)
		}
	}
	if got := soon.Until.Sub(now); got != 15*time.Minute {
		t.Errorf("the wait has grown to %s", got)
	}
	now = soon.Until
	if err := try(long); err != nil {
		t.Errorf("the right one after waiting: %v", err)
	}
	if err := try("not the passphrase"); !errors.Is(err, store.ErrWrong) {
		t.Errorf("failures are not forgotten after the right one: %v", err)
	}
	for range 5 {
		if _, err := s.SignIn(ctx, "nobody", long, now); !errors.Is(err, store.ErrWrong) {
			t.Fatalf("nobody's sign-in: %v", err)
		}
	}
	// A name that nobody has waits like any other, so that waiting tells nothing.
	if _, err := s.SignIn(ctx, "Nobody", long, now); !errors.As(err, &soon) || soon.Until.Sub(now) != 2*time.Second {
		t.Errorf("nobody's sixth try at once: %v", err)
	}
}

// Tries that come at once count like tries in a row.
func TestSignInsAtOnce(t *testing.T) {
	s, _ := owner(t)
	var looked atomic.Int32
	var all sync.WaitGroup
	for range 20 {
		all.Go(func() {
			_, err := s.SignIn(t.Context(), "Ida", "not the passphrase", start)
			switch {
			case errors.Is(err, store.ErrWrong):
				looked.Add(1)
			case !errors.As(err, new(store.TooSoon)):
				t.Error(err)
			}
		})
	}
	all.Wait()
	if looked.Load() != 5 {
		t.Errorf("%d of twenty tries at once were looked at, want five", looked.Load())
	}
}

func TestSessions(t *testing.T) {
	s, ida := owner(t)
	ctx := t.Context()
	phone, err1 := s.Begin(ctx, ida.ID, "a phone", start)
	desk, err2 := s.Begin(ctx, ida.ID, "a desk", start)
	if err := errors.Join(err1, err2); err != nil || phone == desk {
		t.Fatal(err)
	}
	seen := func(secret string, now time.Time) int64 {
		t.Helper()
		a, id, err := s.SignedIn(ctx, secret, now)
		if err != nil && !errors.Is(err, store.ErrUnknown) || err == nil && a != ida {
			t.Fatal(a, err)
		}
		return id
	}
	now := start
	first, second := seen(phone, now), seen(desk, now)
	if first == 0 || second == 0 || first == second || seen("nothing", now) != 0 {
		t.Fatalf("sessions are %d and %d", first, second)
	}
	for range 9 { // used every twenty days; the other is not
		now = now.Add(20 * 24 * time.Hour)
		if want := now.Sub(start) < store.SessionMost; (seen(phone, now) != 0) != want {
			t.Fatalf("after %s the session holds: %t", now.Sub(start), !want)
		}
	}
	if seen(desk, start.Add(store.SessionIdle)) != 0 {
		t.Error("a session that was not used for a month still holds")
	}
	fresh, err := s.Begin(ctx, ida.ID, "another", now)
	if err != nil {
		t.Fatal(err)
	}
	all, err := s.Sessions(ctx, ida.ID, now)
	if err != nil || len(all) != 1 || all[0].Device != "another" || all[0].ID != seen(fresh, now) {
		t.Fatalf("%+v: %v", all, err)
	}
	if err := s.End(ctx, ida.ID+1, all[0].ID); !errors.Is(err, store.ErrUnknown) {
		t.Errorf("somebody else ended it: %v", err)
	}
	if err := s.End(ctx, ida.ID, all[0].ID); err != nil || seen(fresh, now) != 0 {
		t.Errorf("it was not ended: %v", err)
	}
}

func TestChangePassphrase(t *testing.T) {
	s, ida := owner(t)
	ctx := t.Context()
	here, err1 := s.Begin(ctx, ida.ID, "here", start)
	there, err2 := s.Begin(ctx, ida.ID, "there", start)
	_, keep, err3 := s.SignedIn(ctx, here, start)
	if err := errors.Join(err1, err2, err3); err != nil {
		t.Fatal(err)
	}
	if err := s.ChangePassphrase(ctx, ida, "not the passphrase", "quite another one", keep, start); !errors.Is(err, store.ErrWrong) {
		t.Errorf("changed without the old one: %v", err)
	}
	if err := s.ChangePassphrase(ctx, ida, long, "quite another one", keep, start); err != nil {
		t.Fatal(err)
	}
	if _, err := s.SignIn(ctx, "ida", long, start); !errors.Is(err, store.ErrWrong) {
		t.Errorf("the old one still opens: %v", err)
	}
	if _, err := s.SignIn(ctx, "ida", "quite another one", start); err != nil {
		t.Error(err)
	}
	if _, _, err := s.SignedIn(ctx, there, start); !errors.Is(err, store.ErrUnknown) {
		t.Errorf("the other session still holds: %v", err)
	}
	if _, _, err := s.SignedIn(ctx, here, start); err != nil {
		t.Errorf("this session was ended: %v", err)
	}
}
