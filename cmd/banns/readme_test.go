package main

import (
	"bytes"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"
)

// session is one command of the README, and what the README says it prints.
type session struct{ command, output string }

func readme(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// blocks are the fenced blocks of one language.
func fenced(text, language string) []string {
	var all []string
	for _, m := range regexp.MustCompile("(?ms)^```"+language+"\n(.*?)^```$").FindAllStringSubmatch(text, -1) {
		all = append(all, m[1])
	}
	return all
}

func sessions(block string) []session {
	var all []session
	for _, part := range strings.Split("\n"+block, "\n$ ")[1:] {
		command, output, _ := strings.Cut(part, "\n")
		all = append(all, session{command, output})
	}
	return all
}

// pattern matches what the README shows: … stands for anything in a line,
// and a line of it alone for any lines.
func pattern(shown string) *regexp.Regexp {
	p := regexp.QuoteMeta(strings.TrimRight(shown, "\n"))
	p = regexp.MustCompile(`(?m)^…\n`).ReplaceAllString(p, `(?s:.*)`)
	p = regexp.MustCompile(`(?m)\n…$`).ReplaceAllString(p, `(?s:.*)`)
	p = strings.ReplaceAll(p, "…", ".*")
	return regexp.MustCompile(`^` + p + `\n?$`)
}

// TestReadme types every command of the README's sessions into one shell,
// and compares what comes.
func TestReadme(t *testing.T) {
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	if l, err := net.Listen("tcp", defaultListen); err != nil {
		missing(t, "the README's own port is taken: "+err.Error())
	} else {
		l.Close()
	}
	dir := t.TempDir()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(filepath.Join(root, "testdata"), filepath.Join(dir, "testdata")); err != nil {
		t.Fatal(err)
	}
	env := append(os.Environ(), "PATH="+filepath.Dir(path)+":"+os.Getenv("PATH"), "BANNS_DATA="+filepath.Join(dir, "store"))
	ran := 0
	stop := func() {}
	for _, block := range fenced(readme(t), "console") {
		for _, s := range sessions(block) {
			ran++
			var got string
			if command, background := strings.CutSuffix(s.command, " &"); background {
				stop()
				got, stop = behind(t, dir, env, command, strings.Count(strings.TrimRight(s.output, "\n"), "\n")+1)
			} else {
				cmd := exec.Command("sh", "-c", s.command)
				cmd.Dir, cmd.Env = dir, env
				out, err := cmd.CombinedOutput()
				if err != nil {
					t.Errorf("$ %s: %v", s.command, err)
				}
				got = strings.ReplaceAll(string(out), "\r\n", "\n") // a terminal shows both alike
			}
			if !pattern(s.output).MatchString(got) {
				t.Errorf("$ %s\nprints\n%s\nand the README says\n%s", s.command, got, s.output)
			}
		}
	}
	stop()
	if ran < 9 {
		t.Errorf("only %d commands found in the README", ran)
	}
}

// behind runs a command in the background until stop; got is its first lines.
func behind(t *testing.T, dir string, env []string, command string, lines int) (got string, stop func()) {
	t.Helper()
	cmd := exec.Command("sh", "-c", "exec "+command)
	cmd.Dir, cmd.Env = dir, env
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd.Stdout, cmd.Stderr = w, w
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	w.Close()
	said := make([]byte, 0, 500)
	for b := make([]byte, 1); bytes.Count(said, []byte("\n")) < lines; {
		if _, err := r.Read(b); err != nil {
			break
		}
		said = append(said, b[0])
	}
	time.Sleep(300 * time.Millisecond) // it listens, and now begins to answer
	return string(said), func() {
		cmd.Process.Signal(syscall.SIGINT)
		cmd.Wait()
		r.Close()
	}
}

// TestReadmeCommands holds the two commands of the README to what they do:
// the first runs here; the second is what CI runs.
func TestReadmeCommands(t *testing.T) {
	text := readme(t)
	blocks := fenced(text, "sh")
	want := []string{"go run ./cmd/banns demo\n", "go test ./...\n", "go build -o banns ./cmd/banns\n"}
	if fmt.Sprint(blocks) != fmt.Sprint(want) {
		t.Fatalf("the README's commands are %q", blocks)
	}
	ci, err := os.ReadFile("../../.ci/run")
	if err != nil || !bytes.Contains(ci, []byte("\ngo test ./...\n")) {
		t.Errorf("CI does not run the README's test command: %v", err)
	}
	dir := t.TempDir()
	cmd := exec.Command("go", "run", "./cmd/banns", "demo")
	cmd.Dir, cmd.Env = "../..", append(os.Environ(), "TMPDIR="+dir)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // so that ctrl-c reaches what go run started
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	for b := make([]byte, 4096); !bytes.Contains(said.Bytes(), []byte("ctrl-c ends it")); {
		n, err := out.Read(b)
		said.Write(b[:n])
		if err != nil {
			t.Fatalf("%v after\n%s", err, said.String())
		}
	}
	if links := calendarLink.FindAllString(said.String(), -1); len(links) < 16 {
		t.Errorf("the demo prints %d links:\n%s", len(links), said.String())
	}
	syscall.Kill(-cmd.Process.Pid, syscall.SIGINT)
	cmd.Wait()
}

// TestReadmeAgreement: the agreement shown is the demo's own.
func TestReadmeAgreement(t *testing.T) {
	demo, err := os.ReadFile("../../testdata/plans/maren-and-theo.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, block := range fenced(readme(t), "yaml") {
		if !bytes.Contains(demo, []byte(block)) {
			t.Errorf("the demo's plan does not hold\n%s", block)
		}
	}
}
