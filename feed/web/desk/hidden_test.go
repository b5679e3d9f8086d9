package desk_test

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"banns/store"
)

// What is hidden from a partner changes no byte of any page of theirs: two
// weddings that differ in it alone show him the same. In both something is,
// since a page may be careful where anything is; and the pages of those who
// see more than he does are left out, since whose link he may have does tell.
func TestHiddenChangesNoPage(t *testing.T) {
	whole := walkedPlan(t)
	bare := replaced(t, whole,
		"zeppelin: {what: Order the zeppelin ride, when: within 5 weeks of the wedding, hide", "ferry: {what: Ask about the ferry, when: 1 day before the wedding, takes: 3 weeks, Hide",
		"neckline and sleeves 14 weeks before the wedding, hide", "hem 3 days before the wedding, note: Long, Hide")
	bare = regexp.MustCompile(`(?s)  # A surprise: .*?\n\n`).ReplaceAllString(bare, "\n")
	bare = regexp.MustCompile(`(?m)^  (bram:|.*hide from:).*\n`).ReplaceAllString(bare, "")
	bare = strings.ReplaceAll(bare, "Hide from", "hide from")
	theo := func(plan string) (map[string]string, *walked) {
		s := &walked{site: townSite(t, plan)}
		b := s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
		form := b.get("/desk/w/maren-and-theo/day", http.StatusOK).form()
		form.Set("wedding/place/name", "The Loft")
		b.post("/desk/w/maren-and-theo/day", http.StatusOK, form)
		said := map[string]string{}
		for _, r := range s.routes(t) {
			if r.method != http.MethodGet || !r.ofWedding() {
				continue
			}
			for _, path := range s.seen(t, r) {
				if !strings.Contains(path, "/people/") || strings.Contains(path, "/theo") {
					said[path] = unlike.ReplaceAllString(b.ask(r.method, path, nil).body, "")
				}
			}
		}
		return said, s
	}
	with, _ := theo(whole)
	without, _ := theo(bare)
	for path, said := range with {
		if said != without[path] {
			t.Errorf("%s tells of something hidden: %s", path, difference(said, without[path]))
		}
	}
}

// difference is where two texts first differ.
func difference(with, without string) string {
	a, b := strings.Split(with, "\n"), strings.Split(without, "\n")
	for n := range min(len(a), len(b)) {
		if a[n] != b[n] {
			return fmt.Sprintf("%q, and without it %q", a[n], b[n])
		}
	}
	return fmt.Sprintf("%d lines, and without it %d", len(a), len(b))
}

// unlike is what differs from store to store: addresses and squares.
var unlike = regexp.MustCompile(`127\.0\.0\.1:\d+|127\.0\.0\.1%3A\d+|/p/[a-z0-9]+|%2Fp%2F[a-z0-9]+|d="M[^"]*"`)
