package desk_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"banns/conflicts"
	"banns/milestones"
	"banns/testdata"
)

// BenchmarkPages renders every page of the desk, of the demo and of ten times
// the demo. x-of-schedule is its time as a multiple of what it takes to date
// that plan once, in turns with it; KB is the page as it travels.
func BenchmarkPages(b *testing.B) {
	for _, times := range []int{1, 10} {
		s := walkedSiteOf(b, string(testdata.Manifold([]byte(walkedPlan(b)), times)))
		plan := s.plan(b).Plan
		closures, _ := conflicts.ClosuresFor(plan.Wedding.Region)
		for _, r := range s.routes(b) {
			if r.method != http.MethodGet || r.public() {
				continue
			}
			path := s.path(b, r, "", "")
			b.Run(fmt.Sprintf("x%d%s", times, strings.TrimPrefix(path, "/desk")), func(b *testing.B) {
				var ours, dating time.Duration
				size := 0
				for b.Loop() {
					begun := time.Now()
					milestones.Schedule(plan, closures)
					dating += time.Since(begun)
					begun = time.Now()
					size = s.render(b, path)
					ours += time.Since(begun)
				}
				b.ReportMetric(ours.Seconds()/dating.Seconds(), "x-of-schedule")
				b.ReportMetric(float64(ours.Microseconds())/float64(b.N)/1000, "ms/page")
				b.ReportMetric(float64(size)/1000, "KB")
				b.ReportMetric(0, "ns/op")
			})
		}
	}
}

// render has the desk answer, without a connection, and tells how long the
// answer is.
func (s *walked) render(t testing.TB, path string) int {
	t.Helper()
	at, err := url.Parse(s.URL)
	if err != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequestWithContext(t.Context(), http.MethodGet, path, nil)
	r.Header.Set("Accept-Encoding", "gzip")
	for _, c := range s.planner.Jar.Cookies(at) {
		r.AddCookie(c)
	}
	w := httptest.NewRecorder()
	s.Config.Handler.ServeHTTP(w, r)
	if w.Code >= http.StatusInternalServerError {
		t.Fatalf("%s answers %d", path, w.Code)
	}
	return w.Body.Len()
}
