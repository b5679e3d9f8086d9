package conflicts

import (
	"slices"
	"testing"
	"time"

	"banns/milestones"
)

// What an event does to a wedding, as a practitioner would name it: all that
// touches the day, and nothing that does not reach so far.
func TestEffects(t *testing.T) {
	longWeekend := Event{What: "long weekend of Labor Day", Kind: Holiday, From: aSaturday, To: aSaturday.AddDays(2), Status: Computed}
	holiday := Event{What: "Labor Day", Kind: Holiday, From: aSaturday, To: aSaturday, Status: Computed}
	for _, row := range []struct {
		e       Event
		because string
		want    []Effect
		says    string
	}{
		{on(aSaturday, "Harbor Days", Festival, &door, 0, 0), "its stages and stalls stand before the door, and its visitors sleep in town",
			[]Effect{Rooms, Streets, Noise}, "Harbor Days (at the door) is on that day: rooms are few and dear, streets are closed or full, and it can be heard."},
		{on(aSaturday, "Harbor Days", Festival, &stadium, 0, 0), "two kilometres off its stages are heard by nobody; its visitors want rooms all the same",
			[]Effect{Rooms}, "Harbor Days (2 km away) is on that day: rooms are few and dear."},
		{on(aSaturday, "Match", Match, &door, 0, 0), "the crowd walks past the door, and is heard",
			[]Effect{Rooms, Streets, Noise}, "Match (at the door) is on that day: rooms are few and dear, streets are closed or full, and it can be heard."},
		{on(aSaturday, "Commencement", Graduation, &door, 0, 0), "families drive up to the hall, and make no noise",
			[]Effect{Rooms, Streets}, "Commencement (at the door) is on that day: rooms are few and dear, and streets are closed or full."},
		{on(aSaturday, "Gig", Concert, &door, 0, 0), "the next house's music is at the vows too, and its crowd wants the same car parks",
			[]Effect{Noise, Streets}, "Gig (at the door) is on that day: it can be heard, and there are crowds and full car parks around it."},
		{on(aSaturday, "Gig", Concert, &stadium, 0, 0), "nobody hears it two kilometres off; whoever drives past feels the crowd",
			[]Effect{Streets}, "Gig (2 km away) is on that day: there are crowds and full car parks around it."},
		{on(aSaturday, "Parade", Parade, &quay, 0, 0), "the band plays before the door, and nobody gets through",
			[]Effect{Streets, Noise}, "Parade (at the door) is on that day: streets are closed or full, and it can be heard."},
		{on(aSaturday, "Parade", Parade, &stadium, 0, 0), "a detour, and no more",
			[]Effect{Streets}, "Parade (2 km away) is on that day: streets are closed or full."},
		{on(aSaturday, "Resurfacing", Works, &door, 0, 0), "machines before the door are in the way and are heard",
			[]Effect{Streets, Noise}, "Resurfacing (at the door) is on that day: streets are closed or full, and it can be heard."},
		{longWeekend, "whoever can travels: rooms are dear, hands are few, and some of the guests are away",
			[]Effect{Staff, Rooms, Guests}, "Long weekend of Labor Day runs from Sat 18 Sep to Mon 20 Sep 2027: vendors are short of hands and ask more, rooms are few and dear, and some guests may be away."},
		{holiday, "a holiday in the week sends nobody away",
			[]Effect{Staff}, "Labor Day is on that day: vendors are short of hands and ask more."},
		{on(aSaturday.AddDays(-1), "Harbor Days", Festival, &door, 0, 0), "the day after, its streets are open and quiet; the last night's rooms were taken",
			[]Effect{Rooms}, "Harbor Days (at the door) is on Fri 17 Sep 2027, which is the day before: rooms are few and dear on the night before the wedding."},
		{placed(on(aSaturday, "Fair", Congress, nil, 0, 0), "The Net Loft", nil), "what has the place leaves nothing else to say",
			[]Effect{Closed}, "Fair (at the place itself) is on that day: the place is taken."},
	} {
		s := NewScales(lakeTown(), milestones.NoClosures{}, []Event{row.e}, aSaturday, aSaturday)
		got := s.public(aSaturday)
		if len(got) != 1 {
			t.Fatalf("%s is %d clashes: of one event it is one, or a long list would make a day worse by count", row.e.What, len(got))
		}
		if !slices.Equal(got[0].Effects, row.want) || got[0].Says != row.says {
			t.Errorf("%s\n%v: %s\nwant, because %s,\n%v: %s", row.e.Place, got[0].Effects, got[0].Says, row.because, row.want, row.says)
		}
	}
}

// Who comes for an hour sleeps nowhere and hears nothing: to a fitting, of all
// that an event does, the way there is what counts.
func TestEffectsOnAVisit(t *testing.T) {
	p := lakeTown()
	fitting := milestones.Item{ID: "appointments/fitting", Kind: milestones.KindAppointment, Moment: milestones.Moment{Date: aSaturday}, Place: p.Wedding.Place}
	for _, row := range []struct {
		e    Event
		want string
	}{
		{on(aSaturday, "Gig", Concert, &door, 0, 0), "Gig (at the door) is on that day: there are crowds and full car parks around it."},
		{on(aSaturday, "Harbor Days", Festival, &door, 0, 0), "Harbor Days (at the door) is on that day: streets and car parks are full."},
	} {
		if row.e.From.Weekday() != time.Saturday {
			t.Fatal(row.e.From)
		}
		got := scalesOf(p, &fitting).clash(&row.e, aSaturday)
		if got.Says != row.want {
			t.Errorf("%s\nwant %s", got.Says, row.want)
		}
	}
}
