package web_test

import (
	"bufio"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/go-chi/chi/v5"
)

// ready is an answer that needs nothing but to be sent.
type ready struct {
	body        []byte
	full, short []field // headers of a 200 and of a 304
	tag         string
}

type field struct {
	name  string
	value []string
}

func newReady(a answer) ready {
	c := ready{body: []byte(a.body), tag: a.Header.Get("Etag")}
	for name, value := range a.Header {
		f := field{name, value}
		if name == "Date" {
			continue // the server adds it
		}
		c.full = append(c.full, f)
		if !strings.HasPrefix(name, "Content-") && name != "X-Content-Type-Options" {
			c.short = append(c.short, f)
		}
	}
	return c
}

// bare is the least that can answer a poll: a router over a map of ready
// bytes, with the headers that the calendar has.
func bare(token string, plain, zipped answer) http.Handler {
	calendars := map[string][2]ready{token: {newReady(plain), newReady(zipped)}}
	r := chi.NewRouter()
	r.Get("/c/{token}.ics", func(w http.ResponseWriter, r *http.Request) {
		both, ok := calendars[chi.URLParam(r, "token")]
		if !ok {
			http.NotFound(w, r)
			return
		}
		c := &both[0]
		if strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
			c = &both[1]
		}
		known, h := r.Header.Get("If-None-Match") == c.tag, w.Header()
		fields := c.full
		if known {
			fields = c.short
		}
		for _, f := range fields {
			h[f.name] = f.value
		}
		if known {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		w.Write(c.body)
	})
	return r
}

// poller polls over one connection that is kept alive.
type poller struct {
	conn    net.Conn
	in      *bufio.Reader
	request []byte
	size    int // of an answer: each is like the first
}

func newPoller(b *testing.B, server *httptest.Server, request string, status string) *poller {
	b.Helper()
	conn, err := net.Dial("tcp", server.Listener.Addr().String())
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { conn.Close() })
	p := &poller{conn: conn, in: bufio.NewReaderSize(conn, 64<<10), request: []byte(request)}
	if _, err := conn.Write(p.request); err != nil {
		b.Fatal(err)
	}
	var head strings.Builder
	length := 0
	for {
		line, err := p.in.ReadString('\n')
		if err != nil {
			b.Fatal(err)
		}
		head.WriteString(line)
		if value, ok := strings.CutPrefix(line, "Content-Length: "); ok {
			for _, digit := range strings.TrimSpace(value) {
				length = length*10 + int(digit-'0')
			}
		}
		if line == "\r\n" {
			break
		}
	}
	if !strings.HasPrefix(head.String(), "HTTP/1.1 "+status) {
		b.Fatalf("answered %q", head.String())
	}
	if _, err := p.in.Discard(length); err != nil {
		b.Fatal(err)
	}
	p.size = head.Len() + length
	return p
}

// batch is how long n polls take.
func (p *poller) batch(b *testing.B, n int) time.Duration {
	start := time.Now()
	for range n {
		if _, err := p.conn.Write(p.request); err != nil {
			b.Fatal(err)
		}
		if _, err := p.in.Discard(p.size); err != nil {
			b.Fatal(err)
		}
	}
	return time.Since(start)
}

// BenchmarkPolls sets polls beside those of the bare handler, in turns, so
// that a busy machine is as unfair to one as to the other. x-of-bare is our
// rate as a share of its.
func BenchmarkPolls(b *testing.B) {
	s := demoSite(b)
	plain, zipped := get(b, s.calendar("maren")), get(b, s.calendar("maren"), "Accept-Encoding", "gzip")
	handler := bare(s.tokens["maren"], plain, zipped)
	floor := httptest.NewServer(handler)
	defer floor.Close()
	for _, row := range []struct{ name, status, headers string }{
		{"304", "304", "Accept-Encoding: gzip\r\nIf-None-Match: " + zipped.Header.Get("Etag") + "\r\n"},
		{"gzip", "200", "Accept-Encoding: gzip\r\n"},
		{"plain", "200", ""},
	} {
		request := "GET /c/" + s.tokens["maren"] + ".ics HTTP/1.1\r\nHost: banns.example\r\nUser-Agent: calendar/1\r\n" + row.headers + "\r\n"
		b.Run(row.name+"/wire", func(b *testing.B) {
			ours, theirs := newPoller(b, s.Server, request, row.status), newPoller(b, floor, request, row.status)
			if ours.size != theirs.size {
				b.Fatalf("answers of %d and %d octets cannot be compared", ours.size, theirs.size)
			}
			compare(b, 200, func(n int) time.Duration { return ours.batch(b, n) }, func(n int) time.Duration { return theirs.batch(b, n) })
		})
		b.Run(row.name+"/process", func(b *testing.B) {
			r, err := http.ReadRequest(bufio.NewReader(strings.NewReader(request)))
			if err != nil {
				b.Fatal(err)
			}
			compare(b, 500, serving(s.web, r), serving(handler, r))
		})
	}
}

// compare runs batches of n of ours and theirs in turns.
func compare(b *testing.B, n int, ours, theirs func(n int) time.Duration) {
	var us, them time.Duration
	ours(n)
	theirs(n)
	for b.Loop() {
		us += ours(n)
		them += theirs(n)
	}
	b.ReportMetric(them.Seconds()/us.Seconds(), "x-of-bare")
	b.ReportMetric(float64(us.Nanoseconds())/float64(b.N*n), "ns/poll")
	b.ReportMetric(0, "ns/op")
}

// serving is how long a handler takes by itself.
func serving(h http.Handler, r *http.Request) func(n int) time.Duration {
	return func(n int) time.Duration {
		start := time.Now()
		for range n {
			h.ServeHTTP(&sink{header: http.Header{}}, r)
		}
		return time.Since(start)
	}
}

// sink is a client that keeps nothing.
type sink struct{ header http.Header }

func (s *sink) Header() http.Header         { return s.header }
func (s *sink) WriteHeader(int)             {}
func (s *sink) Write(b []byte) (int, error) { return io.Discard.Write(b) }
