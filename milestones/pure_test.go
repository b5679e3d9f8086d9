package milestones

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// sources are the files of the module that are no tests, by their path from
// its root.
func sources(t *testing.T) map[string]*ast.File {
	t.Helper()
	files := map[string]*ast.File{}
	root := os.DirFS("..")
	err := fs.WalkDir(root, ".", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && name != "." && strings.HasPrefix(entry.Name(), "."), entry.IsDir() && strings.HasSuffix(name, "/testdata"):
			return fs.SkipDir
		case !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go"):
			return nil
		}
		text, err := fs.ReadFile(root, name)
		if err == nil {
			files[name], err = parser.ParseFile(token.NewFileSet(), name, text, parser.SkipObjectResolution)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// source is one file written in a test.
func source(t *testing.T, text string) *ast.File {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), "x.go", text, 0)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// imports are the paths that f imports, by the name it knows them by.
func imports(f *ast.File) map[string]string {
	all := map[string]string{}
	for _, spec := range f.Imports {
		to, _ := strconv.Unquote(spec.Path.Value)
		as := path.Base(to)
		if spec.Name != nil {
			as = spec.Name.Name
		}
		all[as] = to
	}
	return all
}

var (
	worldly = []string{"os", "os/exec", "net", "net/http", "database/sql", "io/fs", "io/ioutil", "syscall", "log", "log/slog"}
	clocks  = []string{"Now", "Since", "Until", "Local", "After", "AfterFunc", "Tick", "Sleep", "NewTimer", "NewTicker"}
)

// impure tells what in f reaches for a file, network, database or clock. A
// dot import would hide the clock, and is one too.
func impure(f *ast.File) (found []string) {
	names := imports(f)
	for as, to := range names {
		if slices.Contains(worldly, to) || as == "." {
			found = append(found, "import "+to)
		}
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if s, ok := n.(*ast.SelectorExpr); ok {
			if x, ok := s.X.(*ast.Ident); ok && names[x.Name] == "time" && slices.Contains(clocks, s.Sel.Name) {
				found = append(found, "time."+s.Sel.Name)
			}
		}
		return true
	})
	slices.Sort(found)
	return found
}

// Milestones, conflicts and feed open no file, network or database, read no
// clock and know no local zone. (time.LoadLocation is let in: it gives the
// same zone for the same name.)
func TestPurity(t *testing.T) {
	seen := map[string]int{}
	for name, f := range sources(t) {
		room := path.Dir(name)
		if room != "milestones" && room != "conflicts" && room != "feed" {
			continue
		}
		seen[room]++
		for _, what := range impure(f) {
			t.Errorf("%s: %s", name, what)
		}
	}
	if len(seen) != 3 {
		t.Errorf("only these were looked at: %v", seen)
	}
}

func TestImpure(t *testing.T) {
	rows := []struct{ text, want string }{
		{`package x; import "time"; var day = time.Date(2027, 9, 18, 0, 0, 0, 0, time.UTC)`, "[]"},
		{`package x; import "time"; func after(a, b time.Time) bool { return a.After(b) }`, "[]"},
		{`package x; import "net/url"; var _ url.URL`, "[]"},
		{`package x; import "time"; var now = time.Now()`, "[time.Now]"},
		{`package x; import "time"; var clock = time.Now`, "[time.Now]"},
		{`package x; import clock "time"; func wait() { clock.Sleep(1); <-clock.After(2) }`, "[time.After time.Sleep]"},
		{`package x; import . "time"; var now = Now()`, "[import time]"},
		{`package x; import "time"; var zone = time.Local`, "[time.Local]"},
		{`package x; import ("os"; _ "net/http"; db "database/sql")`, "[import database/sql import net/http import os]"},
		{`package x; import ("io/fs"; "os/exec"; "syscall"; "log"; "net")`, "[import io/fs import log import net import os/exec import syscall]"},
	}
	for _, row := range rows {
		if got := fmt.Sprint(impure(source(t, row.text))); got != row.want {
			t.Errorf("%s\n%s, want %s", row.text, got, row.want)
		}
	}
}
