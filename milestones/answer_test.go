package milestones

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// answered is a plan of one agreement, with answers on its first paper, or
// else payment, or else step; or one about the agreement.
func answered(a Agreement, under string, answers ...Answer) *Plan {
	a.Papers = slices.Clone(a.Papers)
	p := wedding(a)
	one := &p.Agreements[0]
	switch {
	case under != "":
		one.Answers = append(one.Answers, NamedAnswer{under, answers[0]})
	case len(one.Papers) > 0:
		one.Papers[0].Answers = answers
	case len(one.Pay) > 0:
		one.Pay[0].Answers = answers
	default:
		one.Cancel[0].Answers = answers
	}
	return p
}

// answers are June's, by what they read.
func answers(keys ...string) (all []Answer) {
	for _, key := range keys {
		all = append(all, Answer{Reads: key, Who: "june", On: d(2026, 11, 20)})
	}
	return all
}

// An answer has to choose one of the readings, and each question one answer.
func TestAnswersRefused(t *testing.T) {
	within := Agreement{Papers: papers("plan within 21 days of the wedding")}
	rows := []struct {
		why   string
		plan  *Plan
		fault string
	}{
		{"misspelt", answered(within, "", answers("afte")...),
			`agreements/hall/papers[1]/answer/reads: "afte" is no reading of what is asked here; did you mean "after"? the readings are: before, after, on signing, as written`},
		{"nothing like it", answered(within, "", answers("perhaps")...),
			`"perhaps" is no reading of what is asked here; the readings are: before, after, on signing, as written`},
		{"of the same doubt in other words", answered(within, "", answers("during")...), `"during" is no reading of what is asked here; the readings are: before, after`},
		{"both sides", answered(within, "", answers("before", "after")...), "agreements/hall/papers[1]/answer[2]: two answers settle one question, that of side"},
		{"of a cancel step", answered(Agreement{Cancel: cancel("10% until 2027-06-01")}, "", answers("lover")...),
			`did you mean "lower"? the readings are: on signing, as written, step before, step after, lower, higher`},
		{"about leaving", answered(Agreement{}, "leaving", answers("noting")...),
			`agreements/hall/answers/leaving/reads: "noting" is no reading of what is asked here; did you mean "nothing"? the readings are: nothing, whole price`},
		{"about nothing", answered(Agreement{}, "leving", answers("nothing")...), `agreements/hall/answers/leving: "leving" is nothing that is asked about an agreement; did you mean "leaving"?`},
		{"about what no reading settles", answered(Agreement{}, "price", answers("nothing")...), "known here are: leaving, before the first step, after the last step, midnight, business days"},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			if says := refusal(t, row.plan); !strings.Contains(says, row.fault) {
				t.Errorf("%s\nwant %s", says, row.fault)
			}
		})
	}
	p := wedding()
	p.People = []Person{{Key: "priya"}}
	p.Appointments = []Appointment{{Meeting{Key: "fitting", When: Timing{Says: "on 2027-08-10"}, Away: []NamedAnswer{{"prya", answers("comes")[0]}}}}}
	if says := refusal(t, p); !strings.Contains(says, `appointments/fitting/answers/prya: nobody under people has the key "prya"; did you mean "priya"?`) {
		t.Error(says)
	}
}

// Case and hyphens do not matter in a reading.
func TestAnswerSpelling(t *testing.T) {
	for _, key := range []string{"end of day", "End of Day", "end-of-day"} {
		p := answered(Agreement{Papers: papers("plan by midnight on 2027-05-03")}, "", answers(key)...)
		if i := scheduled(t, p, NoClosures{})["hall/paper-1"]; i.Clock == nil || i.Clock.String() != "23:59" || i.ActBy != d(2027, 5, 3) {
			t.Errorf("%s: %v on %s", key, i.Clock, i.ActBy)
		}
	}
}

// An answer to nothing is a note; one that may yet be asked for is not.
func TestUnasked(t *testing.T) {
	signed := d(2026, 10, 2)
	open := answered(Agreement{Signed: signed, Papers: papers("plan within 21 days of the wedding")}, "", answers("after")...)
	open.Wedding.Date = Date{}
	vague := answered(Agreement{Signed: signed, Dates: []NamedDate{{"invoice", Date{}}}, Cancel: cancel("10% until invoice", "50% until 2027-06-01")}, "", answers("lower")...)
	over := answered(Agreement{Signed: signed, Standing: Replaced}, "leaving", answers("nothing")...)
	away := wedding()
	away.Wedding.Date, away.People = Date{}, []Person{{Key: "priya"}}
	away.Appointments = []Appointment{{Meeting{Key: "fitting", When: Timing{Says: "3 days before the wedding"}, Away: []NamedAnswer{{"priya", answers("comes")[0]}}}}}
	security := Agreement{Signed: signed, Pay: pay("security 300 within 10 days of the wedding, back 14 days after the wedding")}
	rows := []struct {
		why  string
		plan *Plan
		note string
	}{
		{"a security's return is plain now", answered(security, "", answers("before", "back after")...), `agreements/hall/pay[1]/answer[2] nothing is asked here any more, so the answer "back after" changes nothing`},
		{"nobody knows yet who is away", away, ""},
		{"the words say it now", answered(Agreement{Signed: signed, Papers: papers("plan 21 days after the wedding")}, "", answers("after")...), `agreements/hall/papers[1]/answer nothing is asked here any more, so the answer "after" changes nothing`},
		{"one of two", answered(Agreement{Signed: signed, Papers: papers("plan within 21 days of the wedding")}, "", answers("after", "end of day")...), `agreements/hall/papers[1]/answer[2] nothing is asked`},
		{"the days agree", answered(Agreement{Signed: signed, Papers: papers("plan 3 business days before 2027-05-20")}, "", answers("federal")...), `the answer "federal" changes nothing`},
		{"it is written under cancel", answered(Agreement{Signed: signed, Cancel: all}, "leaving", answers("whole price")...), "agreements/hall/answers/leaving nothing is asked here any more"},
		{"it is after signing", answered(Agreement{Signed: signed, Papers: papers("plan by 2027-05-03")}, "", answers("as written")...), "nothing is asked"},
		{"there is no day yet", open, ""},
		{"a step has no day yet", vague, ""},
		{"the agreement is over", over, ""},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			var notes []string
			for _, n := range Unasked(read(t, row.plan), NoClosures{}) {
				notes = append(notes, n.Path+" "+n.Says)
			}
			if got := strings.Join(notes, "\n"); !strings.Contains(got, row.note) || (row.note == "") != (got == "") || len(notes) > 1 {
				t.Errorf("notes %q, want %q", got, row.note)
			}
		})
	}
}

// A line that leaves three things open takes three answers, and what counts
// from it follows.
func TestSeveralAnswersOnALine(t *testing.T) {
	// Five days back from 22 June by banks is the 15th, by offices the 14th; on
	// from it, both count to the 29th.
	rows := []struct {
		answers []Answer
		want    string
		open    int
	}{
		{nil, "2027-06-15 00:00", 3},
		{answers("federal"), "2027-06-14 00:00", 2},
		{answers("federal", "end of day"), "2027-06-14 23:59", 1},
		{answers("federal", "end of day", "before"), "2027-06-14 23:59", 0},
		{answers("after"), "2027-06-29 00:00", 1},
		{answers("after", "end of day"), "2027-06-29 23:59", 0},
	}
	for _, row := range rows {
		p := answered(Agreement{Signed: d(2026, 10, 2), Cancel: all, Papers: papers("plan within 5 business days of 2027-06-22 by midnight", "keys 2 days after plan")}, "", row.answers...)
		items := scheduled(t, p, offices)
		i, next := items["hall/paper-1"], items["hall/paper-2"]
		if got := what(i.Moment, i.Amount); got != row.want || len(i.Questions) != row.open || next.Date != i.Date.AddDays(2) {
			t.Errorf("%v: on %s with %d questions, then %s; want %s with %d", row.answers, got, len(i.Questions), next.Date, row.want, row.open)
		}
	}
}

// A contract that says once what it means by midnight, or by business days,
// is answered once; a line may still say otherwise.
func TestAnswersForAllLines(t *testing.T) {
	p := answered(Agreement{Signed: d(2026, 10, 2), Cancel: all, Papers: papers("a by midnight on 2027-05-03", "b by midnight on 2027-05-04", "c by midnight on 2027-05-05")}, "midnight", answers("end of day")...)
	p.Agreements[0].Papers[2].Answers = answers("start of day")
	items := scheduled(t, p, NoClosures{})
	for id, want := range map[string]string{"hall/paper-1": "23:59", "hall/paper-2": "23:59", "hall/paper-3": "00:00"} {
		if got := items[id].Clock.String(); got != want || len(items[id].Questions) > 0 {
			t.Errorf("%s is at %s, want %s; asks %v", id, got, want, items[id].Questions)
		}
	}
	if notes := Unasked(p, NoClosures{}); len(notes) > 0 {
		t.Errorf("%v", notes)
	}
}

// While a term that may fall before signing is due on signing, so is whichever
// of its readings does.
func TestReadingsBeforeSigning(t *testing.T) {
	early := Agreement{Signed: d(2026, 10, 2), Papers: papers("plan within 30 days of 2026-10-20"), Cancel: all}
	for _, row := range []struct {
		answers        []Answer
		readings, when string
	}{
		{nil, "[before 2026-10-02 * after 2026-11-19]", "2026-10-02"},
		{answers("as written"), "[before 2026-09-20 * after 2026-11-19]", "2026-09-20"},
		{answers("after"), "[before 2026-10-02 after 2026-11-19 *]", "2026-11-19"},
	} {
		p := answered(early, "", row.answers...)
		if got := fmt.Sprint(questionOf(t, p, NoClosures{}, "hall/paper-1#side").readings()); got != row.readings {
			t.Errorf("%v: %s, want %s", row.answers, got, row.readings)
		}
		if i := scheduled(t, p, NoClosures{})["hall/paper-1"]; i.Date.String() != row.when {
			t.Errorf("%v: due %s, want %s", row.answers, i.Date, row.when)
		}
	}
}

// What leaving in time saves is known once the overlap is settled.
func TestAnswersSave(t *testing.T) {
	for key, want := range map[string]Amount{"": {}, "lower": Exactly(400_00), "higher": Exactly(0)} {
		p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(1000_00), Pay: pay("balance on 2027-09-01"), Cancel: cancel("10% until 2027-06-01", "50% from 2027-05-01")})
		if key != "" {
			p.Agreements[0].Cancel[1].Answers = answers(key)
		}
		if i := scheduled(t, p, NoClosures{})["hall/cancel-1"]; i.Saves != want {
			t.Errorf("%s: leaving in time saves %v, want %v", key, i.Saves, want)
		}
	}
}

// The two days of a security deposit stand on one line, and are answered apart.
func TestSecurityAnswers(t *testing.T) {
	p := answered(Agreement{Signed: d(2026, 10, 2), Cancel: all, Pay: pay("security 300 within 10 days of the wedding, back within 14 days of the wedding")}, "", answers("before", "back after")...)
	items := scheduled(t, p, NoClosures{})
	if there, back := items["hall/pay-1"].Date, items["hall/pay-1/back"].Date; there != d(2027, 9, 8) || back != d(2027, 10, 2) {
		t.Errorf("paid by %s, back by %s", there, back)
	}
	for _, q := range Questions(p, NoClosures{}) {
		if q.Open() {
			t.Errorf("still asks %s", q.Says)
		}
	}
}

// Somebody who is away comes all the same, or not: each is asked about once.
func TestAwayAnswers(t *testing.T) {
	plan := func(away ...NamedAnswer) *Plan {
		p := wedding()
		p.People = []Person{{Key: "priya", Name: "Priya Nair", Part: Attendant}, {Key: "kofi", Name: "Kofi", Part: Attendant}}
		p.Away = []Absence{{"priya", d(2027, 8, 1), d(2027, 8, 14)}, {"priya", d(2027, 8, 9), d(2027, 8, 20)}, {"kofi", d(2027, 8, 10), d(2027, 8, 10)}}
		p.Appointments = []Appointment{{Meeting{Key: "fitting", What: "Fitting", When: Timing{Says: "on 2027-08-10"}, At: at(11, 0), For: []string{"attendant"}, Away: away}}}
		return p
	}
	q := questionOf(t, plan(), NoClosures{}, "appointments/fitting#priya")
	if got := fmt.Sprint(q.readings()); got != "[comes 2027-08-10 11:00 * misses it 2027-08-10 11:00]" || q.Agreement != "" {
		t.Errorf("%s %q", got, q.Agreement)
	}
	p := plan(NamedAnswer{"priya", answers("misses it")[0]})
	all := Questions(read(t, p), NoClosures{})
	if len(all) != 2 || all[0].Open() || !all[0].Readings[1].Taken || !all[1].Open() {
		t.Errorf("%+v", all)
	}
	if !reflect.DeepEqual(Schedule(p, NoClosures{}), Schedule(read(t, plan()), NoClosures{})) {
		t.Error("an answer about who comes moves something")
	}
}

// What no reading settles says what it would mean in money, and what to write.
func TestUnsettled(t *testing.T) {
	signed, head := d(2026, 10, 2), Money(100_00)
	rows := []struct {
		why      string
		a        Agreement
		id       string
		readings string
	}{
		{"less than the price", Agreement{Price: costs(2960_00), Pay: pay("25% on signing")}, "hall#payments", "[missing payment $2,220.00 lower price $740.00]"},
		{"less than the dearer price", Agreement{Price: Price{Each: &head, AtLeast: 10, AtMost: 20}, Pay: pay("1,200 on the day")}, "hall#payments",
			"[missing payment $0.00 to $800.00 lower price $1,000.00 to $1,200.00]"},
		{"no payments", Agreement{Price: costs(2960_00)}, "hall#payments", "[missing payment $2,960.00]"},
		{"more than the price", Agreement{Price: costs(1000_00), Pay: []Payment{done("50% on signing", signed, 1200_00), pay("balance on the day")[0]}}, "hall#payments",
			"[money back $200.00 higher price $1,200.00]"},
		{"no price", Agreement{Pay: pay("25% on the day")}, "hall#price", "[]"},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			row.a.Signed, row.a.Cancel = signed, all
			q := questionOf(t, wedding(row.a), NoClosures{}, row.id)
			if got := fmt.Sprint(q.readings()); got != row.readings || q.Settles() || q.Mend == "" {
				t.Errorf("%s, settled by a reading: %t, mend %q; want %s", got, q.Settles(), q.Mend, row.readings)
			}
		})
	}
}

// A question is about the phrase and the contract's own sentence.
func TestQuestionWords(t *testing.T) {
	p := wedding(Agreement{Signed: d(2026, 10, 2), Price: costs(100_00), Pay: pay("balance on the day"),
		Cancel: []CancelStep{{Line: said("10% until 2027-06-01")}, {Line: Line{Says: "50% from 2027-05-01", Wording: "Sec. 9"}}},
		Papers: []Paper{{Line: Line{Says: "plan within 21 days of the wedding", Wording: "Sec. 4"}}}})
	for id, want := range map[string]Question{
		"hall/paper-1#side":     {Words: "plan within 21 days of the wedding", Wording: "Sec. 4", Line: "plan within 21 days of the wedding", Path: "hall/paper-1"},
		"hall/cancel-2#overlap": {Words: "10% until 2027-06-01; 50% from 2027-05-01", Wording: "Sec. 9", Line: "50% from 2027-05-01", Path: "hall/cancel-2"},
	} {
		q := questionOf(t, p, NoClosures{}, id)
		if got := (Question{Words: q.Words, Wording: q.Wording, Line: q.Line, Path: q.Path}); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %+v, want %+v", id, got, want)
		}
	}
}

// severalDoubts are agreements that have nothing to do with each other, drawn
// from those that leave something open.
func severalDoubts(t *rapid.T) []Agreement {
	rows := doubtfuls()
	var all []Agreement
	for i := range rapid.IntRange(2, 5).Draw(t, "agreements") {
		a := rows[rapid.IntRange(0, len(rows)-1).Draw(t, "doubt")].a
		a.Key = fmt.Sprintf("a%d", i)
		a.Pay, a.Cancel, a.Change, a.Papers = slices.Clone(a.Pay), slices.Clone(a.Cancel), slices.Clone(a.Change), slices.Clone(a.Papers)
		all = append(all, a)
	}
	return all
}

// Answering one question changes no other agreement's items and settles no
// other question; answering with what is taken changes nothing but the
// question's standing.
func TestOneAnswerChangesOneThing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := wedding(severalDoubts(t)...)
		read := func() ([]Item, []Question) {
			if faults, _ := p.Read(); len(faults) > 0 {
				t.Fatal(faults)
			}
			return Schedule(p, offices), Questions(p, offices)
		}
		items, questions := read()
		q := rapid.SampledFrom(questions).Draw(t, "question")
		chosen := rapid.SampledFrom(q.Readings).Draw(t, "reading")
		settle(p, q, chosen.Key)
		after, asked := read()
		for _, other := range asked {
			if other.Agreement != q.Agreement && !other.Open() {
				t.Fatalf("%s is settled by an answer to %s", other.ID, q.ID)
			}
		}
		rest := func(all []Item) (kept []Item) {
			for _, i := range all {
				if i.Agreement != q.Agreement {
					kept = append(kept, i)
				} else if chosen.Taken {
					i.Questions = nil
					kept = append(kept, i)
				}
			}
			return kept
		}
		if !reflect.DeepEqual(rest(items), rest(after)) {
			t.Fatalf("%s reads %s (taken: %t):\n%+v\nbecame\n%+v", q.ID, chosen.Key, chosen.Taken, rest(items), rest(after))
		}
		if chosen.Taken && len(asked) != len(questions) {
			t.Fatalf("%d questions became %d", len(questions), len(asked))
		}
	})
}
