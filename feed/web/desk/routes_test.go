package desk_test

import (
	"cmp"
	"fmt"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/go-chi/chi/v5"

	"banns/store"
	"banns/testdata"
)

// samples is what stands for the parameters of routes when all of them are
// walked, by the segment before the parameter and its name. A route with a
// parameter that is not here fails every walk.
var samples = map[string]sample{
	"w/{wedding}":            {seen: []string{"maren-and-theo"}, theirs: "ada-and-finn"},
	"people/{person}":        {seen: []string{"priya", "odile", "theo"}, hidden: "bram", theirs: "finn"},
	"admits/{account}":       {seen: []string{"ACCOUNT"}, theirs: "THEIR-ACCOUNT"}, // made by the site that is walked
	"in/{secret}":            {seen: []string{"INVITATION"}},
	"door/{secret}":          {seen: []string{"open-sesame"}},
	"agreements/{agreement}": {seen: []string{"dress", "catering"}, hidden: "brass", theirs: "lute"},
	"copies/{copy}":          {seen: []string{"COPY"}, hidden: "HIDDEN-COPY", theirs: "THEIR-COPY"},
	"appointments/{key}":     {seen: []string{"cake-tasting"}, hidden: "priya-fitting", theirs: "lesson"},
	"occasions/{key}":        {seen: []string{"rehearsal"}, hidden: "last-song", theirs: "party"},
	"questions/{question}":   {seen: []string{"shuttle.change-1.side"}, hidden: "countdown.zeppelin.side", theirs: "lute.change-1.side"},
	"history/{version}":      {seen: []string{"1"}, theirs: "3"}, // of which the walked wedding has two
	"weigh/{day}":            {seen: []string{"2027-09-25", "2027-09-18"}},
	"events/{source}":        {seen: []string{"town"}, theirs: "lake"},
	"paper/{print}":          {seen: []string{"PRINT", "THEO-PRINT", "PEOPLE-PRINT"}},
	"countdown/{key}":        {seen: []string{"welcome-bags"}, hidden: "zeppelin", theirs: "swans"},
}

// homes are what some samples stand under, where that is not the first sample
// of it: a copy stands under its own agreement.
var homes = map[string]map[string]string{
	"HIDDEN-COPY": {"agreements/{agreement}": "brass"},
	"THEIR-COPY":  {"agreements/{agreement}": "dress"}, // both weddings have one, so that only the wedding tells their copies apart
}

// sample is what stands for one parameter. Hidden is of something that is
// hidden from Theo, and empty where nothing of the kind can be hidden; theirs
// is of something of another wedding.
type sample struct {
	seen           []string
	hidden, theirs string
}

// hiddenWords are words of what is hidden from Theo, in small letters.
var hiddenWords = []string{"tin gull", "brass", "neckline", "taffeta", "zeppelin", "net shed", "run-through", "last song", "bram", "tolliver", "325.00"}

// walkedPlan is the demo with a milestone that is hidden from Theo, beside
// the agreement, the line, the appointments and the occasions that are, some
// under names that nothing else has.
func walkedPlan(t testing.TB) string {
	text := regexp.MustCompile(`what: (Getting ready|[^,]*[Ff]itting)`).ReplaceAllString(string(testdata.Demo), "what: Taffeta")
	return replaced(t, text,
		"wedding:\n", "wedding:\n  id: 0123456789abcdef\n",
		"  add:\n", "  add:\n    zeppelin: {what: Order the zeppelin ride, when: within 5 weeks of the wedding, hide from: [theo]}\n")
}

// otherPlan is a wedding that nobody of the walked one has to do with, with
// one of everything that a route can ask for.
const otherPlan = `banns: 1
wedding: {title: Ada and Finn, date: 2027-06-12, zone: UTC, currency: EUR}
people:
  ada:  {name: Ada Quince, part: couple}
  finn: {name: Finn Quince, part: couple}
agreements:
  lute: {with: The Slow Lute, service: music, standing: signed, signed: 2026-10-01, price: "500.00", pay: [balance 7 days before the wedding], change: [songs within 21 days of the wedding]}
  dress: {with: The Reed Room, service: attire, standing: quoted}
appointments:
  lesson: {what: Dancing lesson, on: 2027-05-01, for: [couple]}
occasions:
  party: {what: Garden party, when: on the day, for: [couple]}
countdown:
  add:
    swans: {what: Ask about the swans, when: 5 weeks before the wedding}
`

// replaced is text with each old replaced by its new, once.
func replaced(t testing.TB, text string, pairs ...string) string {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("nothing to replace: %q", pairs[i])
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}

// walked is a site all of whose routes are gone through.
type walked struct {
	*site
	planner, theo, stranger *browser
	accounts                map[string]string // by the word that stands for them among the samples
}

func walkedSite(t testing.TB) *walked { return walkedSiteOf(t, walkedPlan(t)) }

// walkedSiteOf is a site of a plan that holds all that samples name.
func walkedSiteOf(t testing.TB, plan string) *walked {
	t.Helper()
	s := &walked{site: newSite(t, plan, otherPlan)}
	for wedding, name := range map[string]string{"maren-and-theo": "town", "ada-and-finn": "lake"} {
		if _, _, err := s.store.AddSource(t.Context(), store.Source{Wedding: wedding, Name: name, Body: testdata.DemoEvents}, winter); err != nil {
			t.Fatal(err)
		}
	}
	s.planner = s.browser(t)
	s.planner.get("/desk/door/open-sesame", http.StatusOK)
	s.theo = s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
	s.stranger = s.comesIn(t, "Sten", store.Invitation{Wedding: "ada-and-finn"})
	invitation, err := s.store.Invite(t.Context(), store.Invitation{Wedding: "maren-and-theo", Person: "maren"}, winter)
	if err != nil {
		t.Fatal(err)
	}
	s.accounts = map[string]string{"INVITATION": invitation}
	// There is something to go back to, and more of it in the other wedding.
	for _, note := range []struct {
		wedding, path string
		versions      int
	}{{"maren-and-theo", "agreements/brass/note", 1}, {"ada-and-finn", "agreements/lute/note", 3}} {
		for n := range note.versions {
			edit := store.Edit{Wedding: note.wedding, Seen: n + 1, Sets: []store.Set{{Path: note.path, Value: []string{fmt.Sprint("Brass, at the back ", n)}}}}
			if _, err := s.store.Update(t.Context(), edit, winter); err != nil {
				t.Fatal(err)
			}
		}
	}
	for word, p := range map[string]store.Print{"PRINT": {Month: "2027-08"}, "THEO-PRINT": {Month: "2027-08", Person: "theo"}, "PEOPLE-PRINT": {}} {
		p.Wedding, p.Version = "0123456789abcdef", 1
		if s.accounts[word], err = s.store.PrintToken(t.Context(), p); err != nil {
			t.Fatal(err)
		}
	}
	for word, wedding := range map[string]string{"ACCOUNT": "maren-and-theo", "THEIR-ACCOUNT": "ada-and-finn"} {
		doc, err := s.store.Load(t.Context(), wedding)
		if err != nil {
			t.Fatal(err)
		}
		all, err := s.store.Insiders(t.Context(), doc.Plan.ID)
		if err != nil {
			t.Fatal(err)
		}
		s.accounts[word] = fmt.Sprint(all[len(all)-1].ID) // the owner comes first
	}
	s.keepCopies(t)
	return s
}

// contract is where a contract is kept elsewhere.
const contract = "https://example.org/contract"

// keepCopies keeps a contract of an agreement that Theo sees, and a link to
// it, one of an agreement that is hidden from him, and one of the other
// wedding.
func (s *walked) keepCopies(t testing.TB) {
	t.Helper()
	if err := s.store.AddLink(t.Context(), s.plan(t).Plan.ID, store.Copy{Agreement: "dress", Link: contract}, winter); err != nil {
		t.Fatal(err)
	}
	for _, one := range []struct{ word, wedding, agreement string }{
		{"COPY", "maren-and-theo", "dress"}, {"HIDDEN-COPY", "maren-and-theo", "brass"}, {"THEIR-COPY", "ada-and-finn", "dress"},
	} {
		doc, err := s.store.Load(t.Context(), one.wedding)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.store.AddFile(t.Context(), doc.Plan.ID, store.Copy{Agreement: one.agreement, Name: one.word + ".txt"}, []byte("as agreed"), winter); err != nil {
			t.Fatal(err)
		}
		all, err := s.store.Copies(t.Context(), doc.Plan.ID)
		if err != nil {
			t.Fatal(err)
		}
		s.accounts[one.word] = fmt.Sprint(all[0].ID) // the newest comes first
	}
}

// route is one route of the desk.
type route struct{ method, pattern string }

// routes are all routes of the desk.
func (s *walked) routes(t testing.TB) []route {
	t.Helper()
	var all []route
	err := chi.Walk(s.desk.Routes(), func(method, pattern string, _ http.Handler, _ ...func(http.Handler) http.Handler) error {
		if method != http.MethodGet && method != http.MethodPost {
			t.Errorf("%s %s: the desk is made of pages and forms alone", method, pattern)
		}
		all = append(all, route{method, strings.ReplaceAll(pattern, "/*", "")})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 10 {
		t.Fatalf("only %d routes were found", len(all))
	}
	slices.SortFunc(all, func(a, b route) int {
		return cmp.Or(cmp.Compare(a.method, b.method), cmp.Compare(a.pattern, b.pattern))
	})
	return all
}

// public are the routes that ask nobody to sign in.
func (r route) public() bool {
	return strings.HasPrefix(r.pattern, "/in") || strings.HasPrefix(r.pattern, "/door/") || r.ofPrint()
}

// ofPrint is the route that tells anybody whether a print still holds, and
// those who are signed in what changed.
func (r route) ofPrint() bool { return r.pattern == "/paper/{print}" }

// ofWedding are the routes of one wedding.
func (r route) ofWedding() bool { return strings.HasPrefix(r.pattern, "/w/{wedding}") }

var parameter = regexp.MustCompile(`([^/]+)/(\{[^}]+\})`)

// parameters are those of the route, as samples has them.
func (r route) parameters(t testing.TB) []string {
	t.Helper()
	var all []string
	for _, found := range parameter.FindAllStringSubmatch(r.pattern, -1) {
		all = append(all, found[0])
		if _, ok := samples[found[0]]; !ok {
			t.Fatalf("%s %s: nothing stands for %s; add it to samples in routes_test.go, with something that Theo sees and, if anything of the kind can be, something that is hidden from him", r.method, r.pattern, found[0])
		}
	}
	return all
}

// path is the route with the first that is seen for each parameter but one,
// and but what that one stands under.
func (s *walked) path(t testing.TB, r route, but, value string) string {
	t.Helper()
	return s.filled(t, r, func(p string) string {
		if p == but {
			return value
		}
		return cmp.Or(homes[value][p], samples[p].seen[0])
	})
}

// filled is the route with a sample for each parameter.
func (s *walked) filled(t testing.TB, r route, of func(p string) string) string {
	t.Helper()
	path := r.pattern
	for _, p := range r.parameters(t) {
		v := of(p)
		if account, ok := s.accounts[v]; ok {
			v = account
		}
		path = strings.Replace(path, p, p[:strings.Index(p, "{")]+v, 1)
	}
	return "/desk" + path
}

// seen are the paths of the route to all that Theo sees. What stands under
// something else may not stand under all there is of that.
func (s *walked) seen(t testing.TB, r route) []string {
	t.Helper()
	paths := []string{s.path(t, r, "", "")}
	if all := r.parameters(t); len(all) > 0 {
		last := all[len(all)-1]
		for _, v := range samples[last].seen[1:] {
			paths = append(paths, s.path(t, r, last, v))
		}
	}
	return paths
}

// there are the paths of the route to all that a planner sees.
func (s *walked) there(t testing.TB, r route) []string {
	t.Helper()
	paths := s.seen(t, r)
	if all := r.parameters(t); len(all) > 0 {
		if last := all[len(all)-1]; samples[last].hidden != "" {
			paths = append(paths, s.path(t, r, last, samples[last].hidden))
		}
	}
	return paths
}

// hidden are the paths of the route to what is hidden from Theo; theirs those
// to what is of another wedding, and those to nothing at all.
func (s *walked) hidden(t testing.TB, r route) (hidden, theirs []string) {
	t.Helper()
	for _, p := range r.parameters(t) {
		if samples[p].hidden != "" {
			hidden = append(hidden, s.path(t, r, p, samples[p].hidden))
		}
		if samples[p].theirs != "" && p != "w/{wedding}" {
			theirs = append(theirs, s.path(t, r, p, samples[p].theirs))
		}
		if r.ofWedding() {
			theirs = append(theirs, s.path(t, r, p, "no-such-thing"))
		}
	}
	return hidden, theirs
}

// elsewhere is the path of the route where those of the other wedding find
// theirs; empty where the route has no such thing.
func (s *walked) elsewhere(t testing.TB, r route) string {
	t.Helper()
	all := r.parameters(t)
	if !r.ofWedding() || slices.ContainsFunc(all, func(p string) bool { return samples[p].theirs == "" }) {
		return ""
	}
	last := samples[all[len(all)-1]].theirs
	return s.filled(t, r, func(p string) string { return cmp.Or(homes[last][p], samples[p].theirs) })
}
