package desk

import (
	"errors"
	"mime"
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

// eventForms are the ways to add public events.
type eventForms struct{ File, Address, Write form }

func newEventForms() eventForms { return eventForms{fileEvents(), addressEvents(), writeEvent()} }

// fileEvents asks for a file of public events.
func fileEvents() form {
	return form{Lead: nothingRead, Fields: []field{
		{Path: "file", Label: "A calendar (.ics) or a table (.csv)", Kind: fileKind, Accept: ".ics,.csv,.txt,text/calendar,text/csv",
			Hint: "At most 5 MB. A table has a line of headings, and in each row a name and a date; a place, a kind and a last day help."},
		{Path: "name", As: "called", Label: "What to call it", Hint: "Its own name otherwise. A file of the same name takes the place of the one before."},
	}}
}

// addressEvents asks for an address of public events.
func addressEvents() form {
	return form{Lead: nothingRead, Fields: []field{
		{Path: "address", Label: "The address of a calendar that others can subscribe to", Kind: urlKind,
			Hint: "It begins with https:// or webcal://. It is read now, and again each day."},
	}}
}

const nothingRead = "Nothing was added."

// addFile answers POST of a file of public events.
func (d *Desk) addFile(w http.ResponseWriter, r *http.Request) error {
	f := fileEvents()
	sent, err := readFileForm(r, conflicts.MaxBody)
	f.at("name").Value = sent.called()
	name := path.Base(strings.ReplaceAll(sent.file, `\`, "/"))
	fault := ""
	switch {
	case err != nil:
		fault = "the file did not come through whole; try once more, or leave out the years that are long past"
	case sent.file == "" || len(sent.body) == 0:
		fault = "choose a file first; an empty one says nothing"
	case len(sent.body) > conflicts.MaxBody:
		fault = "the file " + name + " is larger than 5 MB; leave out the years that are long past"
	default:
		src := store.Source{Name: strings.TrimSuffix(name, path.Ext(name)), Body: sent.body}
		if fault, err = d.keepSource(w, r, src, sent.called()); err != nil || fault == "" {
			return err
		}
		fault = name + ": " + fault
	}
	f.fault("file", fault, "")
	forms := newEventForms()
	forms.File = f
	return d.showEvents(w, r, http.StatusUnprocessableEntity, forms)
}

// sourceNameMost is how many bytes of a name are taken.
const sourceNameMost = 200

// called is what a file is to be called; it may be empty.
func (f fileForm) called() string {
	name := f.get("name")
	return strings.TrimSpace(strings.ToValidUTF8(name[:min(len(name), sourceNameMost)], ""))
}

// addAddress answers POST of an address of public events. It is read at once.
func (d *Desk) addAddress(w http.ResponseWriter, r *http.Request) error {
	text := strings.TrimSpace(r.PostForm.Get("address"))
	refused := func(fault string) error {
		f := addressEvents()
		f.Fields[0].Value = text
		f.fault("address", fault, "")
		forms := newEventForms()
		forms.Address = f
		return d.showEvents(w, r, http.StatusUnprocessableEntity, forms)
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
