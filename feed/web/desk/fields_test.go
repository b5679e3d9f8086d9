package desk_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"net/http"
	"net/url"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// planTables are the tables of a plan file, by their first key, with the places
// where a page has to ask for each of their keys.
var planTables = map[string][]string{
	"banns":         {`KEY`},
	"id":            {`wedding/KEY`},
	"name, city":    {`wedding/place/KEY`, `appointments/\w+[^/]*/place/KEY`, `appointments/\+/place/KEY`, `occasions/\w+[^/]*/place/KEY`, `occasions/\+/place/KEY`},
	"name, part":    {`people/\w+[^/]*/KEY`, `people/\+/KEY`},
	"with":          {`agreements/\w+[^/]*/KEY`, `agreements/\+/KEY`},
	"each":          {`agreements/\w+[^/]*/price/KEY`, `agreements/\+/price/KEY`},
	"key":           {`agreements/\w+[^/]*/(pay|cancel|change|papers)/\w[^/]*/KEY`, `agreements/\w+[^/]*/(pay|cancel|change|papers)/\+1/KEY`, `agreements/\w+[^/]*/postpone/KEY`},
	"reads":         {`KEY`},
	"what, on":      {`appointments/\w+[^/]*/KEY`, `appointments/\+/KEY`, `occasions/\w+[^/]*/KEY`, `occasions/\+/KEY`},
	"planning from": {`countdown/KEY`},
	"what, when":    {`countdown/add/\w[^/]*/KEY`, `countdown/add/\+/KEY`},
	"office":        {`licence/KEY`},
	"who":           {`away/\+1/KEY`},
}

// askedOtherwise are keys of those tables that no field is named for: the steps
// and fields by which they are written instead. Nothing where no page asks, and
// why.
var askedOtherwise = map[string]struct {
	by  []string
	why string
}{
	"banns/banns":         {why: "the form of the file; a store writes it"},
	"banns/candidates":    {by: []string{`to .*/weigh/shortlist`}},
	"id/id":               {why: "the store's own"},
	"id/version":          {why: "the store's own"},
	"name, part/was":      {why: "of a renamed key, and no page shows or changes keys"},
	"name, part/measures": {by: []string{`people/\w+[^/]*/measures/.*`, `measure-1`, `size-1`}},
	"with/standing":       {by: []string{`do signed`, `do replaced`, `do ended`}},
	"with/signed":         {by: []string{`agreements/\+/signed`, `do signed`}},
	"with/dates":          {by: []string{`agreements/\w+[^/]*/named/1/name`, `agreements/\w+[^/]*/named/1/date`}},
	"with/answers":        {by: []string{`to .*/questions/.*`}},
	"key/key":             {why: "the store's own; it lasts for good"},
	"key/done":            {by: []string{`do paid pay/.*`, `do done change/.*`, `do done papers/.*`}},
	"key/amount":          {by: []string{`agreements/\w+[^/]*/pay/\w[^/]*/amount`, `step/pay/.*/sum`}},
	"key/back":            {by: []string{`do came pay/.*`}},
	"key/given":           {by: []string{`step/change/.*/given`}},
	"key/answer":          {by: []string{`to .*/questions/.*`}},
	"what, on/answer":     {by: []string{`to .*/questions/.*`}},
	"what, on/answers":    {by: []string{`to .*/questions/.*`}},
	"planning from/drop":  {by: []string{`to .*/countdown/[^/]*/drop`, `to .*/countdown/[^/]*/back`}},
	"planning from/move":  {by: []string{`countdown/move/.*`}},
	"planning from/done":  {by: []string{`do done`, `do undo`, `to .*/countdown/[^/]*/tick`}},
	"what, when/done":     {by: []string{`do done`, `do undo`}},
	"what, when/answer":   {by: []string{`to .*/questions/.*`}},
}

// Everything that a plan file may hold can be written on some page of the desk.
func TestEveryKeyHasAField(t *testing.T) {
	s := walkedSite(t)
	s.planner.post(demoDesk+"countdown/welcome-bags", http.StatusOK, url.Values{"seen": {"2"}, "do": {"done"}, "step/done/on": {"2026-11-20"}}) // so that there is something to undo
	offered := map[string]bool{}
	look := func(path string) {
		for _, name := range offers(t, path, s.planner.ask(http.MethodGet, path, nil).raw) {
			offered[name] = true
		}
	}
	look(demoDesk + "countdown/invitations") // which is not the plan's own
	for _, r := range s.routes(t) {
		if r.method != http.MethodGet || !r.ofWedding() {
			continue
		}
		for _, path := range s.there(t, r) {
			look(path)
		}
	}
	has := func(pattern string) bool {
		form := regexp.MustCompile("^(" + pattern + ")$")
		for name := range offered {
			if form.MatchString(name) {
				return true
			}
		}
		return false
	}
	tables := tablesOfPlanFiles(t)
	for _, keys := range tables {
		first := keys[0]
		if _, one := planTables[first]; !one && len(keys) > 1 {
			first += ", " + keys[1]
		}
		places, known := planTables[first]
		if !known {
			t.Errorf("a plan file has a table of %q: say in planTables where pages ask for it", keys)
		}
		for _, key := range keys {
			other, is := askedOtherwise[first+"/"+key]
			wanted := other.by
			if !is {
				for _, place := range places {
					wanted = append(wanted, strings.Replace(place, "KEY", regexp.QuoteMeta(key)+"(/.*)?", 1))
				}
			}
			for _, pattern := range wanted {
				if !has(pattern) {
					t.Errorf("a plan file may say %q in the table of %q, and no page has a field or a step %s", key, first, pattern)
				}
			}
		}
	}
	if len(tables) != len(planTables) {
		t.Errorf("a plan file has %d tables, and planTables %d", len(tables), len(planTables))
	}
}

// offers are the names of what can be filled in on a page, "do" and the value
// of its steps, and "to" and the address of its forms.
func offers(t *testing.T, path string, text []byte) []string {
	root, err := html.Parse(strings.NewReader(string(text)))
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for n := range root.Descendants() {
		switch name := attr(n, "name"); {
		case n.Data == "form" && attr(n, "method") == "post" && attr(n, "action") == "":
			all = append(all, "to "+path)
		case n.Data == "form" && attr(n, "method") == "post":
			all = append(all, "to "+attr(n, "action"))
		case n.Data == "button" && name == "do":
			all = append(all, "do "+attr(n, "value"))
		case name != "" && attr(n, "type") != "hidden":
			all = append(all, name)
		}
	}
	return all
}

// tablesOfPlanFiles are the keys of every table that the reader of plan files
// allows, as its source has them.
func tablesOfPlanFiles(t *testing.T) [][]string {
	files, err := filepath.Glob("../../../store/planfile_*.go")
	if err != nil || len(files) == 0 {
		t.Fatal("the reader of plan files is not there: ", err)
	}
	var all [][]string
	for _, file := range files {
		source, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(source, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) < 3 {
				return true
			}
			if of, ok := call.Fun.(*ast.SelectorExpr); !ok || of.Sel.Name != "table" {
				return true
			}
			var keys []string
			for _, arg := range call.Args[2:] {
				key, err := strconv.Unquote(arg.(*ast.BasicLit).Value)
				if err != nil {
					t.Fatal(err)
				}
				keys = append(keys, key)
			}
			all = append(all, keys)
			return true
		})
	}
	return all
}
