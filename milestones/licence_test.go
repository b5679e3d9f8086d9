package milestones

import (
	"strings"
	"testing"
)

// The rules of some places, entered as a planner would write them down, for a
// wedding on Sat 18 Sep 2027 at 16:30. Days were counted by hand.
func TestLicenceWindows(t *testing.T) {
	federal := holidays{d(2027, 9, 6): "Labor Day"}
	rows := []struct {
		source       string
		licence      Licence
		first, last  Date
		hour         string
		inHand, back Date
		doubt        string
	}{
		{"New York: 24 hours, 60 days (Dom. Rel. Law 13-b)",
			Licence{Waits: "24 hours from issue", Lasts: "60 days from issue"},
			d(2027, 7, 20), d(2027, 9, 17), "16:30", d(2027, 9, 17), Date{}, ""},
		{"Texas: 72 hours (Fam. Code 2.204), before the 90th day (2.201)",
			Licence{Waits: "72 hours after issuance", Lasts: "before the 90th day after the issuance", Return: "30 days"},
			d(2027, 6, 21), d(2027, 9, 15), "16:30", d(2027, 9, 17), d(2027, 10, 18), ""},
		{"the same, in other words",
			Licence{Waits: "seventy-two hours from issue", Lasts: "fewer than 90 days from issue"},
			d(2027, 6, 21), d(2027, 9, 15), "16:30", d(2027, 9, 17), Date{}, ""},
		{"California: no wait, 90 days (Fam. Code 356)",
			Licence{Waits: "none", Lasts: "90 days from issue"},
			d(2027, 6, 20), d(2027, 9, 17), "", d(2027, 9, 17), Date{}, ""},
		{"Louisiana: 24 hours (R.S. 9:241), 30 days (R.S. 9:235)",
			Licence{Waits: "24 hours from issue", Lasts: "30 days from issue"},
			d(2027, 8, 19), d(2027, 9, 17), "16:30", d(2027, 9, 17), Date{}, ""},
		{"Minnesota: no wait, six months (517.10 as amended 2016)",
			Licence{Lasts: "six months"},
			d(2027, 3, 18), d(2027, 9, 17), "", d(2027, 9, 17), Date{}, ""},
		// Three days before the issue, and it is fetched on a day on which the
		// office is open: from Wed 15 Sep it would be issued on the Saturday.
		{"the wait before the issue",
			Licence{Waits: "3 days from application", Lasts: "33 days from application", Return: "10 days"},
			d(2027, 8, 16), d(2027, 9, 14), "", d(2027, 9, 17), d(2027, 9, 28), ""},
		{"the life after the wait",
			Licence{Waits: "3 days from application", Lasts: "33 days from issue"},
			d(2027, 8, 13), d(2027, 9, 14), "", d(2027, 9, 17), Date{}, ""},
		{"the wait after the issue",
			Licence{Waits: "3 days from issue", Lasts: "33 days"},
			d(2027, 8, 16), d(2027, 9, 15), "", d(2027, 9, 17), Date{}, ""},
		{"not said: the fewer days of both",
			Licence{Waits: "3 days", Lasts: "33 days"},
			d(2027, 8, 16), d(2027, 9, 14), "", d(2027, 9, 17), Date{}, "the 3 days of waiting and the 33 days of its life"},
		{"business days, Labor Day skipped: applied on 3 Sep it is ready on 13 Sep, on 10 Sep on 17 Sep",
			Licence{Waits: "5 business days from application"},
			Date{}, d(2027, 9, 10), "", d(2027, 9, 17), Date{}, ""},
		{"hours before the issue fill days", Licence{Waits: "48 hours from application"},
			Date{}, d(2027, 9, 15), "", d(2027, 9, 17), Date{}, ""},
	}
	for _, r := range rows {
		p := wedding()
		p.Licence = &r.licence
		w, ok := LicenceWindow(read(t, p), federal)
		hour := ""
		if w.Hour != nil {
			hour = w.Hour.String()
		}
		if !ok || w.First != r.first || w.Last != r.last || hour != r.hour || w.InHand != r.inHand || w.Return != r.back {
			t.Errorf("%s: apply from %s to %s %s, have it by %s, return it by %s; want %s to %s %s, %s, %s",
				r.source, w.First, w.Last, hour, w.InHand, w.Return, r.first, r.last, r.hour, r.inHand, r.back)
		}
		if (w.Doubt == "") != (r.doubt == "") || !strings.Contains(w.Doubt, r.doubt) {
			t.Errorf("%s: in doubt %q, want %q", r.source, w.Doubt, r.doubt)
		}
	}
}

// A wedding on a weekday: the licence is still in hand the day before.
func TestLicenceBeforeAWeekday(t *testing.T) {
	p := weddingOn(d(2027, 9, 7)) // the Tuesday after Labor Day
	p.Licence = &Licence{Waits: "24 hours from issue", Lasts: "30 days from issue"}
	w, _ := LicenceWindow(read(t, p), holidays{d(2027, 9, 6): "Labor Day"})
	if w.Last != d(2027, 9, 3) || w.InHand != d(2027, 9, 3) || w.Hour != nil {
		t.Errorf("apply by %s, have it by %s; want Fri 3 Sep 2027 for both", w.Last, w.InHand)
	}
}

// Clocks go back on Sun 7 Nov 2027 at two: 24 hours before ten is eleven.
func TestLicenceHoursRunByTheClock(t *testing.T) {
	p := weddingOn(d(2027, 11, 8))
	p.Wedding.Start = at(10, 0)
	p.Licence = &Licence{Waits: "72 hours from issue"}
	w, _ := LicenceWindow(read(t, p), NoClosures{})
	if w.Last != d(2027, 11, 5) || w.Hour == nil || w.Hour.String() != "11:00" {
		t.Errorf("issued by %s %v, want Fri 5 Nov 2027, 11:00", w.Last, w.Hour)
	}
}

func TestLicenceMilestones(t *testing.T) {
	p := wedding()
	p.People = []Person{{Key: "ida", Part: Couple}, {Key: "kai", Part: Officiant}}
	p.Licence = &Licence{Office: "Alder County Clerk", Waits: "3 days", Lasts: "33 days", Return: "10 days"}
	p.Away = []Absence{{"ida", d(2027, 8, 23), d(2027, 8, 29)}}
	items := scheduled(t, p, NoClosures{})
	// Fri 27 Aug would be three weeks before; Ida is away, so the Friday before.
	for id, want := range map[string]Date{"countdown/licence": d(2027, 8, 20), "countdown/licence-in-hand": d(2027, 9, 10), "countdown/licence-return": d(2027, 9, 20)} {
		i := items[id]
		if i.Date != want || i.Note != LicenceCaution {
			t.Errorf("%s is on %s with the note %q, want %s and the caution", id, i.Date, i.Note, want)
		}
	}
	if who := items["countdown/licence-return"].For; len(who) != 1 || who[0] != string(Officiant) {
		t.Errorf("%v return the licence, want the officiant", who)
	}
	if q := items["countdown/licence"].Questions; len(q) != 1 || q[0].Doubt != DoubtLicence || q[0].Mend == "" {
		t.Errorf("what the rule leaves open is asked as %+v", q)
	}
	if len(items) != 4 {
		t.Errorf("%d items; a licence alone asks for no countdown", len(items))
	}
}

func TestLicenceRefusals(t *testing.T) {
	for _, r := range []struct {
		licence Licence
		want    string
	}{
		{Licence{Waits: "a while"}, `licence/waits: "a while" is no stretch of time of the office's rule; write it as "3 days from application"`},
		{Licence{Waits: "3 days from tomorrow"}, `licence/waits: "3 days from tomorrow" is no stretch`},
		{Licence{Waits: "fewer than 3 days"}, `licence/waits: a wait has its whole length`},
		{Licence{Lasts: "33"}, `licence/lasts: "33" is no stretch`},
		{Licence{Lasts: "90000 days"}, `licence/lasts: "90000 days" is no stretch`},
		{Licence{Lasts: "720 hours"}, `licence/lasts: only the waiting is counted in hours; write it in days, weeks or months`},
		{Licence{Return: "soon"}, `licence/return within: "soon" is no stretch`},
	} {
		p := wedding()
		p.Licence = &r.licence
		if got := refusal(t, p); !strings.HasPrefix(got, r.want) {
			t.Errorf("%+v: %s\nwant %s", r.licence, got, r.want)
		}
	}
}
