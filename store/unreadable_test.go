package store

import (
	"strings"
	"testing"
	"time"
)

// A plan that this release cannot read keeps what was published of it, and
// stops no other wedding.
func TestPublishAllPastAFault(t *testing.T) {
	t.Parallel()
	ctx := t.Context()
	s, err := Open(ctx, t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	for _, title := range []string{"Ann and Bob", "Cleo and Dee"} {
		text := "banns: 1\nwedding: {title: " + title + ", date: 2027-06-12, zone: UTC, currency: USD}\npeople:\n  ann: {name: Ann, part: couple}\n"
		doc, err := ReadPlan("plan", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.Import(ctx, Import{Document: doc}, time.Unix(1e9, 0)); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := s.db.ExecContext(ctx, "update version set document = ? where wedding = (select id from wedding where name = 'ann-and-bob')",
		pack([]byte("banns: 1\nwedding: {titel: no}\n"))); err != nil {
		t.Fatal(err)
	}
	err = s.SetPublic(ctx, "https://dates.example.org", time.Unix(2e9, 0))
	if err == nil || !strings.Contains(err.Error(), "publish ann-and-bob") {
		t.Errorf("the error is %v", err)
	}
	revisions := map[int]int{}
	openings, err := s.Openings(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range openings {
		revisions[o.Revision]++
	}
	if revisions[1] != 1 || revisions[2] != 1 {
		t.Errorf("revisions are %v, want one feed left at 1 and one at 2", revisions)
	}
}
