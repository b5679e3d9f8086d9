package desk_test

import (
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// No form is taken from another site, and none that is too long.
func TestFormsAreOurOwn(t *testing.T) {
	s := walkedSite(t)
	w, nobody := s.witness(t), s.browser(t)
	long := url.Values{"note": {strings.Repeat("x", 300<<10)}}
	for name, values := range stolen {
		long[name] = values
	}
	for _, r := range s.routes(t) {
		if r.method != http.MethodPost {
			continue
		}
		for _, b := range []*browser{s.planner, s.theo, nobody} {
			path := s.seen(t, r)[0]
			for _, head := range [][]string{{"Sec-Fetch-Site", "cross-site"}, {"Sec-Fetch-Site", "same-site"}, {"Origin", "https://evil.example"}, {"Origin", "null"}} {
				if a := b.ask(r.method, path, stolen, head...); a.status != http.StatusForbidden || w.changed(t) {
					t.Errorf("POST %s with %v answers %d", path, head, a.status)
				}
			}
			if a := b.ask(r.method, path, long); a.status != http.StatusRequestEntityTooLarge || w.changed(t) {
				t.Errorf("POST %s of 300 KB answers %d", path, a.status)
			}
		}
	}
}

var (
	// strict is a policy that loads and sends nothing but from and to here.
	strict  = regexp.MustCompile(`^default-src 'none'(; (style-src 'self'|script-src 'self'|img-src 'self' data:|connect-src 'self'|form-action 'self'|base-uri 'none'|frame-ancestors 'none'))+$`)
	closing = []string{"form-action 'self'", "base-uri 'none'", "frame-ancestors 'none'"} // which default-src does not stand in for
	inline  = regexp.MustCompile(`<style|<script[^>]*>[^<]|\son[a-z]+=|\sstyle=|javascript:`)
)

// Every answer keeps to itself what it has, and lets a browser do nothing
// that we did not write.
func TestHeadersOfTheDesk(t *testing.T) {
	s := walkedSite(t)
	nobody, left := s.browser(t), map[string]bool{}
	for _, r := range s.routes(t) {
		for _, b := range []*browser{s.planner, nobody} {
			for _, path := range append(s.seen(t, r), "/desk/no/such/page") {
				if b == s.planner && r.method == http.MethodPost {
					continue // forms are for tests of their own
				}
				a := b.ask(r.method, path, nil)
				want := map[string]string{"Referrer-Policy": "same-origin", "Cache-Control": "private, no-cache"}
				if a.head.Get("Content-Disposition") != "" { // no page, so that nothing typed is in it
					want["Cache-Control"] = "private, no-store"
				}
				if strings.HasPrefix(a.head.Get("Content-Type"), "text/html") {
					want["X-Content-Type-Options"], want["X-Robots-Tag"] = "nosniff", "noindex"
					policy := a.head.Get("Content-Security-Policy")
					lax := slices.ContainsFunc(closing, func(part string) bool { return !strings.Contains(policy, part) })
					if lax || !strict.MatchString(policy) {
						t.Errorf("%s %s: the policy is %q", r.method, path, policy)
					}
					if found := inline.Find(a.raw); found != nil {
						t.Errorf("%s has %q, which its policy refuses", path, found)
					}
					loads, links := s.foreign(t, a.raw)
					for _, at := range loads {
						t.Errorf("%s loads from or sends to %s", path, at)
					}
					for _, at := range links {
						if left[at] = true; !slices.Contains(known, at) {
							t.Errorf("%s leads to %s, which is not among those that a page may lead to", path, at)
						}
					}
				}
				for name, value := range want {
					if got := a.head.Get(name); got != value {
						t.Errorf("%s %s: %s is %q", r.method, path, name, got)
					}
				}
				for _, cookie := range a.head.Values("Set-Cookie") {
					if !strings.Contains(cookie, "HttpOnly") || !strings.Contains(cookie, "SameSite=Lax") {
						t.Errorf("%s %s sets %s", r.method, path, cookie)
					}
				}
			}
		}
	}
	for _, at := range known {
		if !left[at] {
			t.Errorf("no page leads to %s any more: it is not to be known", at)
		}
	}
}
