package browse

import (
	"bytes"
	"context"
	"html/template"
	"maps"
	"net/url"
	"path/filepath"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
)

// laid are the pictures that a test has kept, by their kind.
var laid = map[string][]contact{}

// contact is one picture on a sheet of many.
type contact struct{ Name, File string }

// lay keeps one picture of a page, and has it on the sheet of its kind.
func lay(t *testing.T, name, kind string, picture []byte) {
	t.Helper()
	one := contact{name, name + " " + kind + ".png"}
	laid[kind] = append(laid[kind], one)
	Keep(t, one.File, picture)
}

// Src is where the picture is, from beside it.
func (c contact) Src() string { return (&url.URL{Path: "./" + c.File}).String() }

var contactSheet = template.Must(template.New("").Parse(`<!doctype html>
<meta charset="utf-8">
<title>{{.Kind}}</title>
<style>
body { display: grid; grid-template-columns: repeat(auto-fill, 250px); gap: 16px; margin: 16px; background: #c8c8c8; font: 13px sans-serif; }
figure { margin: 0; }
img { display: block; width: 250px; max-height: 540px; object-fit: cover; object-position: top; }
figcaption { overflow-wrap: anywhere; }
</style>
{{range .All}}<figure><figcaption>{{.Name}}</figcaption><a href="{{.Src}}"><img src="{{.Src}}" alt=""></a></figure>
{{end}}`))

// Contacts lays out what Pictures kept in this test: every page beside the
// others, on one sheet a kind.
func Contacts(t *testing.T, ctx context.Context) {
	t.Helper()
	for _, kind := range slices.Sorted(maps.Keys(laid)) {
		var text bytes.Buffer
		if err := contactSheet.Execute(&text, map[string]any{"Kind": kind, "All": laid[kind]}); err != nil {
			t.Fatal(err)
		}
		name := "sheet " + t.Name() + " " + kind
		Keep(t, name+".html", text.Bytes())
		at, err := filepath.Abs(filepath.Join(*pictures, name+".html"))
		if err != nil {
			t.Fatal(err)
		}
		Do(t, ctx, chromedp.Navigate((&url.URL{Scheme: "file", Path: at}).String()))
		Keep(t, name+".png", Shot(t, ctx, 1612, 0))
	}
	clear(laid)
}
