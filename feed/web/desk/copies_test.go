package desk_test

import (
	"bytes"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"banns/store"
)

// send posts a form that carries a file.
func (b *browser) send(path string, status int, file string, body []byte, fields map[string]string) seenPage {
	b.t.Helper()
	var sent bytes.Buffer
	w := multipart.NewWriter(&sent)
	for name, value := range fields {
		w.WriteField(name, value)
	}
	part, err := w.CreateFormFile("file", file)
	if err != nil {
		b.t.Fatal(err)
	}
	part.Write(body)
	w.Close()
	res, err := b.Post(b.site.URL+path, w.FormDataContentType(), &sent)
	return b.page(res, err, status)
}

func TestContractIsKept(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	at := theAgreements + "/catering/copies"
	b.get(at, http.StatusOK).has("Nothing is kept here yet.")
	contract := []byte("%PDF-1.7\n" + strings.Repeat("terms ", 1<<20)) // more than any other form may carry
	p := b.send(at, http.StatusOK, "Hollow Oak, signed.pdf", contract, nil)
	p.has("Hollow Oak, signed.pdf", "PDF, 6.0 MB, kept on Wed 25 Nov 2026 by planner")
	p = b.send(at, http.StatusOK, "", nil, map[string]string{"link": "https://example.org/changes", "name": "Changes of May"})
	if strings.Index(p.Text, "Changes of May") > strings.Index(p.Text, "Hollow Oak, signed") {
		t.Error("the newest is not first")
	}
	p.has(`href="https://example.org/changes" rel="noreferrer nofollow"`)
	b.get(theAgreements+"/catering", http.StatusOK).has("Hollow Oak, signed.pdf", "Changes of May")
	b.get(theAgreements+"/bar", http.StatusOK).lacks("Hollow Oak, signed.pdf")

	res, err := b.Get(s.URL + at + "/1")
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil || !bytes.Equal(body, contract) {
		t.Errorf("it comes back as %d bytes, %v", len(body), err)
	}
	for header, want := range map[string]string{
		"Content-Type": "application/pdf", "Content-Disposition": `attachment; filename="Hollow Oak, signed.pdf"`,
		"Content-Security-Policy": "default-src 'none'; sandbox", "X-Content-Type-Options": "nosniff", "Cache-Control": "private, no-store",
	} {
		if got := res.Header.Get(header); got != want {
			t.Errorf("%s is %q, want %q", header, got, want)
		}
	}

	for _, row := range []struct {
		file, body, link, says string
	}{
		{"contract.pdf", "<script>1</script>", "", "A file: this is no PDF, no picture"},
		{"contract.pdf", "%PDF-" + strings.Repeat(" ", store.CopyMost), "https://example.org/a", "A file: the file is empty, or larger than 10 MB"},
		{"huge.pdf", strings.Repeat("%PDF-", 3<<20), "https://example.org/b", "A file: the file is empty, or larger than 10 MB"},
		{"", "", "javascript:alert(1)", "Or a link: a link begins with https://"},
		{"", "", "", "A file: nothing is chosen here, and no link is written"},
	} {
		p := b.send(at, http.StatusUnprocessableEntity, row.file, []byte(row.body), map[string]string{"link": row.link, "name": "Of May"})
		p.has(row.says, "Nothing was kept.")
		if form := p.form(); form.Get("link") != row.link || form.Get("name") != "Of May" {
			t.Errorf("%s: what was typed came back as %q", row.file, form)
		}
	}
	// No other form takes a file, or as much.
	b.send(theAgreements+"/catering", http.StatusBadRequest, "contract.pdf", contract, nil)
	b.post(theAgreements+"/catering", http.StatusRequestEntityTooLarge, url.Values{"seen": {strings.Repeat("1", 1<<19)}})

	for _, path := range []string{"/bar/copies/1", "/catering/copies/2", "/catering/copies/99", "/catering/copies/x", "/new/copies", "/nobody/copies"} {
		b.get(theAgreements+path, http.StatusNotFound)
	}
	b.post(theAgreements+"/bar/copies/1", http.StatusNotFound, nil)
	b.post(at+"/1", http.StatusOK, nil).lacks("Hollow Oak, signed.pdf")
	b.get(at+"/1", http.StatusNotFound)
}

// Nobody reads a contract who does not plan the wedding, or who is not signed
// in.
func TestContractsOfOthers(t *testing.T) {
	s := demoSite(t)
	planner := s.atDoor(t)
	for _, key := range []string{"brass", "dress", "bar"} {
		planner.send(theAgreements+"/"+key+"/copies", http.StatusOK, "contract.pdf", []byte("%PDF-1.7"), nil)
	}
	theo := s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
	for path, status := range map[string]int{"brass/copies/1": http.StatusNotFound, "dress/copies/2": http.StatusNotFound, "bar/copies/3": http.StatusNotFound} {
		theo.get(theAgreements+"/"+path, status)
	}
	theo.send(theAgreements+"/dress/copies", http.StatusNotFound, "contract.pdf", []byte("%PDF-1.7"), nil)
	theo.post(theAgreements+"/dress/copies/2", http.StatusNotFound, nil)
	theo.get(theAgreements+"/bar", http.StatusOK).lacks("contract.pdf")
	planner.get(theAgreements+"/bar", http.StatusOK).has("contract.pdf")
	theo.get(theAgreements+"/dress", http.StatusOK).lacks("contract.pdf")

}

// A session that ends while somebody types takes no text with it from a form
// that carries a file; the file itself is asked for once more.
func TestEndedSessionKeepsWhatIsBesideAFile(t *testing.T) {
	s := demoSite(t)
	b := s.owner(t)
	const copies = theAgreements + "/bar/copies"
	for _, row := range []struct {
		path, file string
		typed      url.Values
	}{
		{copies, "contract.pdf", url.Values{"name": {"Of May"}}},
		{copies, "", url.Values{"link": {"https://example.org/c"}, "name": {"Of May"}}},
		{demoDesk + "events", "town.csv", url.Values{"name": {"spring"}}},
	} {
		s.pass(store.SessionIdle + time.Hour)
		typed := map[string]string{}
		for name := range row.typed {
			typed[name] = row.typed.Get(name)
		}
		p := b.send(row.path, http.StatusUnauthorized, row.file, []byte("%PDF-1.7"), typed)
		if says := "choose the file once more"; strings.Contains(p.Text, says) != (row.file != "") {
			t.Errorf("whether it has %q, with %q", says, row.file)
		}
		in := p.form()
		in.Set("name", "Ida")
		in.Set("passphrase", long)
		p = b.post("/desk/in", http.StatusOK, in)
		for name := range row.typed {
			if got := p.form().Get(name); got != row.typed.Get(name) {
				t.Errorf("%s: %s is kept as %q", row.path, name, got)
			}
		}
		if asks := p.form().Has("file"); asks != (row.file != "") {
			t.Errorf("%s: it asks for a file: %t", row.path, asks)
		}
		if row.file == "" {
			b.post(row.path, http.StatusOK, p.form()).has("https://example.org/c", "Of May")
		} else if asked := b.post(row.path, http.StatusUnprocessableEntity, p.form()).form(); asked.Get("name") != row.typed.Get("name") {
			t.Error("without the file, the name is gone")
		}
	}
}

// The key of an agreement that was taken away is given to no other while its
// contract is kept.
func TestKeptContractKeepsItsKey(t *testing.T) {
	s := demoSite(t)
	b := s.atDoor(t)
	b.send(theAgreements+"/film/copies", http.StatusOK, "contract.pdf", []byte("%PDF-1.7"), nil)
	b.press(b.get(theAgreements+"/film", http.StatusOK), "away", nil)
	form := b.get(addAgreement, http.StatusOK).form()
	form.Set("agreements/+/with", "Film")
	form.Set("agreements/+/service", "film")
	if p := b.post(addAgreement, http.StatusOK, form); p.URL.Path != theAgreements+"/film-3" {
		t.Errorf("it leads to %s", p.URL)
	}
}
