package desk_test

import (
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"banns/store"
)

// surprised is a plan with what is hidden from Finn on lines of their own, so
// that it is the same plan without them.
const surprised = `banns: 1
wedding: {id: 0123456789abcdef, title: Ada and Finn, date: 2027-07-20, start: "15:00", zone: America/Detroit, region: US-MI, currency: USD}
people:
  ada:  {name: Ada Quince, part: couple}
  finn: {name: Finn Quince, part: couple}
agreements:
  hall:
    with: The Hall
    service: venue
    standing: signed
    signed: 2026-02-01
    pay:
      - {key: pay-1, says: 300 on signing}
      - {key: pay-2, says: 200 101 days before the wedding, hide from: [finn]}
      - {key: pay-3, says: 100 95 days before the wedding}
      - {key: pay-4, says: 50 14 days before the wedding}
    cancel: ["500 until 60 days before the wedding", "900 after that"]
    change:
      - {key: change-1, says: menu choice 20 days before the wedding}
      - {key: swans, says: swan count 41 days before the wedding, hide from: [finn]}
  brass:
    with: The Brass
    hide from: [finn]
    service: music
    standing: signed
    signed: 2026-02-01
    pay: [10 on the wedding]
    cancel: [10 from signing]
    change: [{key: change-1, says: song list 37 days before the wedding}]
appointments:
  tasting: {what: Tasting, on: 2027-05-20, for: [couple]}
  nibbles: {what: Tasting, on: 2027-06-17, hide from: [finn]}
  flight:  {what: Balloon ride, on: 2027-06-11, hide from: [finn]}
occasions:
  dinner: {what: Dinner, when: 1 day before the wedding}
  hens:   {what: Hen night, on: 2027-07-03, hide from: [finn]}
countdown:
  add:
    bags:     {what: Fill the bags, when: 3 days before the wedding}
    zeppelin: {what: Order the zeppelin, when: 44 days before the wedding, hide from: [finn]}
`

// What is hidden from Finn is nothing that he can name: what he types is read,
// refused and kept as it would be if there were nothing of it, byte for byte.
func TestHiddenThingsHaveNoName(t *testing.T) {
	bare := regexp.MustCompile(`(?s)  brass:.*?(appointments:)`).ReplaceAllString(surprised, "$1")
	bare = regexp.MustCompile(`(?m)^.*hide from.*\n`).ReplaceAllString(bare, "")
	with, without := newSite(t, surprised), newSite(t, bare)
	in := store.Invitation{Wedding: "ada-and-finn", Person: "finn"}
	finn, other := with.comesIn(t, "Finn", in), without.comesIn(t, "Finn", in)
	same := func(what, path string, fill url.Values) {
		t.Helper()
		var said [2]string
		for n, b := range []*browser{finn, other} {
			form := b.get(atAda+strings.TrimSuffix(path, "/read"), http.StatusOK).form()
			maps.Copy(form, fill) // a line's field may be folded away
			res, err := b.PostForm(b.site.URL+atAda+path, form)
			if err != nil {
				t.Fatal(err)
			}
			said[n] = fmt.Sprint(res.StatusCode, "\n", unlike.ReplaceAllString(b.page(res, err, res.StatusCode).Text, ""))
		}
		if said[0] != said[1] {
			t.Errorf("%s at %s tells of something hidden: %s", what, path, difference(said[0], said[1]))
		}
	}
	const hall = "agreements/hall/"
	for _, shared := range []string{"tasting", "the second payment", "the third payment"} { // what he sees has these names
		same(shared, hall+"read", url.Values{hall + "papers/+1/says": {"floor plan 3 days before " + shared}, hall + "cancel/+1/says": {"700 from 3 days before " + shared}})
	}
	for _, name := range []string{
		"balloon ride", "appointments/flight", "baloon ride", "hens", "swan count", "swan cont", "hall/swans", "song list", "brass/first payment",
		"pay-2", "zeppelin", "order the zeppelin", "menu choice", "dinner", "the first payment",
	} {
		same(name, hall+"read", url.Values{hall + "pay/+1/says": {"5 3 days before " + name}, hall + "papers/+1/says": {"floor plan the Monday after " + name},
			hall + "change/+1/says": {"bar count 3 days before " + name}, hall + "cancel/+1/says": {"600 until 80 days before " + name}})
		same(name, hall+"read", url.Values{hall + "cancel/+1/says": {"700 from 3 days before " + name}, hall + "change/+1/says": {"bar count with " + name},
			hall + "change/change-1/says": {"menu choice 3 dyas before " + name}, hall + "postpone/says": {"once, with 30 days' notice before " + name}})
		same(name, "add/agreement/read", url.Values{"agreements/+/with": {"The Van"}, "agreements/+/change/+1/says": {"route 3 days before " + name}})
		same(name, "add/appointment", url.Values{"appointments/+/what": {"Talk"}, "appointments/+/when": {"3 days before " + name}})
		same(name, "add/occasion", url.Values{"occasions/+/what": {"Brunch"}, "occasions/+/when": {"3 days after " + name}})
		same(name, "add/milestone", url.Values{"countdown/add/+/what": {"Pack"}, "countdown/add/+/when": {"3 days before " + name}})
		same(name, "countdown/invitations", url.Values{"countdown/move/invitations": {"9 weeks before " + name}})
		same(name, "countdown/bags", url.Values{"countdown/add/bags/when": {"4 days before " + name}})
		same(name, "appointments/tasting", url.Values{"appointments/tasting/on": {""}, "appointments/tasting/when": {"9 days before " + name}})
		same(name, "agreements/hall", url.Values{"agreements/hall/change/change-1/says": {"menu choice 3 days before " + name}})
	}
}

// What he names counts from what he sees, though something hidden has the same
// name, and stays so once it is kept.
func TestNamesMeanWhatIsSeen(t *testing.T) {
	s := newSite(t, surprised)
	finn := s.comesIn(t, "Finn", store.Invitation{Wedding: "ada-and-finn", Person: "finn"})
	const hall = "agreements/hall/"
	p := finn.get(atAda+"agreements/hall", http.StatusOK)
	finn.post(atAda+"agreements/hall", http.StatusOK, p.filled(url.Values{
		hall + "change/+1/says": {"bar count 3 days before tasting"}, hall + "papers/+1/says": {"floor plan 3 days before the second payment"},
	}))
	finn.get(atAda+"dates", http.StatusOK).has("Mon 17 May", "Tue 13 Apr") // the tasting is on 20 May, pay-3 on 16 April
	p = finn.get(atAda+"add/milestone", http.StatusOK)
	finn.post(atAda+"add/milestone", http.StatusOK, p.filled(url.Values{"countdown/add/+/what": {"Pack"}, "countdown/add/+/when": {"9 days before tasting"}})).has("Tue 11 May 2027")
	// A planner is asked which of them is meant.
	p = s.planner(t).get(atAda+"add/milestone", http.StatusOK)
	s.planner(t).post(atAda+"add/milestone", http.StatusUnprocessableEntity, p.filled(url.Values{"countdown/add/+/what": {"Rest"}, "countdown/add/+/when": {"9 days before tasting"}})).
		has("could be any of appointments/tasting or appointments/nibbles")
}
