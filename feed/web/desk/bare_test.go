package desk_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// helperPlan is a wedding of which nothing is known but who helps.
const helperPlan = "banns: 1\nwedding: {title: Ada and Finn, zone: UTC, currency: USD}\npeople:\n  ada: {name: Ada Quince, part: helper}\n"

// A page with nothing on it leads on: where its main part has no list, it has
// a form, or a link that is more than the way back.
func TestBarePagesLeadOn(t *testing.T) {
	for name, plans := range map[string][]string{"an empty store": nil, "an empty plan": {emptyPlan}, "a plan of one person": {adaPlan}, "a plan of one helper": {helperPlan}} {
		s := &walked{site: newSite(t, plans...)}
		b := s.site.planner(t)
		walked := 0
		for _, r := range s.routes(t) {
			path := strings.NewReplacer("{wedding}", "ada-and-finn", "{person}", "ada").Replace("/desk" + r.pattern)
			if r.method != http.MethodGet || r.public() && path != "/desk/in" || strings.Contains(path, "{") {
				continue
			}
			res, err := b.Get(s.URL + path)
			if err != nil {
				t.Fatal(err)
			}
			if res.StatusCode == http.StatusNotFound && (r.ofWedding() && len(plans) == 0 || strings.Contains(path, "/ada")) {
				res.Body.Close()
				continue
			}
			p := b.page(res, nil, http.StatusOK)
			walked++
			if lists, leads := p.leadsOn(); lists == 0 && leads == 0 {
				t.Errorf("%s of %s leads nowhere: %s", path, name, p.Text)
			}
		}
		if walked < 4 {
			t.Errorf("only %d pages of %s were seen", walked, name)
		}
	}
}

// leadsOn counts the lists in the main part of a page, and what leads on from
// there. What is hidden or stands in its navigation counts for nothing.
func (p seenPage) leadsOn() (lists, leads int) {
	var walk func(n *html.Node, in bool)
	walk = func(n *html.Node, in bool) {
		in = in || n.Data == "main"
		if n.Type == html.ElementNode && in {
			switch {
			case n.Data == "nav":
				return
			case slices.Contains([]string{"ul", "ol", "dl", "table"}, n.Data):
				lists++
			case n.Data == "form", n.Data == "a" && attr(n, "href") != "" && !strings.HasPrefix(strings.TrimSpace(textOf(n)), "Back to"):
				leads++
			}
		}
		for c := range n.ChildNodes() {
			walk(c, in)
		}
	}
	walk(p.root, false)
	return lists, leads
}

// Where a list is empty, the page leads to what fills it.
func TestEmptyListsLeadOn(t *testing.T) {
	ada := newSite(t, helperPlan).planner(t)
	ada.get(atAda+"people/ada/sees", http.StatusOK).has("There is no date here yet", `add/appointment">Arrange something`, `agreements/">an agreement`)
	b := newSite(t, emptyPlan).planner(t)
	b.get(atAda+"paper/people", http.StatusOK).has("Nobody is in the plan yet", `add/person">Add the first`)
	b.get(atAda+"admits", http.StatusOK).has("Links that nobody has used yet", "There is none. Make one above")
}
