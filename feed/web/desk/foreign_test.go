package desk_test

import (
	"bytes"
	"net/url"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// known are all addresses elsewhere that pages of the walked wedding lead to.
// Whoever follows one asks for it: nothing is loaded from there.
var known = []string{contract}

// fetched are the attributes by which elements load something, or send it.
var fetched = []string{"src", "srcset", "imagesrcset", "action", "formaction", "data", "poster", "background", "manifest", "ping", "archive", "codebase"}

// foreign is what a page loads from elsewhere or sends there, and what it only
// leads to: all of it, and not the first alone.
func (s *site) foreign(t testing.TB, page []byte) (loads, links []string) {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	for n := range root.Descendants() {
		for _, a := range n.Attr {
			switch follows := n.Data == "a" || n.Data == "area"; {
			case a.Key == "href" && follows:
				if s.elsewhere(a.Val, "mailto", "tel", "sms") {
					links = append(links, a.Val)
				}
			case a.Key == "href", slices.Contains(fetched, a.Key) && n.Type == html.ElementNode:
				for one := range strings.FieldsFuncSeq(a.Val, func(r rune) bool { return strings.HasSuffix(a.Key, "srcset") && r == ',' }) {
					if s.elsewhere(strings.TrimSpace(one), "data") {
						loads = append(loads, one)
					}
				}
			case a.Key == "http-equiv" && strings.EqualFold(a.Val, "refresh"):
				loads = append(loads, attr(n, "content"))
			}
		}
	}
	return loads, links
}

// elsewhere reports whether an address is none of the site's, nor of a scheme
// that asks no server.
func (s *site) elsewhere(address string, schemes ...string) bool {
	u, err := url.Parse(address)
	if err != nil || !slices.Contains([]string{"", "http", "https", "webcal"}, u.Scheme) {
		return err != nil || !slices.Contains(schemes, u.Scheme)
	}
	return u.Host != "" && u.Host != strings.TrimPrefix(s.URL, "http://")
}

// What is looked at in pages finds all that is foreign in one.
func TestForeign(t *testing.T) {
	s := newSite(t)
	page := `<link rel=stylesheet href="` + s.URL + `/a.css"><img src="data:,"><a href="//two.example/"></a><a href="/p"></a><a href="tel:1"></a><a href="javascript:1"></a>
		<script src="//one.example/x.js"></script><img srcset="/a.png 1x, https://three.example/a.png 2x"><form action="http://four.example"></form>
		<link rel=icon href="https://five.example/i"><svg><use href="https://six.example/#a"/></svg><meta http-equiv=Refresh content="0;url=//seven.example">`
	loads, links := s.foreign(t, []byte(page))
	if want := []string{"//one.example/x.js", " https://three.example/a.png 2x", "http://four.example", "https://five.example/i", "https://six.example/#a", "0;url=//seven.example"}; !slices.Equal(slices.Sorted(slices.Values(loads)), slices.Sorted(slices.Values(want))) {
		t.Errorf("it loads %q", loads)
	}
	if want := []string{"//two.example/", "javascript:1"}; !slices.Equal(links, want) {
		t.Errorf("it leads to %q", links)
	}
}
