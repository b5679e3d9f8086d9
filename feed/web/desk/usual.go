package desk

import (
	"slices"
	"strings"

	"banns/milestones"
)

// usual are the terms that agreements of one service mostly have, as they
// would be written. They are offered as examples beside empty lines, and never
// entered by themselves: what holds is what the contract says.
type usual struct {
	service string
	also    []string // other words that a service of this kind goes by
	terms   map[milestones.List][]string
}

// usualSteps of leaving are common practice, whatever the service.
var usualSteps = []string{"the deposit until 90 days before the wedding", "50% until 30 days before the wedding", "100% after that"}

// usuals are common practice. The weeks before the wedding are those of hotel
// and university catering terms, rental terms and town codes (see the words
// at each), and else what vendors mostly ask.
var usuals = []usual{
	{"catering", []string{"caterer", "food", "dinner", "meal"}, terms{
		"pay":    {"25% on signing", "50% 60 days before the wedding", "balance 14 days before the wedding", "security 500 with the balance, back within 14 days after the wedding"},
		"change": {"menu choice 4 weeks before the wedding", "final headcount 10 business days before the wedding by 17:00"}, // 3 to 10 business days: catering terms
		"papers": {"meal list 1 week before the wedding"},
	}},
	{"venue", []string{"hall", "barn", "garden", "site", "ceremony place", "reception"}, terms{
		"pay":    {"25% on signing", "25% 6 months before the wedding", "balance 90 days before the wedding", "security 500 with the balance, back within 14 days after the wedding"},
		"change": {"floor plan changes 2 weeks before the wedding"},
		"papers": {"certificate of insurance 3 weeks before the wedding", "vendor list 4 weeks before the wedding"}, // 3 weeks: town codes
	}},
	{"photographs", []string{"photo", "picture", "film", "video"}, terms{
		"pay":    {"30% on signing", "balance 2 weeks before the wedding"},
		"change": {"shot list 3 weeks before the wedding"}, // 2 to 4 weeks
		"papers": {"timetable of the day 2 weeks before the wedding"},
	}},
	{"flowers", []string{"florist", "floral"}, terms{
		"pay":    {"30% on signing", "40% 8 weeks before the wedding", "balance 2 weeks before the wedding"},
		"change": {"colors and main flowers 10 weeks before the wedding", "number of tables and bouquets 3 weeks before the wedding"},
	}},
	{"music", []string{"band", "strings", "quartet", "singer", "brass", "disc jockey", "dj"}, terms{
		"pay":    {"30% on signing", "balance 2 weeks before the wedding"},
		"change": {"song list 3 weeks before the wedding"}, // 2 to 4 weeks
		"papers": {"stage plan and power needs 4 weeks before the wedding"},
	}},
	{"hair and makeup", []string{"hair", "makeup", "make-up"}, terms{
		"pay":    {"50% on signing", "balance on the day"},
		"change": {"who is having hair and makeup 6 weeks before the wedding"},
	}},
	{"rooms", []string{"hotel", "inn", "room block", "lodging"}, terms{
		"pay":    {"200 on signing", "balance 3 days before the wedding"},
		"change": {"room block release 30 days before the wedding by 17:00", "rooming list 2 weeks before the wedding"}, // 21 to 30 days: hotel group terms
	}},
	{"rentals", []string{"rental", "tent", "tables", "chairs", "linen"}, terms{
		"pay":    {"50% on signing", "balance 2 weeks before the wedding", "security 500 1 week before the wedding, back within 14 days after the wedding"},
		"change": {"rental counts 7 days before the wedding"}, // rental terms
		"papers": {"site plan 6 weeks before the wedding", "tent permit 10 business days before the wedding"},
	}},
	{"transport", []string{"shuttle", "coach", "bus", "car", "limousine"}, terms{
		"pay":    {"30% on signing", "balance 3 weeks before the wedding"},
		"change": {"route and stops 3 weeks before the wedding", "passenger numbers 1 week before the wedding"},
	}},
	{"cake", []string{"baker", "dessert"}, terms{
		"pay":    {"50% on signing", "balance 2 weeks before the wedding"},
		"change": {"flavors and tiers 6 weeks before the wedding", "number of servings 2 weeks before the wedding"},
	}},
	{"attire", []string{"dress", "gown", "suit", "tailor", "alterations"}, terms{
		"pay":    {"50% on signing", "balance 2 weeks before the wedding"},
		"change": {"sizes 10 weeks before the wedding"}, // suits are measured 2 to 3 months ahead
	}},
	{"officiant", []string{"celebrant", "minister", "clergy"}, terms{
		"pay":    {"balance on the day"},
		"change": {"wording of the ceremony 4 weeks before the wedding"},
		"papers": {"marriage licence on the day"},
	}},
	{"stationery", []string{"invitation", "print", "paper"}, terms{
		"pay":    {"50% on signing", "balance 10 weeks before the wedding"},
		"change": {"invitation wording 15 weeks before the wedding", "proof approval 12 weeks before the wedding"}, // invitations go out 6 to 12 weeks ahead
	}},
	{"bar", []string{"drinks", "wine"}, terms{
		"pay":    {"30% on signing", "balance 30 days before the wedding"},
		"change": {"wine and spirits list 4 weeks before the wedding", "bar headcount 10 business days before the wedding"},
		"papers": {"serving permit 90 days before the wedding"}, // up to 90 days: town codes
	}},
	{"planning", []string{"planner", "coordinator"}, terms{
		"pay": {"30% on signing", "30% 6 months before the wedding", "balance 2 weeks before the wedding"},
	}},
}

type terms = map[milestones.List][]string

// anyService is what is offered where the service is none of the known.
var anyService = usual{terms: terms{
	"pay":    {"30% on signing", "balance 2 weeks before the wedding"},
	"change": {"final count 2 weeks before the wedding"},
	"papers": {"certificate of insurance 3 weeks before the wedding"},
}}

// usualOf is the usual of a service, by any word it goes by.
func usualOf(service string) usual {
	service = strings.ToLower(strings.TrimSpace(service))
	for _, u := range usuals {
		if service == u.service {
			return u
		}
	}
	for _, u := range usuals {
		if slices.ContainsFunc(append(u.also, u.service), func(word string) bool { return service != "" && strings.Contains(service, word) }) {
			return u
		}
	}
	return anyService
}

// of are the usual lines of a list.
func (u usual) of(list milestones.List) []string {
	if list == milestones.CancelList {
		return usualSteps
	}
	return u.terms[list]
}

// lacking are those of the usual lines of a list that none of the written
// lines seems to be: they begin otherwise.
func (u usual) lacking(list milestones.List, written []string) []string {
	if (list == milestones.PayList || list == milestones.CancelList) && len(written) > 0 {
		return nil // whoever wrote some of the ladder has it before them
	}
	var all []string
	for _, one := range u.of(list) {
		first, _, _ := strings.Cut(one, " ")
		begins := func(w string) bool { return strings.HasPrefix(strings.ToLower(w), first) }
		if !slices.ContainsFunc(written, begins) {
			all = append(all, one)
		}
	}
	return all
}
