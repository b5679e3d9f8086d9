package desk_test

import (
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"banns/feed"
	"banns/feed/web"
	"banns/store"
	"banns/testdata"
)

const atWedding = "/desk/w/maren-and-theo/"

// theo is the browser of Theo, from whom much is hidden.
func (s *site) theo(t testing.TB) *browser {
	return s.comesIn(t, "Theo", store.Invitation{Wedding: "maren-and-theo", Person: "theo"})
}

// planner is the browser of somebody from whom nothing is hidden.
func (s *site) planner(t testing.TB) *browser {
	b := s.browser(t)
	b.get("/desk/door/open-sesame", http.StatusOK)
	return b
}

// token is the address of somebody's page that holds, or empty.
func (s *site) token(t testing.TB, person string) string {
	t.Helper()
	tokens, err := s.store.Tokens(t.Context(), s.plan(t).Plan.ID)
	if err != nil {
		t.Fatal(err)
	}
	return tokens[person]
}

func TestPeople(t *testing.T) {
	s := demoSite(t)
	p := s.planner(t).get(atWedding+"people", http.StatusOK)
	p.has("The couple", "Maren Okafor", `href="tel:+15550106"`, `href="mailto:priya@example.org"`, "In dress-party, readers",
		"No telephone and no mail yet", "no calendar yet", "Bram Tolliver", "Who can sign in here")
	p.lacks("(you)", "link closed", "No longer in the plan")

	// Bram stands in the plan for nothing but what is hidden from Theo.
	theo := s.theo(t).get(atWedding+"people", http.StatusOK)
	theo.has("Theo Lindqvist</a> (you)", "Priya Nair", "Wendell Oakhurst")
	theo.lacks("Bram", "Who can sign in here")
}

func TestPeopleOfAnEmptyPlan(t *testing.T) {
	s := newSite(t, "banns: 1\nwedding: {title: Ada and Finn, zone: UTC, currency: USD}\n")
	s.planner(t).get("/desk/w/ada-and-finn/people", http.StatusOK).has("Begin with the two who marry", "Add the first")
}

func TestAddingSomebody(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	const at, zoe = atWedding + "add/person", "zoe-angstrom-2"
	form := b.get(at, http.StatusOK).form()
	form.Set("people/+/diet", "no eggs")
	form.Set("measure-1", "dress")
	p := b.post(at, http.StatusUnprocessableEntity, form)
	p.has("Nothing was saved yet", "nobody goes without a name", "choose a part", "how large dress is", `href="#people-new--name"`, `href="#size-1"`)
	form = p.form()
	if form.Get("people/+/diet") != "no eggs" || form.Get("measure-1") != "dress" {
		t.Errorf("what was typed is lost: %v", form)
	}
	form.Set("people/+/name", "Zoë Ångström")
	form.Set("people/+/part", "helper")
	form.Set("people/+/groups", "setup, ushers")
	form.Set("people/+/note", "Afraid of geese")
	form.Set("size-1", "US 6")
	p = b.post(at, http.StatusOK, form)
	if !strings.HasSuffix(p.URL.Path, "/people/"+zoe) {
		t.Errorf("adding leads to %s", p.URL)
	}
	p.has("Saved as version 2", `value="Zoë Ångström"`, `value="setup, ushers"`, "Size: dress", `value="US 6"`, "Afraid of geese")
	if s.token(t, zoe) == "" {
		t.Error("nobody gave her a link")
	}
	form = p.form()
	form.Set("people/"+zoe+"/measures/dress", "")
	form.Set("people/"+zoe+"/name", "Zoë Berg")
	b.post(atWedding+"people/"+zoe, http.StatusOK, form).lacks("Size: dress")
	if who, ok := s.plan(t).Plan.Person(zoe); !ok || who.Name != "Zoë Berg" || len(who.Measures) > 0 || who.Note != "Afraid of geese" {
		t.Errorf("she is kept as %+v", who)
	}
	s.onNobodysPage(t, "geese")
	// Keys are nobody else's, no part's and no group's.
	for _, row := range [][2]string{{"Zoe Ångström", "zoe-angstrom-4"}, {"Helper", "helper-5"}, {"Setup", "setup-6"}, {"李", "person-7"}, {"Bram", "bram-8"}} {
		form := b.get(at, http.StatusOK).form()
		form.Set("people/+/name", row[0])
		form.Set("people/+/part", "helper")
		if p := b.post(at, http.StatusOK, form); !strings.HasSuffix(p.URL.Path, "/people/"+row[1]) {
			t.Errorf("%s is kept as %s", row[0], p.URL.Path)
		}
	}
}

// onNobodysPage fails where a page that somebody has by a link, or their
// calendar, has the text.
func (s *site) onNobodysPage(t *testing.T, text string) {
	t.Helper()
	tokens, err := s.store.Tokens(t.Context(), s.plan(t).Plan.ID)
	if err != nil || len(tokens) < 10 {
		t.Fatalf("%d people have a link: %v", len(tokens), err)
	}
	for _, token := range tokens {
		for _, at := range []string{"/p/" + token, "/c/" + token + ".ics"} {
			s.browser(t).get(at, http.StatusOK).lacks(text)
		}
	}
}

// ofDates are the rows of a page's dates, as they read.
func ofDates(p seenPage) []string {
	var all []string
	for n := range p.root.Descendants() {
		if n.Data != "li" || !strings.HasPrefix(attr(n, "class"), "date") {
			continue
		}
		var text strings.Builder
		for d := range n.Descendants() {
			if d.Type == html.TextNode {
				text.WriteString(d.Data + " ")
			}
		}
		all = append(all, strings.Join(strings.Fields(text.String()), " "))
	}
	return all
}

// besides is what a page says beside its dates: what was changed lately, how
// many dates there are, and what nobody should forget.
func besides(p seenPage) string {
	var all []string
	for n := range p.root.Descendants() {
		class := attr(n, "class")
		caution := n.Data == "p" && regexp.MustCompile(`^(The signed contract governs; a date|A payment must|Give notice in|If the wedding moves, only)`).MatchString(text(n))
		if class == "lately" || class == "count" || caution {
			all = append(all, strings.Join(strings.Fields(text(n)), " "))
		}
	}
	slices.Sort(all)
	return strings.Join(all, "\n")
}

// onPhone are the day and the title of everything in somebody's calendar, in
// order; and rowsOf those of everything that a page shows.
func (b *browser) onPhone(token string) []string {
	b.t.Helper()
	calendar := b.get("/c/"+token+".ics", http.StatusOK).Text
	calendar = strings.NewReplacer("\r\n ", "", `\,`, ",", `\;`, ";").Replace(calendar)
	var all []string
	for _, event := range strings.Split(calendar, "BEGIN:VEVENT")[1:] {
		day := regexp.MustCompile(`DTSTART[^:]*:(\d{4})(\d\d)(\d\d)`).FindStringSubmatch(event)
		what := regexp.MustCompile(`SUMMARY[^:]*:(.*)\r\n`).FindStringSubmatch(event)
		all = append(all, strings.Join(day[1:], "-")+" "+strings.TrimPrefix(what[1], "Withdrawn: "))
	}
	slices.Sort(all)
	return all
}

func rowsOf(p seenPage) []string {
	var all []string
	for n := range p.root.Descendants() {
		switch {
		case n.Data == "time":
			all = append(all, attr(n, "datetime"))
		case attr(n, "class") == "what":
			what, whose := "", ""
			for c := range n.Descendants() {
				if says := strings.TrimSpace(text(c)); what == "" && (c.Data == "summary" || c.Data == "p") {
					what = says
				} else if others, ok := strings.CutPrefix(says, "For "); ok && attr(c, "class") == "where" {
					whose = " (for " + others + ")" // as the calendar has it
				}
			}
			all[len(all)-1] += " " + what + whose
		}
	}
	all = slices.DeleteFunc(all, func(row string) bool { return !strings.Contains(row, " ") }) // of what changed lately
	slices.Sort(all)
	return all
}

func TestAsSomebodySeesIt(t *testing.T) {
	s := demoSite(t)
	b, theo := s.planner(t), s.theo(t)
	// One thing was withdrawn: that stands on their page too.
	b.post(atWedding+"people/ada/out", http.StatusOK, nil)
	edit := store.Edit{Wedding: "maren-and-theo", Seen: 2, Sets: []store.Set{{Path: "appointments/priya-fitting"}, {Path: "occasions/brunch"}}}
	if _, err := s.store.Update(t.Context(), edit, winter); err != nil {
		t.Fatal(err)
	}
	for who, by := range map[string]feed.Reminders{"priya": feed.ByAlarm, "bea": feed.ByBoth, "maren": feed.ByNotice, "odile": feed.ByNone, "june": feed.ByBoth, "arvid": feed.ByAlarm} {
		token := s.token(t, who)
		if err := s.store.SetReminders(t.Context(), token, by, winter); err != nil {
			t.Fatal(err)
		}
		own, seen := b.get("/p/"+token, http.StatusOK), b.get(atWedding+"people/"+who+"/sees", http.StatusOK)
		rows, want := ofDates(seen), ofDates(own)
		if len(want) == 0 || len(rows) < len(want) || !slices.Equal(rows[:len(want)], want) || len(rows) > len(want) != by.Notices() {
			t.Errorf("%s sees\n%s\nand is said to see\n%s", who, strings.Join(want, "\n"), strings.Join(rows, "\n"))
		}
		if want, got := b.onPhone(token), rowsOf(seen); !slices.Equal(got, want) {
			t.Errorf("%s has in their calendar\n%s\nand is said to have\n%s", who, strings.Join(want, "\n"), strings.Join(got, "\n"))
		}
		seen.has("and nothing else does", web.Reminds(by))
		if want, got := besides(own), besides(seen); want == "" || got != want {
			t.Errorf("%s reads besides\n%s\nand is said to read\n%s", who, want, got)
		}
	}
	b.get(atWedding+"people/priya/sees", http.StatusOK).has("Changed lately", "This is what stands on the page of Priya Nair and in their calendar")
	b.get(atWedding+"people/bea/sees", http.StatusOK).has("Their calendar has it too, and the early notices")
	priya := theo.get(atWedding+"people/priya/sees", http.StatusOK)
	priya.has("that you see too", "Rehearsal dinner", "withdrawn", "Morning-after brunch")
	priya.lacks("fitting", "Getting ready", "and nothing else does")
	if own, got := ofDates(b.get("/p/"+s.token(t, "theo"), http.StatusOK)), ofDates(theo.get(atWedding+"people/theo/sees", http.StatusOK)); !slices.Equal(got, own) {
		t.Errorf("Theo sees\n%s\nand is said to see\n%s", strings.Join(own, "\n"), strings.Join(got, "\n"))
	}
}

// A partner changes nothing that would have somebody see what is hidden from
// the partner: they may have had that link before.
func TestPartnersRecastNobody(t *testing.T) {
	s := demoSite(t)
	theo := s.theo(t)
	own := theo.get(atWedding+"people/theo", http.StatusOK)
	own.has("One of the couple", "A planner changes that")
	own.lacks("people/theo/part", "people/theo/groups", "out of the plan")
	form := own.form()
	form.Set("people/theo/part", "planner")
	form.Set("people/theo/groups", "setup")
	form.Set("people/theo/diet", "anything")
	theo.post(atWedding+"people/theo", http.StatusOK, form)
	if who, _ := s.plan(t).Plan.Person("theo"); who.Part != "couple" || who.Groups != nil || who.Diet != "anything" {
		t.Errorf("Theo made himself %+v", who)
	}
	for _, row := range []struct {
		path, field, value string
		status             int
	}{
		{"people/kofi", "part", "planner", http.StatusUnprocessableEntity},
		{"people/kofi", "part", "couple", http.StatusUnprocessableEntity},
		{"people/kofi", "groups", "dress-party", http.StatusUnprocessableEntity}, // who get ready together, hidden from Theo
		{"people/kofi", "groups", "setup", http.StatusOK},
		{"people/kofi", "part", "helper", http.StatusOK},
		{"add/person", "part", "planner", http.StatusUnprocessableEntity},
		{"add/person", "part", "helper", http.StatusOK},
	} {
		form := theo.get(atWedding+row.path, http.StatusOK).form()
		at := "people/kofi/"
		if row.path == "add/person" {
			at = "people/+/"
			form.Set(at+"name", "Somebody Else")
		}
		form.Set(at+row.field, row.value)
		p := theo.post(atWedding+row.path, row.status, form)
		if p.lacks("ready", "fitting"); row.status != http.StatusOK {
			p.has("planner")
		}
	}
	for _, who := range []string{"maren", "odile", "theo"} {
		theo.get(atWedding+"people/"+who+"/out", http.StatusNotFound)
		theo.post(atWedding+"people/"+who+"/out", http.StatusNotFound, nil)
	}
}

func TestTakingSomebodyOut(t *testing.T) {
	s := demoSite(t)
	b := s.planner(t)
	const at = atWedding + "people/bea/out"
	p := b.get(at, http.StatusOK)
	p.has("dates to come in their calendar are shown there as withdrawn", "Their link stays open", "They are asked no more: ", "Menu tasting",
		"The payments of Hollow Oak Table are the couple’s", "The payments of Tin Gull Brass")
	p = b.post(at, http.StatusOK, p.form())
	p.has("Saved as version 2", "No longer in the plan", "Close the link")
	p.lacks("Bea Lindqvist")
	doc := s.plan(t)
	text, err := doc.Text()
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(text), "bea,") || strings.Contains(string(text), "[bea") || doc.Plan.Agreements[1].Payer != "" {
		t.Errorf("something names her still:\n%s", text)
	}
	b.get(at, http.StatusNotFound)
	b.get("/p/"+s.token(t, "bea"), http.StatusOK).has("withdrawn")
	b.get(atWedding+"people/bea/link/close", http.StatusOK).has("Close the link of bea")
	b.post(atWedding+"people/bea/link/close", http.StatusOK, nil).lacks("No longer in the plan")
	if s.token(t, "bea") != "" {
		t.Error("her link still opens")
	}
	b.get(atWedding+"people/bea/link/close", http.StatusNotFound)
	b.get(atWedding+"people/nobody/link/close", http.StatusNotFound)
}

// What is hidden from a partner neither stands in the way of what they do nor
// gives itself away by it.
func TestPartnersTakeSomebodyOut(t *testing.T) {
	s := newSite(t, replaced(t, walkedPlan(t), "zeppelin ride, when: within 5 weeks of the wedding, hide from: [theo]", "zeppelin ride, when: within 5 weeks of the wedding, for: [priya], hide from: [theo, ushers]",
		"fern:    {name: Fern Castelow, part: helper, groups: [setup]", "fern:    {name: Fern Castelow, part: helper, groups: [setup, ushers]"))
	theo := s.theo(t)
	p := theo.get(atWedding+"people/priya/out", http.StatusOK)
	p.has("dates to come in their calendar")
	p.lacks("They are asked no more", "fitting", "zeppelin", "ready") // all that names her is hidden from him
	theo.post(atWedding+"people/priya/out", http.StatusOK, p.form()).lacks("No longer in the plan")
	doc := s.plan(t)
	if got := doc.At("countdown/add/zeppelin/for"); got != nil {
		t.Errorf("%q are asked to what is hidden", got)
	}
	if got := doc.At("countdown/add/zeppelin/hide from"); !slices.Equal(got, []string{"theo", "ushers"}) {
		t.Errorf("it is hidden from %q", got)
	}
	if len(doc.Plan.Away) != 1 || doc.Plan.Away[0].Who != "kofi" {
		t.Errorf("away are %+v", doc.Plan.Away)
	}
	// Without Fern nobody is an usher, and something would be hidden from nobody.
	p = theo.post(atWedding+"people/fern/out", http.StatusUnprocessableEntity, nil)
	p.has("something that this page does not show stands against it")
	p.lacks("zeppelin", "ushers")
	if _, ok := s.plan(t).Plan.Person("fern"); !ok {
		t.Error("Fern is gone")
	}
	s.planner(t).post(atWedding+"people/fern/out", http.StatusUnprocessableEntity, nil).has("zeppelin", "ushers")
}

// Whoever plans all weddings is told of the link that opens somebody's dates
// of several; nobody else is.
func TestJointLinkOfAPerson(t *testing.T) {
	s := newSite(t, string(testdata.Demo), strings.Replace(string(testdata.Demo), "title: Maren and Theo", "title: Ida and Ivo", 1))
	who := []store.Pair{{Wedding: "maren-and-theo", Person: "odile"}, {Wedding: "ida-and-ivo", Person: "odile"}}
	j, err := s.store.Together(t.Context(), "odiles", "The weddings of Odile", who, s.now())
	if err != nil {
		t.Fatal(err)
	}
	b := s.opened(t)
	b.get(atWedding+"people/odile", http.StatusOK).has(`/p/` + j.Token + `">The weddings of Odile</a>, with the dates of other weddings`)
	b.get(atWedding+"people/priya", http.StatusOK).lacks("Also in")
	s.theo(t).get(atWedding+"people/odile", http.StatusOK).lacks("The weddings of Odile", j.Token)
	s.comesIn(t, "Pia", store.Invitation{Wedding: "maren-and-theo"}).get(atWedding+"people/odile", http.StatusOK).lacks("The weddings of Odile")
	if err := s.store.RevokeJoint(t.Context(), "odiles", false, s.now()); err != nil {
		t.Fatal(err)
	}
	b.get(atWedding+"people/odile", http.StatusOK).has("Also in The weddings of Odile, whose link is closed")
}
