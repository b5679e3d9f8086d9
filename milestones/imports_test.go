package milestones

import (
	"fmt"
	"go/ast"
	"maps"
	"path"
	"slices"
	"strings"
	"testing"
)

// rooms are the packages of the module, each above those of a lower number.
// What reads by address stands beside feed, so that feed cannot reach it.
var rooms = map[string]int{
	"testdata":        0, // the demo plan, for the command that shows it
	"milestones":      0,
	"conflicts":       1,
	"conflicts/fetch": 2,
	"feed":            2,
	"store":           3,
	"feed/web":        4,
	"feed/web/desk":   5,
	"cmd/banns":       6,
}

// What tests alone may import; neither knows anything of the program.
const (
	checker = "feed/check"
	browser = "feed/web/browse"
)

// trespasses are the imports of f, a file of room, that do not run one way.
func trespasses(room string, f *ast.File) (found []string) {
	from, known := rooms[room]
	if !known && room != checker && room != browser {
		return []string{room + " has no place among the rooms"}
	}
	for _, to := range slices.Sorted(maps.Values(imports(f))) {
		first, _, _ := strings.Cut(to, "/")
		inner, own := strings.CutPrefix(to, "banns/")
		switch below, ok := rooms[inner]; {
		case room == checker && (own || strings.Contains(first, ".")):
			found = append(found, room+" imports "+to)
		case room == browser && inner == checker:
		case own && (!ok || below >= from):
			found = append(found, room+" imports "+to)
		}
	}
	return found
}

// Imports run one way: milestones <- conflicts <- feed <- store <- feed/web
// <- feed/web/desk <- cmd/banns.
func TestImportsRunOneWay(t *testing.T) {
	seen := map[string]bool{}
	for name, f := range sources(t) {
		seen[path.Dir(name)] = true
		for _, what := range trespasses(path.Dir(name), f) {
			t.Errorf("%s: %s", name, what)
		}
	}
	for _, room := range []string{"milestones", "conflicts", "feed", "store", checker} {
		if !seen[room] {
			t.Errorf("%s was not looked at", room)
		}
	}
}

func TestTrespasses(t *testing.T) {
	rows := []struct{ room, imports, want string }{
		{"conflicts", "banns/milestones", "[]"},
		{"cmd/banns", "banns/conflicts/fetch", "[]"},
		{"store", "banns/feed", "[]"},
		{"store", "modernc.org/sqlite", "[]"},
		{"feed/check", "encoding/json", "[]"},
		{"milestones", "banns/conflicts", "[milestones imports banns/conflicts]"},
		{"feed", "banns/store", "[feed imports banns/store]"},
		{"feed", "banns/conflicts/fetch", "[feed imports banns/conflicts/fetch]"},
		{"conflicts", "banns/conflicts/fetch", "[conflicts imports banns/conflicts/fetch]"},
		{"feed/web", "banns/feed/web/desk", "[feed/web imports banns/feed/web/desk]"},
		{"feed/web", "banns/feed/check", "[feed/web imports banns/feed/check]"},
		{"feed/web/browse", "banns/feed/check", "[]"},
		{"feed/web/browse", "banns/feed/web", "[feed/web/browse imports banns/feed/web]"},
		{"feed/web", "banns/feed/web/browse", "[feed/web imports banns/feed/web/browse]"},
		{"feed/check", "banns/feed", "[feed/check imports banns/feed]"},
		{"feed/check", "github.com/arran4/golang-ical", "[feed/check imports github.com/arran4/golang-ical]"},
		{"store", "banns/attic", "[store imports banns/attic]"},
		{"attic", "fmt", "[attic has no place among the rooms]"},
	}
	for _, row := range rows {
		f := source(t, fmt.Sprintf("package x; import %q", row.imports))
		if got := fmt.Sprint(trespasses(row.room, f)); got != row.want {
			t.Errorf("%s importing %s: %s, want %s", row.room, row.imports, got, row.want)
		}
	}
}
