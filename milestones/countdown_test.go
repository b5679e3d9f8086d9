package milestones

import (
	"slices"
	"strings"
	"testing"
)

// catered is a plan with a countdown, and a caterer who needs a headcount.
func catered() *Plan {
	p := wedding(Agreement{Key: "food", With: "Hollow Oak Table", Service: "catering", Signed: d(2026, 10, 2), BusinessDays: MonFri,
		Change: change("final headcount 16 days before the wedding")})
	p.People = []Person{{Key: "ida", Name: "Ida Rook", Part: Couple}, {Key: "fern", Name: "Fern Castelow", Part: Helper}}
	p.Countdown = Countdown{Wanted: true, From: d(2026, 7, 18)}
	return p
}

// keysOf are the keys of the milestones of p.
func keysOf(t *testing.T, p *Plan) (keys []string) {
	t.Helper()
	for _, i := range CountDown(read(t, p), NoClosures{}).Items {
		keys = append(keys, strings.TrimPrefix(i.ID, "countdown/"))
	}
	return keys
}

func TestWhoAsksForNoneGetsNone(t *testing.T) {
	p := catered()
	p.Countdown = Countdown{From: d(2026, 7, 18)}
	if keys := keysOf(t, p); len(keys) != 0 {
		t.Errorf("a plan without a countdown has %v", keys)
	}
}

// What does not apply is left out: services that the plan does not have, and
// what few guests can do without.
func TestCountdownFitsThePlan(t *testing.T) {
	for _, r := range []struct {
		name      string
		change    func(p *Plan)
		with, not string
	}{
		{"nothing but a date", func(p *Plan) { p.Agreements = nil }, "guest-list attire wedding-party licence-rule thank-you-notes", "seating menu hair-trial walkthrough party-attire rooms"},
		{"a caterer", func(p *Plan) {}, "seating place-cards menu count", "hair-trial walkthrough"},
		{"hair, a venue and rooms", func(p *Plan) {
			p.Agreements = append(p.Agreements, Agreement{Key: "hair", With: "Comb", Service: "hair and makeup", Signed: d(2026, 10, 2), Standing: Signed, BusinessDays: Banks},
				Agreement{Key: "hall", With: "The Hall", Service: "venue", Signed: d(2026, 10, 2), Standing: Signed, BusinessDays: Banks},
				Agreement{Key: "inn", With: "The Inn", Service: "hotel rooms", Signed: d(2026, 10, 2), Standing: Signed, BusinessDays: Banks})
		}, "hair-trial walkthrough rooms", ""},
		{"a quote is no agreement", func(p *Plan) {
			p.Agreements = append(p.Agreements, Agreement{Key: "hair", With: "Comb", Service: "hair", Standing: Quoted, BusinessDays: Banks})
		}, "", "hair-trial"},
		{"a hotel suite is no suit", func(p *Plan) {
			p.Agreements = append(p.Agreements, Agreement{Key: "inn", With: "The Inn", Service: "suite", Signed: d(2026, 10, 2), Standing: Signed, BusinessDays: Banks})
		}, "attire", "suits first-fitting"},
		{"attendants are asked already", func(p *Plan) { p.People = append(p.People, Person{Key: "priya", Part: Attendant}) }, "party-attire", "wedding-party"},
		{"twenty guests", func(p *Plan) { p.Agreements[0].Price = Price{Each: new(Money(98_00)), Count: 20} }, "count replies", "save-the-dates seating place-cards"},
		{"twenty-one guests", func(p *Plan) { p.Agreements[0].Price = Price{Each: new(Money(98_00)), Count: 21} }, "save-the-dates seating place-cards", ""},
		{"the contract sets the menu", func(p *Plan) { p.Agreements[0].Change = change("menu choice 60 days before the wedding") }, "", "menu"},
		{"the plan holds the walkthrough", func(p *Plan) {
			p.Agreements = append(p.Agreements, Agreement{Key: "hall", With: "The Hall", Service: "venue", Signed: d(2026, 10, 2), Standing: Signed, BusinessDays: Banks})
			p.Appointments = []Appointment{{Meeting{Key: "w", What: "Venue walkthrough", When: Timing{Says: "on 2027-08-24"}}}}
		}, "timeline", "walkthrough"},
		{"moved or ticked off, it has its use", func(p *Plan) {
			p.Countdown.Move = []Move{{"hair-trial", Timing{Says: "7 weeks before the wedding"}}}
			p.Countdown.Done = []NamedDate{{"walkthrough", d(2027, 8, 20)}}
		}, "hair-trial walkthrough", "rooms"},
		{"dropped", func(p *Plan) { p.Countdown.Drop = []string{"rings", "seating"} }, "place-cards", "rings seating"},
	} {
		p := catered()
		r.change(p)
		keys := keysOf(t, p)
		for _, key := range strings.Fields(r.with) {
			if !slices.Contains(keys, key) {
				t.Errorf("%s: %s is missing", r.name, key)
			}
		}
		for _, key := range strings.Fields(r.not) {
			if slices.Contains(keys, key) {
				t.Errorf("%s: %s is not left out", r.name, key)
			}
		}
	}
}

// What waits for something that is dropped waits for what that waited for.
func TestDroppedKeepsTheOrder(t *testing.T) {
	p := catered()
	p.Countdown.Drop = []string{"guest-addresses", "save-the-dates"}
	i := scheduled(t, p, NoClosures{})["countdown/invitations"]
	if !slices.Contains(i.Aim.After, "countdown/guest-list") {
		t.Errorf("the invitations wait for %v", i.Aim.After)
	}
}

// The demo's headcount is on Thu 2 Sep. Four days earlier, on Sun 29 Aug, it
// is to be given by the Friday: the replies come in by the Monday before.
func TestRepliesFollowTheHeadcount(t *testing.T) {
	days := func(headcount string) (replies, count Date) {
		p := catered()
		p.Agreements[0].Change = change(headcount)
		all := scheduled(t, p, NoClosures{})
		return all["countdown/replies"].Date, all["countdown/count"].Date
	}
	for _, r := range []struct {
		says           string
		replies, count Date
	}{
		{"final headcount 16 days before the wedding", d(2027, 8, 28), d(2027, 9, 1)},
		{"final headcount 20 days before the wedding", d(2027, 8, 23), d(2027, 8, 26)},
		{"guaranteed number of guests 20 days before the wedding", d(2027, 8, 23), d(2027, 8, 26)},
		{"menu 20 days before the wedding", d(2027, 8, 28), d(2027, 9, 1)},
	} {
		if replies, count := days(r.says); replies != r.replies || count != r.count {
			t.Errorf("%q: replies by %s and the count by %s, want %s and %s", r.says, replies, count, r.replies, r.count)
		}
	}
}

// Attire is ordered before the fittings that the plan holds; one that is
// hidden from somebody counts for nothing.
func TestAttireComesBeforeTheFittings(t *testing.T) {
	p := catered()
	p.Countdown.From = d(2026, 7, 18)
	bare := scheduled(t, p, NoClosures{})["countdown/attire"]
	p.Appointments = []Appointment{{Meeting{Key: "f", What: "First fitting", When: Timing{Says: "on 2027-01-10"}, Hide: []string{"ida"}}}}
	if i := scheduled(t, p, NoClosures{})["countdown/attire"]; i.Date != bare.Date || i.Aim.Latest != bare.Aim.Latest {
		t.Errorf("a hidden fitting moves the attire from %s to %s", bare.Date, i.Date)
	}
	p.Appointments[0].Hide = nil
	i := scheduled(t, p, NoClosures{})["countdown/attire"]
	if i.Date != d(2027, 1, 9) || i.Aim.Latest != d(2027, 1, 9) {
		t.Errorf("the attire is ordered by %s and no later than %s, want the day before the fitting", i.Date, i.Aim.Latest)
	}
	if !strings.Contains(strings.Join(i.Aim.Why, " "), "It comes before First fitting on Sun 10 Jan 2027.") {
		t.Errorf("it says %v", i.Aim.Why)
	}
}

// A hidden agreement or appointment moves nothing that others see.
func TestHiddenThingsMoveNoMilestone(t *testing.T) {
	day := func(p *Plan) string {
		var all []string
		for _, i := range CountDown(read(t, p), NoClosures{}).Items {
			all = append(all, i.ID+" "+i.Date.String()+" "+i.Aim.Latest.String()+strings.Join(i.Aim.Why, " "))
		}
		return strings.Join(all, "\n")
	}
	p := catered()
	before := day(p)
	p.Agreements = append(p.Agreements, Agreement{Key: "brass", With: "Tin Gull Brass", Service: "music, hair and venue", Signed: d(2026, 11, 14), Standing: Signed,
		BusinessDays: Banks, Hide: []string{"couple"}, Change: change("final headcount 40 days before the wedding")})
	p.Agreements[0].Papers = []Paper{{Line: Line{Says: "meal list 30 days before the wedding", Hide: []string{"fern"}}}}
	p.Appointments = []Appointment{{Meeting{Key: "s", What: "Surprise trial and walkthrough", When: Timing{Says: "on 2027-08-01"}, Hide: []string{"couple"}}}}
	if after := day(p); after != before {
		t.Errorf("was\n%s\nand is\n%s", before, after)
	}
}

func TestMovedMilestoneStandsWhereItIs(t *testing.T) {
	p := catered()
	p.Countdown.Move = []Move{{"invitations", Timing{Says: "3 weeks before the wedding"}}}
	all := scheduled(t, p, NoClosures{})
	// The replies would want three weeks, and to be in by Sat 28 Aug.
	i := all["countdown/invitations"]
	if i.Date != d(2027, 8, 28) || i.LateBy == nil || *i.LateBy != 21 || i.Rule != "3 weeks before the wedding" {
		t.Errorf("the invitations stand on %s, late by %v", i.Date, i.LateBy)
	}
	if want := "What would give: send them by e-mail or by hand, and ask for an answer sooner; or ask Hollow Oak Table for 21 days more."; !strings.HasSuffix(i.Aim.Late, want) {
		t.Errorf("it says %q", i.Aim.Late)
	}
	if r := all["countdown/replies"]; r.Date != d(2027, 9, 18) || r.LateBy == nil || *r.LateBy != 21 {
		t.Errorf("the replies are in by %s, late by %v; want three weeks after the invitations", r.Date, r.LateBy)
	}
	if says := all["countdown/replies"].Aim.Late; !strings.Contains(says, "it waits for the invitations.") {
		t.Errorf("the replies say %q", says)
	}
	p.Countdown.Move = []Move{{"seating", Timing{Says: "on 2027-08-20 by 12:00"}}}
	all = scheduled(t, p, NoClosures{})
	// Seating before there are replies is told, and stands where it was put.
	if s := all["countdown/seating"]; s.Date != d(2027, 8, 20) || s.LateBy == nil || s.Clock == nil || !strings.Contains(s.Aim.Late, "It is set too early: it waits for the number of guests, and cannot be before Tue 24 Aug 2027, 4 days later.") {
		t.Errorf("the seating stands on %s %v, late by %v: %s", s.Date, s.Clock, s.LateBy, s.Aim.Late)
	}
}

func TestAddedMilestoneWaits(t *testing.T) {
	p := catered()
	p.Occasions = []Occasion{{Meeting{Key: "rehearsal", What: "Rehearsal", When: Timing{Says: "1 day before the wedding"}}}}
	p.Away = []Absence{{"fern", d(2027, 9, 10), d(2027, 9, 20)}}
	p.Countdown.Add = []Milestone{
		{Key: "bags", What: "Fill the bags", When: Timing{Says: "3 days before the wedding"}, Takes: "2 days", After: []string{"place-cards"}, For: []string{"fern"}},
		{Key: "toast", What: "Write the toast", When: Timing{Says: "on the day"}, Takes: "1 week", After: []string{"Rehearsal"}},
		{Key: "rings", What: "Have the rings forged", When: Timing{Says: "10 weeks before the wedding"}},
	}
	all := scheduled(t, p, NoClosures{})
	bags := all["countdown/bags"]
	if bags.Date != d(2027, 9, 15) || bags.LateBy != nil || !slices.Equal(bags.Aim.After, []string{"countdown/place-cards"}) {
		t.Errorf("the bags are filled by %s, late by %v, after %v", bags.Date, bags.LateBy, bags.Aim.After)
	}
	if cards := all["countdown/place-cards"]; cards.Date != d(2027, 9, 13) || cards.Aim.Latest != d(2027, 9, 13) {
		t.Errorf("the place cards are to be ready two days before the bags, on 13 Sep, and are on %s", cards.Date)
	}
	if len(bags.Questions) != 1 || !strings.Contains(bags.Questions[0].Says, "Fern Castelow is away from Fri 10 Sep 2027 to Mon 20 Sep 2027") || bags.Questions[0].Settles() {
		t.Errorf("Fern is away, and it asks %+v", bags.Questions)
	}
	if toast := all["countdown/toast"]; toast.LateBy == nil || *toast.LateBy != 6 {
		t.Errorf("a week after Fri 17 Sep is six days after the wedding; it is late by %v", toast.LateBy)
	}
	if rings := all["countdown/rings"]; rings.Title != "Have the rings forged" || rings.Date != d(2027, 7, 10) {
		t.Errorf("the plan's own rings are %q on %s", rings.Title, rings.Date)
	}
}

// The post does not run on Sundays and holidays, and an office is shut on
// Saturdays too; what needs somebody waits until they are back.
func TestClosedDaysAndAbsences(t *testing.T) {
	p := weddingOn(d(2027, 9, 19), Agreement{Key: "hall", Service: "venue", Signed: d(2026, 10, 2)}) // a Sunday, so leads in weeks are too
	p.People = []Person{{Key: "ida", Part: Couple}}
	p.Countdown = Countdown{Wanted: true, From: d(2026, 7, 18)}
	p.Away = []Absence{{"ida", d(2027, 8, 26), d(2027, 8, 31)}}
	all := scheduled(t, p, holidays{d(2027, 3, 20): "a holiday", d(2027, 7, 24): "a holiday"})
	for id, want := range map[string]Date{
		"save-the-dates": d(2027, 3, 19), // 26 weeks before is Sun 21 Mar, and the Saturday is a holiday
		"invitations":    d(2027, 7, 23), // 8 weeks before is Sun 25 Jul, the same
		"guest-list":     d(2026, 11, 8), // a Sunday will do
		"walkthrough":    d(2027, 8, 25), // 3 weeks before is Sun 29 Aug, and Ida is away
		"place-cards":    d(2027, 9, 15), // left out below: no caterer
	} {
		i, here := all["countdown/"+id]
		if id == "place-cards" {
			if here {
				t.Errorf("place cards without a caterer")
			}
			continue
		}
		if i.Date != want {
			t.Errorf("%s is on %s, want %s", id, i.Date, want)
		}
	}
	p.Countdown.From = d(2027, 8, 24) // so late that it cannot be before Ida leaves
	p.Away[0].From = d(2027, 8, 24)
	if i := scheduled(t, p, NoClosures{})["countdown/walkthrough"]; i.Date != d(2027, 9, 1) {
		t.Errorf("the walkthrough is on %s, want the day after Ida is back", i.Date)
	}
}

// What was ticked off was waited for, so that is done too; and what waits for
// it begins from that day.
func TestTickedOff(t *testing.T) {
	p := catered()
	p.Countdown.Done = []NamedDate{{"guest-addresses", d(2026, 11, 15)}, {"replies", d(2027, 9, 10)}}
	all := scheduled(t, p, NoClosures{})
	for key, want := range map[string]Date{"guest-list": d(2026, 11, 15), "guest-addresses": d(2026, 11, 15), "invitations": d(2027, 9, 10)} {
		if i := all["countdown/"+key]; i.Done != want || i.Date != want {
			t.Errorf("%s is done on %s and stands on %s, want %s", key, i.Done, i.Date, want)
		}
	}
	if i := all["countdown/count"]; i.Date != d(2027, 9, 13) || i.LateBy == nil {
		t.Errorf("the count is on %s, late by %v; want three days after the replies", i.Date, i.LateBy)
	}
}

// While the wedding has no date nothing has a day but what is done, or was
// given one.
func TestCountdownWaitsForTheDate(t *testing.T) {
	p := catered()
	p.Wedding.Date = Date{}
	p.Countdown.Done = []NamedDate{{"guest-list", d(2026, 11, 15)}}
	p.Countdown.Move = []Move{{"rings", Timing{Says: "by 2027-03-01"}}}
	p.Licence = &Licence{Waits: "3 days"}
	for _, i := range CountDown(read(t, p), NoClosures{}).Items {
		switch i.ID {
		case "countdown/guest-list", "countdown/rings":
			if i.Undated() {
				t.Errorf("%s has no day", i.ID)
			}
		default:
			if i.WaitsFor != "the wedding date" || i.LateBy != nil {
				t.Errorf("%s waits for %q on %s, late by %v", i.ID, i.WaitsFor, i.Date, i.LateBy)
			}
		}
	}
}

// What holds everything up runs from where it begins to the deadline.
func TestWhatHoldsEverythingUp(t *testing.T) {
	p := catered()
	p.Countdown.From = d(2027, 7, 10)
	drawn := CountDown(read(t, p), NoClosures{})
	// Guest list 3 days, printing 14, posting 3: from Sat 10 Jul that is Fri 30
	// Jul, and with three weeks to answer Fri 20 Aug. The replies are needed by
	// Sat 28 Aug, so that the count is fixed by Wed 1 Sep.
	want := "the guest list, the printed invitations, the invitations, the replies, the final headcount that Hollow Oak Table needs by Thu 2 Sep 2027"
	if got := strings.Join(drawn.Chain, ", "); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	if drawn.Room != 8 {
		t.Errorf("%d days can be lost, want 8", drawn.Room)
	}
}

func TestCountdownRefusals(t *testing.T) {
	own := func(m Milestone) func(*Countdown) {
		m.Key, m.What, m.When.Says = "bags", "Bags", "3 days before the wedding"
		return func(c *Countdown) { c.Add = []Milestone{m} }
	}
	for _, r := range []struct {
		change func(*Countdown)
		want   string
	}{
		{func(c *Countdown) { c.Drop = []string{"rings", "engagment-party"} }, `countdown/drop[2]: the countdown has nothing called "engagment-party"; did you mean "engagement-party"?`},
		{func(c *Countdown) { c.Done = []NamedDate{{"guest-adresses", d(2026, 11, 15)}} }, `countdown/done/guest-adresses: the countdown has nothing called "guest-adresses"; did you mean "guest-addresses"?`},
		{func(c *Countdown) { c.Move = []Move{{"yoga", Timing{Says: "on the day"}}} }, `countdown/move/yoga: the countdown has nothing called "yoga"; "banns countdown" shows the key of each milestone`},
		{func(c *Countdown) { c.Move = []Move{{"rings", Timing{Says: "within 3 weeks of the wedding"}}} }, `countdown/move/rings: "within 3 weeks of the wedding" leaves the day open; say the day, as "9 weeks before the wedding"`},
		{own(Milestone{Takes: "a while"}), `countdown/add/bags/takes: "a while" is no number of days or weeks; write it as 1 day or 2 weeks`},
		{own(Milestone{Takes: "2 months"}), `countdown/add/bags/takes: "2 months" is no number of days or weeks`},
		{own(Milestone{After: []string{"replise"}}), `countdown/add/bags/after: nothing here is called "replise"; did you mean "replies"?`},
		{own(Milestone{After: []string{"bags"}}), `countdown/add/bags/after: these wait for each other: bags -> bags; take one of them out`},
	} {
		p := catered()
		r.change(&p.Countdown)
		if got := refusal(t, p); !strings.HasPrefix(got, r.want) {
			t.Errorf("%s\nwant %s", got, r.want)
		}
	}
	p := catered()
	p.Countdown.Add = []Milestone{
		{Key: "a", What: "A", When: Timing{Says: "on the day"}, After: []string{"b"}},
		{Key: "b", What: "B", When: Timing{Says: "on the day"}, After: []string{"a"}},
	}
	if got, want := refusal(t, p), "countdown/add/a/after: these wait for each other: a -> b -> a; take one of them out"; got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
}

// Every row of the default countdown is whole, and waits for rows that are
// there.
func TestDefaultCountdownIsWhole(t *testing.T) {
	keys := customKeys()
	for _, c := range defaultCountdown {
		if c.title == "" || c.noun == "" || c.usual == "" || c.gives+c.spare == "" {
			t.Errorf("%s says too little", c.key)
		}
		if l := c.lead; l.earliest < l.ideal || l.ideal < l.latest {
			t.Errorf("%s: its leads are not in order: %v", c.key, l)
		}
		for _, first := range c.after {
			if !slices.Contains(keys, first) {
				t.Errorf("%s waits for %q, which is no row", c.key, first)
			}
		}
	}
}
