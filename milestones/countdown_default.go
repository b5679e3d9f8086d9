package milestones

// The default countdown: what lies between the agreements' own dates. Nobody
// signed any of it, so it is common practice, and a plan drops, moves or
// replaces whatever it does otherwise. The rows stand about in the order of
// their days; what holds is their leads and what each waits for.
//
// Leads are days before the wedding, negative ones after it: the first day on
// which it makes sense, the day to aim for, and the last that still does.
// What has no source is common practice. No lead is in months, so that moving
// the wedding never moves a milestone by more.
var defaultCountdown = []custom{
	{
		key: "engagement-party", title: "Hold the engagement party, if there is to be one", noun: "the engagement party",
		lead: lead{60 * week, 48 * week, 35 * week}, takes: 3 * week,
		usual: "8 to 13 months before the wedding, with three weeks' notice to those who are asked",
		spare: "there is no time for it; the wedding itself is near enough",
	}, {
		key: "wedding-party", title: "Ask those who are to stand up with you", noun: "the wedding party",
		lead: lead{60 * week, 44 * week, 9 * week}, takes: 1 * week,
		usual:   "8 to 12 months before the wedding, so that they can plan and save",
		unless:  Attendant,
		settled: "the plan names them",
		gives:   "ask by telephone, and settle what they wear the same day",
	}, {
		key: "guest-list", title: "Settle the guest list", noun: "the guest list",
		lead: lead{60 * week, 45 * week, 7 * week}, takes: 3,
		usual: "before anything is sent, printed or ordered by the head",
		gives: "settle it in one evening, each side its half",
	}, {
		key: "guest-addresses", title: "Gather the guests' addresses", noun: "the addresses",
		lead: lead{52 * week, 36 * week, 6 * week}, takes: 1 * week,
		after: []string{"guest-list"},
		usual: "before the first thing is posted",
		gives: "let somebody in each family gather theirs",
	}, {
		key: "save-the-dates", title: "Post the save-the-dates", noun: "the save-the-dates",
		lead: lead{35 * week, 26 * week, 17 * week}, takes: 2 * week, open: postDays,
		after: []string{"guest-addresses"},
		usual: "4 to 8 months before the wedding", source: "Protocol School of Texas",
		few:   true,
		spare: "there is no time for them; the invitations do their work, and a call to those who travel far",
	}, {
		key: "attire", title: "Order the wedding attire", noun: "the attire",
		lead: lead{39 * week, 35 * week, 26 * week}, takes: 1 * week,
		serves: []thing{meetings(1, "fitting")},
		usual:  "6 to 9 months before the wedding, since it is made to order", source: "consumer handbook, krcu.org",
		signed: attireServices,
		gives:  "order off the rack, or ask the shop what it can hurry and at what charge",
	}, {
		key: "party-attire", title: "Order what the wedding party wears", noun: "the wedding party's attire",
		lead: lead{35 * week, 26 * week, 13 * week}, takes: 1 * week,
		after: []string{"wedding-party", "attire"}, serves: []thing{meetings(1, "fitting")},
		usual:  "3 to 8 months before the wedding, after the couple's own",
		having: Attendant,
		gives:  "take what the shop has in stock, or let each wear something of their own in one color",
	}, {
		key: "rings", title: "Buy the rings", noun: "the rings",
		lead: lead{26 * week, 16 * week, 6 * week}, takes: 4 * week,
		usual: "6 weeks to 6 months before the wedding; sizing and engraving take about four weeks",
		gives: "buy from stock, and have them engraved afterwards",
	}, {
		key: "invitation-order", title: "Word the invitations, and have them printed", noun: "the printed invitations",
		lead: lead{20 * week, 14 * week, 6 * week}, takes: printing,
		after: []string{"guest-list"},
		held:  []thing{terms(printing, "wording", "proof").of("stationery", "stationer", "printing", "printer", "invitations")},
		usual: "two to four months before the wedding; printing takes about two weeks",
		gives: "print them ready-made, or send them by e-mail",
	}, {
		key: "licence-rule", title: "Ask the office how the marriage licence is had", noun: "the licence office's rule",
		lead:  lead{40 * week, 26 * week, 8 * week},
		usual: "well ahead; each place has its own waiting time and papers, and the plan reckons with the rule of your own office, once you have written it",
		gives: "telephone the office today",
	}, {
		key: "invitations", title: "Post the invitations", noun: "the invitations",
		lead: lead{12 * week, 8 * week, 6 * week}, takes: 3, open: postDays,
		after: []string{"guest-addresses", "save-the-dates", "invitation-order"},
		usual: "6 to 8 weeks before the wedding, and 12 where guests travel far", source: "Protocol School of Texas",
		gives: "send them by e-mail or by hand, and ask for an answer sooner",
	}, {
		key: "suits", title: "Have the suits measured", noun: "the measuring",
		lead:  lead{13 * week, 11 * week, 8 * week},
		after: []string{"attire"}, serves: []thing{terms(1, "suit sizes", "measurements", "sizes")},
		held:  []thing{meetings(0, "measuring")},
		usual: "2 to 3 months before the wedding", of: []string{"suit", "tailor"}, needs: []string{string(Couple)},
		gives: "ask the shop whether sizes by telephone will do",
	}, {
		key: "rooms", title: "Remind the guests to take their rooms", noun: "the reminder about rooms",
		lead:  lead{11 * week, 7 * week, 4 * week},
		after: []string{"invitations"}, serves: []thing{terms(1*week, "release", "rooming list").of(roomServices...)},
		usual: "a week or more before the rooms held for guests are given back", of: roomServices,
		gives: "telephone those who travel far",
	}, {
		key: "first-fitting", title: "Keep the first fitting", noun: "the first fitting",
		lead:  lead{10 * week, 8 * week, 6 * week},
		after: []string{"attire"}, held: []thing{meetings(0, "fitting")},
		usual: "about 8 weeks before the wedding", of: attireServices, needs: []string{string(Couple)},
		gives: "ask the shop for one long fitting in place of two",
	}, {
		key: "ceremony", title: "Settle the ceremony: readings, vows and their order", noun: "the order of the ceremony",
		lead: lead{12 * week, 6 * week, 3 * week}, takes: 2 * week,
		waits:  []thing{meetings(0, "planning the ceremony", "ceremony talk", "officiant")},
		serves: []thing{terms(1, "processional", "readings", "order of service", "ceremony order")},
		usual:  "3 to 12 weeks before the wedding",
		who:    []string{string(Couple), string(Officiant)}, needs: []string{string(Couple), string(Officiant)},
		gives: "use the officiant's usual form",
	}, {
		key: "menu", title: "Choose the menu", noun: "the menu",
		lead: lead{10 * week, 6 * week, 4 * week},
		held: []thing{terms(0, "menu").of(foodServices...)}, waits: []thing{meetings(0, "tasting")},
		usual: "3 to 4 weeks before the wedding at the latest", source: "UNCO catering", of: foodServices,
		gives: "ask the caterer to propose one",
	}, {
		key: "hair-trial", title: "Have the hair and makeup trial", noun: "the trial",
		lead:  lead{8 * week, 6 * week, 4 * week},
		held:  []thing{meetings(0, "trial")},
		usual: "4 to 8 weeks before the wedding", of: hairServices, needs: []string{string(Couple)},
		gives: "send pictures, and leave half an hour more on the day",
	}, {
		key: "rehearsal-call", title: "Tell those who are in the rehearsal when and where it is", noun: "the call to the rehearsal",
		lead:  lead{10 * week, 5 * week, 2 * week},
		usual: "a month or so before, while they can still arrange to be free", met: []thing{meetings(0, "rehearsal")},
		gives: "telephone each of them",
	}, {
		key: "second-fitting", title: "Keep the second fitting", noun: "the second fitting",
		lead: lead{5 * week, 4 * week, 3 * week}, takes: 1 * week,
		after: []string{"first-fitting"}, held: []thing{meetings(0, "fitting")},
		usual: "about 4 weeks before the wedding", of: attireServices, needs: []string{string(Couple)},
		gives: "leave it out if the first one sat well",
	}, {
		key: "shot-list", title: "Write the list of pictures you want", noun: "the list of pictures",
		lead:  lead{5 * week, 3 * week, 2 * week},
		held:  []thing{terms(0, "shot list", "picture list", "group list")},
		usual: "2 to 4 weeks before the wedding", of: []string{"photo"},
		gives: "name the family groups alone",
	}, {
		key: "song-list", title: "Choose the songs that matter", noun: "the songs",
		lead:  lead{5 * week, 3 * week, 2 * week},
		held:  []thing{terms(0, "song list", "songs", "playlist")},
		usual: "2 to 4 weeks before the wedding", of: []string{"music", "band", "dj"},
		gives: "name the first dance and what must not be played",
	}, {
		key: "walkthrough", title: "Walk through the day at the venue", noun: "the walkthrough",
		lead:  lead{4 * week, 3 * week, 2 * week},
		held:  []thing{meetings(0, "walkthrough", "walk-through", "site visit")},
		usual: "2 to 4 weeks before the wedding", of: venueServices, needs: []string{string(Couple), string(Planner)},
		gives: "go over it by telephone with the floor plan in hand",
	}, {
		key: "replies", title: "Have the replies in", noun: "the replies",
		lead: lead{5 * week, 3 * week, 2 * week}, takes: 3 * week, open: postDays,
		after: []string{"invitations"},
		usual: "2 to 3 weeks before the wedding; guests want three weeks to answer", source: "Protocol School of Texas",
		gives: "ask for answers by telephone",
	}, {
		key: "timeline", title: "Write the running order of the day, and send it round", noun: "the running order",
		lead: lead{4 * week, 3 * week, 8}, takes: 3,
		after: []string{"walkthrough"}, serves: []thing{terms(1, "arrival times", "running order", "timeline", "schedule of the day")},
		usual: "1 to 4 weeks before the wedding", who: []string{string(Planner)},
		gives: "send the hours of arrival first, and the rest when it is known",
	}, {
		key: "count", title: "Call those who have not replied, and fix the number of guests", noun: "the number of guests",
		lead: lead{4 * week, 17, 1 * week}, takes: 3,
		after: []string{"replies"}, serves: []thing{terms(1, headcountWords...)},
		usual: "two or three weeks before the wedding, as soon as the replies are in", source: "Protocol School of Texas",
		gives: "count those who have not answered as coming; the number may often rise and seldom fall",
	}, {
		key: "last-fitting", title: "Keep the last fitting", noun: "the last fitting",
		lead: lead{2 * week, 11, 1 * week}, takes: 1 * week,
		after: []string{"second-fitting"}, held: []thing{meetings(0, "fitting")},
		usual: "1 to 2 weeks before the wedding", of: attireServices, needs: []string{string(Couple)},
		gives: "ask for it on the day of collection",
	}, {
		key: "seating", title: "Draw up the seating plan", noun: "the seating plan",
		lead: lead{3 * week, 10, 4}, takes: 3,
		after: []string{"count"}, serves: []thing{terms(1, "seating", "meal list", "table plan", "table list", "place cards")},
		usual: "once the replies are in", of: foodServices, few: true,
		gives: "give each guest a table and not a chair",
	}, {
		key: "confirm", title: "Confirm hours and places with everyone who works on the day", noun: "the confirmations",
		lead: lead{2 * week, 1 * week, 3}, takes: 2,
		after: []string{"timeline", "count"},
		usual: "in the two weeks before the wedding", who: []string{string(Planner)},
		gives: "begin with the venue, the food and whoever marries you",
	}, {
		key: "place-cards", title: "Write the place cards", noun: "the place cards",
		lead: lead{10, 4, 1}, takes: 2,
		after: []string{"seating"},
		usual: "in the last days, once the seating plan stands", of: foodServices, few: true,
		gives: "put a list at the door instead",
	}, {
		key: "envelopes", title: "Put the envelopes for the day together", noun: "the envelopes",
		lead:  lead{1 * week, 3, 1},
		usual: "in the last week: what is handed over on the day, each with a name on it, for one person to carry",
		gives: "name somebody to do it",
	}, {
		key: "try-on", title: "Have everything that is worn at home, and try it on", noun: "the trying on",
		lead:  lead{1 * week, 4, 1},
		after: []string{"last-fitting"}, waits: []thing{meetings(0, "collection", "pickup", "pick-up")},
		usual: "in the last week, while a seam can still be mended",
		gives: "send somebody to fetch it",
	}, {
		key: "thank-you-notes", title: "Write the thank-you notes", noun: "the thank-you notes",
		lead:  lead{-1, -4 * week, -13 * week},
		usual: "within 3 months of each gift", source: "Emily Post Institute",
		gives: "a late note is better than none",
	},
}

const (
	week     = 7
	printing = 2 * week // from the last proof to the boxes
	fewMost  = 20       // guests who can be called, and who fit one long table
)

// Words that services and terms go by.
var (
	attireServices = []string{"dress", "gown", "attire", "bridal", "suit", "tailor"}
	foodServices   = []string{"catering", "caterer", "food", "dinner"}
	hairServices   = []string{"hair", "hairdresser", "makeup", "make-up"}
	roomServices   = []string{"room", "hotel", "lodging"}
	venueServices  = []string{"venue", "hall"}
	headcountWords = []string{"headcount", "head count", "guest count", "number of guests", "guest numbers",
		"final numbers", "final count", "guarantee", "servings", "rental counts", "place settings"}
)

// custom is one row of the default countdown.
type custom struct {
	key   string
	title string // what to do
	noun  string // what it is called where something else waits for it

	lead  lead
	takes int // days of work
	open  openDays
	usual string // when people do it
	// source is who says so; empty: common practice.
	source string

	after  []string // milestones that must come before
	waits  []thing  // of the plan, which must come before
	serves []thing  // of the plan, before which it must come
	held   []thing  // where the plan holds one of these, it stands for the milestone

	of      []string // only with an agreement for one of these services
	having  Part     // only with somebody of that part
	unless  Part     // not with somebody of that part, ...
	settled string   // ... because of this
	met     []thing  // only where the plan holds one of these
	few     bool     // not where the guests are few
	signed  []string // done once the agreements for these services are signed

	who   []string // who usually does it: parts; nobody: the couple
	needs []string // who must be there in person: parts
	spare string   // why it is left out where there is no time
	gives string   // what would give where it comes too late
	fixed string   // why it has its day, where that is no custom
	note  string   // for all who see it
	asks  string   // what was taken with caution
}

// lead is a stretch of days before the wedding, the earliest first.
type lead struct{ earliest, ideal, latest int }

// openDays are days on which something can be done at all.
type openDays int

const (
	anyDay     openDays = iota
	postDays            // not Sundays, nor holidays on which there is no post
	officeDays          // nor Saturdays
)

// thing finds terms or meetings of a plan by words of their names.
type thing struct {
	meeting  bool
	gap      int // days between it and the milestone
	words    []string
	services []string // of the agreement; empty: any
}

func terms(gap int, words ...string) thing    { return thing{gap: gap, words: words} }
func meetings(gap int, words ...string) thing { return thing{meeting: true, gap: gap, words: words} }

func (t thing) of(services ...string) thing {
	t.services = services
	return t
}
