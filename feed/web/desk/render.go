package desk

import (
	"embed"
	"html/template"
	"net/http"

	"banns/feed/web"
)

//go:embed templates
var templateFiles embed.FS

// page is a page made of files, with the desk's own frame and fields at hand.
func page(names ...string) func() *template.Template {
	return web.Template(templateFiles, append(names, "top.html", "form.html")...)
}

// frame is what every page of the desk has.
func frame(r *http.Request, title string) web.Frame {
	f := web.NewFrame(r, title)
	f.Sheets = []string{"desk.css"}
	return f
}
