package desk_test

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"mime/multipart"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"banns/store"
	"banns/testdata"
)

const eventsPath = "/desk/w/maren-and-theo/events"

// sends sends a file as a browser does.
func (b *browser) sends(file, called string, body []byte, status int) seenPage {
	b.t.Helper()
	var form bytes.Buffer
	w := multipart.NewWriter(&form)
	part, err := w.CreateFormFile("file", file)
	if err != nil {
		b.t.Fatal(err)
	}
	part.Write(body)
	w.WriteField("name", called)
	w.Close()
	res, err := b.Post(b.site.URL+eventsPath, w.FormDataContentType(), &form)
	return b.page(res, err, status)
}

func TestEventsByFile(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	p := b.sends("town.csv", "", testdata.DemoEvents, http.StatusOK)
	p.has("Added.", "46 events, 17 of them from 2026 on", "Line 11: Two Piers Marathon: it is cancelled", "Sat 2 Oct 2027, 14:00 to 17:00: Homecoming match, Gull Field (match), line 32")
	b.get(weighPath+"/2027-10-02", http.StatusOK).has("Homecoming match", "Read in town, line 32.")

	// What it is shows in it, not in its name; a name keeps two apart.
	p = b.sends(`C:\files\town.csv`, "college", []byte("BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nDTSTART;VALUE=DATE:20270918\r\nSUMMARY:Open day\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n"), http.StatusOK)
	p.has("college", "Sat 18 Sep 2027: Open day, line 2", "Homecoming match")
	b.sends("town.csv", "", []byte("name,date\nRegatta,2027-06-12\n"), http.StatusOK).lacks("Homecoming match") // takes the place of the first

	for _, row := range []struct {
		file, fault string
		body        []byte
	}{
		{"page.ics", "page.ics: it cannot be read as a calendar or a table", []byte("<!doctype html><p>Our events</p>")},
		{"empty.csv", "choose a file first; an empty one says nothing", nil},
		{"", "choose a file first", nil},
		{"huge.csv", "the file huge.csv is larger than 5 MB", bytes.Repeat([]byte("name,date\n"), 600_000)},
		{"vast.csv", "the file vast.csv is larger than 5 MB", bytes.Repeat([]byte("name,date\n"), 1_200_000)},
	} {
		b.sends(row.file, "spring", row.body, http.StatusUnprocessableEntity).has(row.fault, `value="spring"`)
	}
	b.post(eventsPath, http.StatusUnprocessableEntity, url.Values{}).has("choose a file first")
	sources, err := s.store.Sources(t.Context(), "maren-and-theo")
	if err != nil || len(sources) != 2 {
		t.Errorf("kept are %d sources: %v", len(sources), err)
	}
}

// However large a file is, what is wrong with it is said. A browser reads no
// answer before it has sent the last of the file, and this does as it does.
func TestVastFiles(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	row := strings.Repeat("Regatta,2027-06-12\n", 1<<16)
	const rows = 40 // 50 MB in all
	for _, sent := range []struct {
		path, says string
		status     int
	}{
		{eventsPath, "the file town.csv is larger than 5 MB", http.StatusUnprocessableEntity},
		{demoDesk + "agreements/catering/copies", "larger than 10 MB", http.StatusUnprocessableEntity},
	} {
		begins := "--xx\r\nContent-Disposition: form-data; name=\"file\"; filename=\"town.csv\"\r\n\r\nname,date\n"
		ends := "\r\n--xx--\r\n"
		req, err := http.NewRequest(http.MethodPost, s.URL+sent.path, nil)
		if err != nil {
			t.Fatal(err)
		}
		conn, err := net.Dial("tcp", req.URL.Host)
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		fmt.Fprintf(conn, "POST %s HTTP/1.1\r\nHost: %s\r\nContent-Type: multipart/form-data; boundary=xx\r\nContent-Length: %d\r\nCookie: %s\r\n\r\n%s",
			sent.path, req.URL.Host, len(begins)+rows*len(row)+len(ends), b.Jar.Cookies(req.URL)[0], begins)
		for range rows {
			if _, err := io.WriteString(conn, row); err != nil {
				t.Fatalf("%s: the connection is cut: %v", sent.path, err)
			}
		}
		fmt.Fprint(conn, ends)
		res, err := http.ReadResponse(bufio.NewReader(conn), req)
		b.page(res, err, sent.status).has(sent.says)
	}
}

// endless is a body that never ends, and counts what is read of it.
type endless struct{ read int64 }

func (e *endless) Read(p []byte) (int, error) {
	e.read += int64(len(p))
	return len(p), nil
}

// Of somebody who is not signed in no more is read than could be kept.
func TestVastFilesOfStrangers(t *testing.T) {
	s := demoSite(t)
	for _, path := range []string{eventsPath, demoDesk + "agreements/catering/copies"} {
		var rest endless
		begins := "--xx\r\nContent-Disposition: form-data; name=\"file\"; filename=\"town.csv\"\r\n\r\n"
		req := httptest.NewRequest(http.MethodPost, path, io.MultiReader(strings.NewReader(begins), &rest))
		req.Header.Set("Content-Type", "multipart/form-data; boundary=xx")
		w := httptest.NewRecorder()
		s.Config.Handler.ServeHTTP(w, req)
		if w.Code != http.StatusUnauthorized || rest.read > 12<<20 {
			t.Errorf("%s answers %d, and %d bytes were read", path, w.Code, rest.read)
		}
	}
}

// Which number of a date is the day is asked, and answered once.
func TestEventsOrder(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	table := []byte("name,date\nSpring parade,03/04/2027\n")
	b.sends("town.csv", "", table, http.StatusOK).has("Line 2 says 03/04/2027. Which number is the day? 1 row waits", "The first: Sat 3 Apr 2027", "The second: Thu 4 Mar 2027")
	p := b.post(eventsPath+"/order", http.StatusOK, url.Values{"source": {"town"}, "order": {"day-month"}})
	p.has("Sat 3 Apr 2027: Spring parade")
	p.lacks("Which number is the day")
	b.get(weighPath+"/2027-04-03", http.StatusOK).has("Spring parade is on that day")
	b.post(eventsPath+"/order", http.StatusNotFound, url.Values{"source": {"town"}, "order": {"upside-down"}})
	b.post(eventsPath+"/order", http.StatusNotFound, url.Values{"source": {"village"}, "order": {"day-month"}})
}

// An event that contradicts the rule of its own editions is shown for a look.
func TestEventsInDoubt(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	table := bytes.Replace(testdata.DemoEvents, []byte("Homecoming match,2027-10-02"), []byte("Homecoming match,2027-10-06"), 1)
	b.sends("town.csv", "", table, http.StatusOK).has("Look at these again", "Line 32: Homecoming match: Wed 6 Oct 2027 is not by the rule of earlier editions")
}

func TestRemoveSource(t *testing.T) {
	s := townSite(t, string(testdata.Demo))
	b := s.planner(t)
	b.get(eventsPath+"/alder-harbor/remove", http.StatusOK).has("Its events count for no day any more", "Leave it as it is")
	b.post(eventsPath+"/alder-harbor/remove", http.StatusOK, url.Values{}).has("Nothing is known of the city yet")
	b.post(eventsPath+"/alder-harbor/remove", http.StatusNotFound, url.Values{})
	b.get(weighPath+"/2027-10-02", http.StatusOK).lacks("Homecoming")
}

// An address is read at once; one on a private network is not, and an address
// that may be a secret stands on no page and in no log.
func TestEventsByAddress(t *testing.T) {
	town := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/s3cret/a.ics", "/s3cret/b.ics":
			fmt.Fprintf(w, "BEGIN:VCALENDAR\r\nBEGIN:VEVENT\r\nDTSTART;VALUE=DATE:20270918\r\nSUMMARY:Regatta %s\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n", r.URL.Path[8:9])
		case "/page":
			fmt.Fprint(w, "<!doctype html><p>Events</p>")
		default:
			http.NotFound(w, r)
		}
	}))
	defer town.Close()
	s := demoSite(t)
	b := s.planner(t)
	p := b.post(eventsPath+"/address", http.StatusUnprocessableEntity, url.Values{"address": {town.URL + "/s3cret/a.ics"}})
	p.has("its server is on a private network or on this machine", "banns events add --private")
	if p.form().Get("address") != town.URL+"/s3cret/a.ics" {
		t.Error("what was typed is gone")
	}
	b.post(eventsPath+"/address", http.StatusUnprocessableEntity, url.Values{"address": {"town.example.org"}}).has("it is no address of the web")

	s = demoSite(t)
	s.desk.Private = true
	b = s.planner(t)
	for _, one := range []string{"a", "b"} {
		p = b.post(eventsPath+"/address", http.StatusOK, url.Values{"address": {town.URL + "/s3cret/" + one + ".ics"}})
		p.has("read again each day", "Regatta "+one)
		p.lacks("s3cret")
	}
	p.has("127-0-0-1-2", "Regatta a") // two of one server are two
	b.post(eventsPath+"/address", http.StatusUnprocessableEntity, url.Values{"address": {town.URL + "/page"}}).has("it is a web page, not a calendar")
	b.post(eventsPath+"/address", http.StatusUnprocessableEntity, url.Values{"address": {town.URL + "/gone"}}).has("there is nothing at this address")
	sources, err := s.store.Sources(t.Context(), "maren-and-theo")
	if err != nil || len(sources) != 2 || sources[0].Address != town.URL+"/s3cret/a.ics" {
		t.Errorf("kept are %+v: %v", sources, err)
	}
	if strings.Contains(s.log.String(), "s3cret") {
		t.Error("the log has the address")
	}
	// Where it cannot be read any more, the copy stays and that is said.
	if err := s.store.KeepTrouble(t.Context(), store.Source{Wedding: sources[0].Wedding, Name: sources[0].Name, Address: sources[0].Address}, "the server answers 500", winter); err != nil {
		t.Fatal(err)
	}
	b.get(eventsPath, http.StatusOK).has("The last try to read it failed", "the server answers 500", "Regatta a")
}

// One event is written down by hand, counts, and is taken out again; a file of
// that name does not take its place.
func TestEventsByHand(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	at := eventsPath + "/written"
	p := b.post(at, http.StatusOK, url.Values{"what": {"Concert in the park"}, "from": {"2027-09-18"}, "where": {"Net Loft Park"}})
	p.has("Added.", "Written down here", "Sat 18 Sep 2027: Concert in the park, Net Loft Park")
	b.post(at, http.StatusOK, url.Values{"what": {"Regatta"}, "from": {"2027-06-12"}, "to": {"2027-06-13"}}).has("Sat 12 Jun 2027 to Sun 13 Jun 2027: Regatta")
	b.get(weighPath+"/2027-09-18", http.StatusOK).has("Concert in the park", "Read in written-here, line 2.")
	b.sends("written-here.csv", "", []byte("name,date\nFair,2027-06-19\n"), http.StatusOK).has("written-here-2", "Concert in the park")

	typed := url.Values{"what": {""}, "from": {"2027-06-12"}, "to": {"2027-06-10"}, "where": {"Gull Field"}}
	p = b.post(at, http.StatusUnprocessableEntity, typed)
	p.has("Nothing was added.", "What is on: nothing is written here", "The last day: it is before the first day")
	if p.form().Get("where") != "Gull Field" && !strings.Contains(p.Text, `value="Gull Field"`) {
		t.Error("what was typed is gone")
	}
	b.post(at, http.StatusUnprocessableEntity, url.Values{"what": {strings.Repeat("x", 300)}, "from": {""}}).has("it is longer than 200 letters", "the day is missing")
	long := strings.Repeat("ø", 200)
	b.post(at, http.StatusOK, url.Values{"what": {long}, "from": {"2027-06-12"}}).has(long)
	b.post(at+"/take", http.StatusOK, url.Values{"row": {long + ",2027-06-12,,,"}}).lacks(long)
	b.post(at, http.StatusUnprocessableEntity, url.Values{"what": {"Fair"}, "from": {"0027-06-12"}}).has("it is not between 1900 and 2200")

	for _, row := range []string{"Concert in the park,2027-09-18,,Net Loft Park,", "Regatta,2027-06-12,2027-06-13,,"} {
		b.post(at+"/take", http.StatusOK, url.Values{"row": {row}}).lacks(row)
	}
	b.post(at+"/take", http.StatusOK, url.Values{"row": {"Regatta,2027-06-12,2027-06-13,,"}}) // it is gone already
	b.get(weighPath+"/2027-09-18", http.StatusOK).lacks("Concert in the park")
	sources, err := s.store.Sources(t.Context(), "maren-and-theo")
	if err != nil || len(sources) != 1 || sources[0].Name != "written-here-2" {
		t.Errorf("kept are %+v: %v", sources, err)
	}
}
