package desk

import (
	"errors"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"
	"path"
	"strings"

	"banns/conflicts"
	"banns/conflicts/fetch"
	"banns/store"
)

// takesEvents reports whether a request may carry a file of public events.
func takesEvents(r *http.Request) bool {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	return err == nil && kind == "multipart/form-data" && strings.HasSuffix(r.URL.Path, "/events")
}

// sentFile is a file as a browser sends it.
type sentFile struct {
	name   string
	called string // what it is to be called; may be empty
	body   []byte
}

// addFile answers POST of a file of public events.
func (d *Desk) addFile(w http.ResponseWriter, r *http.Request) error {
	fault := ""
	f, err := readFile(r)
	switch {
	case err != nil:
		fault = capital(err.Error())
	default:
		src := store.Source{Name: strings.TrimSuffix(f.name, path.Ext(f.name)), Body: f.body}
		if fault, err = d.keepSource(w, r, src, f.called); err != nil || fault == "" {
			return err
		}
		fault = f.name + ": " + fault
	}
	return d.showEvents(w, r, http.StatusUnprocessableEntity, addForm{f.called, fault}, addForm{})
}

// partMost is how many bytes of a name are taken.
const partMost = 200

// readFile reads the file of a form. Its error is for people.
func readFile(r *http.Request) (f sentFile, err error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return f, errors.New("choose a file first")
	}
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return f, notWhole(err)
		}
		if err := f.take(part); err != nil {
			return f, err
		}
	}
	switch {
	case f.name == "" || len(f.body) == 0:
		return f, errors.New("choose a file first; an empty one says nothing")
	case len(f.body) > conflicts.MaxBody:
		return f, fmt.Errorf("the file %s is larger than 5 MB; leave out the years that are long past", f.name)
	}
	return f, nil
}

// notWhole is why a file did not come through, for people.
func notWhole(err error) error {
	var long *http.MaxBytesError
	if errors.As(err, &long) {
		return errors.New("the file is far larger than 5 MB, which is the most that is read; leave out the years that are long past")
	}
	return errors.New("the file did not come through whole; try once more")
}

// take takes one part of a form.
func (f *sentFile) take(part *multipart.Part) error {
	most := int64(partMost)
	if part.FormName() == "file" {
		most = conflicts.MaxBody + 1
	}
	body, err := io.ReadAll(io.LimitReader(part, most))
	if err == nil {
		_, err = io.Copy(io.Discard, part)
	}
	if err != nil {
		return notWhole(err)
	}
	switch part.FormName() {
	case "file":
		f.name, f.body = path.Base(strings.ReplaceAll(part.FileName(), `\`, "/")), body
		if f.name == "." || f.name == "/" {
			f.name = ""
		}
	case "name":
		f.called = strings.TrimSpace(string(body))
	}
	return nil
}

// addAddress answers POST of an address of public events. It is read at once.
func (d *Desk) addAddress(w http.ResponseWriter, r *http.Request) error {
	text := strings.TrimSpace(r.PostForm.Get("address"))
	refused := func(fault string) error {
		return d.showEvents(w, r, http.StatusUnprocessableEntity, addForm{}, addForm{text, capital(fault)})
	}
	address, err := fetch.Address(text)
	if err != nil {
		return refused(err.Error())
	}
	got, err := fetch.Fetcher{Private: d.Private}.Get(r.Context(), address, fetch.Seen{})
	switch {
	case errors.Is(err, fetch.ErrPrivate):
		return refused(err.Error() + "; whoever runs this server can add it with \"banns events add --private\"")
	case err != nil:
		return refused(err.Error())
	}
	src := store.Source{Address: address, Private: d.Private, ETag: got.Seen.ETag, Modified: got.Seen.Modified, Body: got.Body}
	if u, err := url.Parse(address); err == nil {
		src.Name = u.Hostname() // the rest may be a secret
	}
	fault, err := d.keepSource(w, r, src, "")
	if err != nil || fault == "" {
		return err
	}
	return refused(fault)
}
