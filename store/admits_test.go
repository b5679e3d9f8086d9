package store_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"banns/store"
)

// insiders are who can sign in to the demo's wedding, with who they are.
func insiders(t *testing.T, s *store.Store, wedding string) []string {
	t.Helper()
	all, err := s.Insiders(t.Context(), wedding)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, one := range all {
		name := one.Name
		if one.Person != "" {
			name += " as " + one.Person
		}
		names = append(names, name)
	}
	return names
}

func TestDismiss(t *testing.T) {
	s, ida := owner(t)
	ctx := t.Context()
	imported(t, s, "banns: 1\nwedding: {title: Ada and Finn, zone: UTC, currency: USD}\npeople:\n  ada: {name: Ada, part: couple}\n", start)
	ours, err1 := s.Load(ctx, "maren-and-theo")
	theirs, err2 := s.Load(ctx, "ada-and-finn")
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	first, err1 := s.Invite(ctx, store.Invitation{Wedding: "maren-and-theo", Person: "theo"}, start)
	second, err2 := s.Invite(ctx, store.Invitation{Wedding: "ada-and-finn"}, start)
	if err := errors.Join(err1, err2); err != nil {
		t.Fatal(err)
	}
	theo, err := s.Accept(ctx, first, 0, "Theo", long, start)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Accept(ctx, second, theo.ID, "", "", start); err != nil {
		t.Fatal(err)
	}
	if got := insiders(t, s, ours.Plan.ID); !slices.Equal(got, []string{"Ida", "Theo as theo"}) {
		t.Errorf("%q can sign in", got)
	}
	cookie, err := s.Begin(ctx, theo.ID, "", start)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Dismiss(ctx, ours.Plan.ID, theo.ID); err != nil {
		t.Fatal(err)
	}
	if got := insiders(t, s, ours.Plan.ID); !slices.Equal(got, []string{"Ida"}) {
		t.Errorf("%q can sign in after Theo was dismissed", got)
	}
	if got := insiders(t, s, theirs.Plan.ID); !slices.Equal(got, []string{"Ida", "Theo"}) {
		t.Errorf("%q can sign in to the other wedding", got)
	}
	if _, _, err := s.SignedIn(ctx, cookie, start); err != nil {
		t.Errorf("Theo is signed out: %v", err)
	}
	for _, id := range []int64{theo.ID, ida.ID, 99} {
		if err := s.Dismiss(ctx, ours.Plan.ID, id); !errors.Is(err, store.ErrUnknown) {
			t.Errorf("%d, who was not admitted, is dismissed: %v", id, err)
		}
	}
}

func TestOpenInvitations(t *testing.T) {
	s, _ := owner(t)
	ctx := t.Context()
	doc, err := s.Load(ctx, "maren-and-theo")
	if err != nil {
		t.Fatal(err)
	}
	id := doc.Plan.ID
	secret, err := s.Invite(ctx, store.Invitation{Wedding: "maren-and-theo", Person: "theo"}, start)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Invite(ctx, store.Invitation{Owner: true}, start); err != nil { // to no one wedding
		t.Fatal(err)
	}
	all, err := s.OpenInvitations(ctx, id, start)
	if err != nil || len(all) != 1 || all[0].Person != "theo" || !all[0].Until.Equal(start.Add(store.InvitationLasts)) {
		t.Fatalf("%+v: %v", all, err)
	}
	if err := s.Invited(ctx, all[0].ID, start); !errors.Is(err, store.ErrSpent) {
		t.Errorf("what is shown of a link opens: %v", err)
	}
	if late, err := s.OpenInvitations(ctx, id, start.Add(store.InvitationLasts+time.Second)); err != nil || len(late) != 0 {
		t.Errorf("after a week: %+v, %v", late, err)
	}
	for _, row := range [][2]string{{"other", all[0].ID}, {id, "no hex"}, {id, "00"}} {
		if err := s.Uninvite(ctx, row[0], row[1]); !errors.Is(err, store.ErrUnknown) {
			t.Errorf("%v: %v", row, err)
		}
	}
	if err := s.Invited(ctx, secret, start); err != nil {
		t.Fatal(err)
	}
	if err := s.Uninvite(ctx, id, all[0].ID); err != nil {
		t.Fatal(err)
	}
	if err := s.Invited(ctx, secret, start); !errors.Is(err, store.ErrSpent) {
		t.Errorf("a closed link: %v", err)
	}
}

// Told is what somebody's own page shows, and the page is what Told tells.
func TestTold(t *testing.T) {
	s := demo(t)
	doc, err := s.Load(t.Context(), "maren-and-theo")
	if err != nil {
		t.Fatal(err)
	}
	page, err := s.Page(t.Context(), tokens(t, s, doc)["bea"])
	if err != nil {
		t.Fatal(err)
	}
	told, err := s.Told(t.Context(), store.Reader{Wedding: doc.Plan.ID, Person: "bea"})
	if err != nil || len(told) == 0 || len(told) != len(page.Entries) {
		t.Fatalf("%d entries told, %d on the page: %v", len(told), len(page.Entries), err)
	}
	for n := range told {
		if told[n].UID != page.Entries[n].UID {
			t.Errorf("entry %d differs", n)
		}
	}
	if _, err := s.Told(t.Context(), store.Reader{Wedding: doc.Plan.ID, Person: "nobody"}); !errors.Is(err, store.ErrUnknown) {
		t.Errorf("nobody is told: %v", err)
	}
}
