package main

import (
	"bufio"
	"bytes"
	"context"
	"debug/elf"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"banns/feed/check"
)

// binary is the program as it is released: static, without cgo. It is built
// once.
var binary = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "banns-test-")
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "banns")
	build := exec.Command("go", "build", "-trimpath", "-o", path, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	build.Stderr = os.Stderr
	return path, build.Run()
})

// child is the program running as its own process.
type child struct {
	*exec.Cmd
	out  *bufio.Reader
	errs bytes.Buffer
}

func start(t *testing.T, args ...string) *child {
	t.Helper()
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	c := &child{Cmd: exec.Command(path, args...)}
	c.Env = append(os.Environ(), "BANNS_DATA="+t.TempDir(), "TMPDIR="+t.TempDir())
	c.Stderr = &c.errs
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	c.out = bufio.NewReader(out)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Process.Kill() })
	return c
}

// until reads standard output up to the line that holds mark.
func (c *child) until(t *testing.T, mark string) string {
	t.Helper()
	var read strings.Builder
	for {
		line, err := c.out.ReadString('\n')
		read.WriteString(line)
		if strings.Contains(line, mark) {
			return read.String()
		}
		if err != nil {
			t.Fatalf("no %q in\n%s%s", mark, read.String(), c.errs.String())
		}
	}
}

// stop ends the child as an operator would, and wants it to end well. It is
// what the child printed that nobody has read.
func (c *child) stop(t *testing.T) string {
	t.Helper()
	if err := c.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	rest, err := io.ReadAll(c.out)
	if err != nil {
		t.Error(err)
	}
	if err := c.Wait(); err != nil {
		t.Errorf("%v\n%s", err, c.errs.String())
	}
	if !strings.Contains(c.errs.String(), "banns: stopped") {
		t.Errorf("it did not say that it stopped:\n%s", c.errs.String())
	}
	return string(rest)
}

func get(t *testing.T, url, etag string) (*http.Response, []byte) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Second)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, url, nil)
	if err != nil {
		t.Fatal(err)
	}
	if etag != "" {
		req.Header.Set("If-None-Match", etag)
	}
	// The server answers as soon as it listens; it says its links before.
	for try := 0; ; try++ {
		resp, err := http.DefaultClient.Do(req)
		if err != nil && try < 100 {
			time.Sleep(50 * time.Millisecond)
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(resp.Body)
		resp.Body.Close()
		if err != nil {
			t.Fatal(err)
		}
		return resp, body
	}
}

var calendarLink = regexp.MustCompile(`(?m)^  calendar  (\S+)$`)

// TestDemo is the main job: a plan in, each person's dates out.
func TestDemo(t *testing.T) {
	c := start(t, "demo", "--listen", "127.0.0.1:0")
	said := c.until(t, "The store is temporary")
	links := calendarLink.FindAllStringSubmatch(said, -1)
	if len(links) < 16 {
		t.Fatalf("%d links in\n%s", len(links), said)
	}
	bodies := map[string]bool{}
	for _, link := range links {
		resp, body := get(t, link[1], "")
		if resp.StatusCode != http.StatusOK || resp.Header.Get("Content-Type") != "text/calendar; charset=utf-8" {
			t.Fatalf("%s: %s %s", link[1], resp.Status, resp.Header.Get("Content-Type"))
		}
		if faults := check.Calendar(body); len(faults) > 0 {
			t.Errorf("%s: %v", link[1], faults)
		}
		bodies[string(body)] = true
		if again, _ := get(t, link[1], resp.Header.Get("ETag")); again.StatusCode != http.StatusNotModified {
			t.Errorf("%s with its ETag: %s", link[1], again.Status)
		}
	}
	if len(bodies) != len(links) {
		t.Errorf("%d people have %d different calendars", len(links), len(bodies))
	}
	c.stop(t)
	if left, _ := filepath.Glob(filepath.Join(tmpdir(c), "banns-demo-*")); len(left) > 0 {
		t.Errorf("the temporary store is still there: %v", left)
	}
	for _, link := range links {
		token := strings.TrimSuffix(link[1][strings.LastIndex(link[1], "/")+1:], ".ics")
		if strings.Contains(c.errs.String(), token) {
			t.Errorf("a token is in the log:\n%s", c.errs.String())
		}
	}
}

func tmpdir(c *child) string {
	for _, v := range c.Env {
		if dir, ok := strings.CutPrefix(v, "TMPDIR="); ok {
			return dir
		}
	}
	return ""
}

// TestServe runs the server of a real store beside the commands that change
// it.
func TestServe(t *testing.T) {
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	data := t.TempDir()
	banns := func(args ...string) string {
		t.Helper()
		out, err := exec.Command(path, append([]string{"--data", data}, args...)...).CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %v\n%s", args, err, out)
		}
		return string(out)
	}
	banns("import", "../../testdata/plans/maren-and-theo.yaml")
	at := freePort(t)
	args := []string{"--data", data, "serve", "--listen", at, "--public", "http://" + at + "/"}
	c := start(t, args...)
	door := regexp.MustCompile(`http\S+/desk/in/\S+`).FindString(c.until(t, "/desk/in/"))
	find := func() string {
		return calendarLink.FindStringSubmatch(banns("feeds", "list", "maren-and-theo", "--for", "bea"))[1]
	}
	if resp, body := get(t, "http://"+at+"/healthz", ""); resp.StatusCode != 200 || string(body) != "ok\n" {
		t.Errorf("healthz: %s %q", resp.Status, body)
	}
	old := find()
	_, before := get(t, old, "")
	if !bytes.Contains(before, []byte("Hollow Oak Table")) {
		t.Fatalf("bea's calendar lacks the caterer:\n%s", before)
	}

	// An import by another process is on the wire.
	exported := strings.Replace(banns("export", "maren-and-theo"), "date: 2027-09-18", "date: 2027-09-25", 1)
	file := filepath.Join(t.TempDir(), "moved.yaml")
	if err := os.WriteFile(file, []byte(exported), 0o600); err != nil {
		t.Fatal(err)
	}
	banns("import", file)
	eventually(t, func() bool {
		_, after := get(t, old, "")
		return bytes.Contains(after, []byte("20270925T163000")) && !bytes.Contains(after, []byte("20270918T163000"))
	})

	// So is a link that was given out anew.
	banns("feeds", "reissue", "maren-and-theo", "bea")
	fresh := find()
	eventually(t, func() bool {
		gone, _ := get(t, old, "")
		there, _ := get(t, fresh, "")
		return gone.StatusCode == http.StatusGone && there.StatusCode == http.StatusOK
	})

	// The one-time link makes an owner, and a store that has one prints none.
	res, err := http.PostForm(door, url.Values{"name": {"Ida"}, "passphrase": {"four plain words here"}})
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	if rest := c.stop(t); rest != "" {
		t.Errorf("it goes on to print %q", rest)
	}
	c = start(t, args...)
	get(t, "http://"+at+"/healthz", "")
	if said := c.stop(t); said != "" {
		t.Errorf("with an owner it prints %q", said)
	}
}

// freePort is an address that nobody listens on.
func freePort(t *testing.T) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	return l.Addr().String()
}

func eventually(t *testing.T, holds func() bool) {
	t.Helper()
	for range 200 {
		if holds() {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatal("it never came about")
}

// TestStatic is the promise of one binary that needs nothing.
func TestStatic(t *testing.T) {
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	file, err := elf.Open(path)
	if err != nil {
		missing(t, "the built binary is no ELF file: "+err.Error())
	}
	defer file.Close()
	for _, p := range file.Progs {
		if p.Type == elf.PT_INTERP {
			t.Error("the binary asks for a dynamic loader")
		}
	}
	out, err := exec.Command(path, "version").Output()
	if err != nil || !strings.HasPrefix(string(out), "banns ") {
		t.Errorf("version says %q, %v", out, err)
	}
}
