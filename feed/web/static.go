package web

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"fmt"
	"net/http"
	"path"
	"time"

	"github.com/go-chi/chi/v5"
)

//go:embed static
var staticFiles embed.FS

// asset is a file that pages load.
type asset struct {
	body    []byte
	version string // from its bytes
}

var assets = loadAssets()

func loadAssets() map[string]asset {
	all := map[string]asset{}
	files, err := staticFiles.ReadDir("static")
	if err != nil {
		panic(err) // it is part of the program
	}
	for _, f := range files {
		body, err := staticFiles.ReadFile(path.Join("static", f.Name()))
		if err != nil {
			panic(err)
		}
		all[f.Name()] = asset{body, fmt.Sprintf("%x", sha256.Sum256(body))[:16]}
	}
	return all
}

// assetPath is where a page finds the asset: its version is in the address,
// so that a client may keep it for good and still sees a new release at once.
func assetPath(name string) (string, error) {
	a, ok := assets[name]
	if !ok {
		return "", fmt.Errorf("no asset %q", name)
	}
	return "static/" + name + "?" + a.version, nil
}

// static answers with an asset.
func (s *Server) static(w http.ResponseWriter, r *http.Request) error {
	name := chi.URLParam(r, "file")
	a, ok := assets[name]
	if !ok {
		return nothing(w, r)
	}
	h := w.Header()
	h.Set("Etag", `"`+a.version+`"`)
	h.Set("Cache-Control", "no-cache")
	if r.URL.RawQuery == a.version {
		h.Set("Cache-Control", "public, max-age=31536000, immutable") // RFC 8246
	}
	h["X-Content-Type-Options"] = noSniff
	http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(a.body))
	return nil
}
