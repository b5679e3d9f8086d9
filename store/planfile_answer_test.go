package store_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"banns/milestones"
	"banns/store"
)

// What to write to settle a question settles it, wherever its answer stands.
func TestSettling(t *testing.T) {
	const lost = "LINES" // where the lines go; what is there before they come
	rows := []struct{ why, text, was, indent string }{
		{"a line", hall + "    papers:\n      - " + lost + "\n    cancel:\n      - nothing until the wedding\n", `"plan: within 21 days of the wedding"`, "        "},
		{"an agreement", hall + "    " + lost + "\n", "note: x", "    "},
		{"an appointment", head + "appointments:\n  fitting:\n    what: Fitting\n    when: within 21 days of the wedding\n    " + lost + "\n", "note: x", "    "},
		{"somebody away", head + "appointments:\n  fitting:\n    what: Fitting\n    on: 2027-08-10\n    for: [june]\n    " + lost + "\naway: [{who: june, from: 2027-08-01, to: 2027-08-14}]\n", "note: x", "    "},
		{"a milestone", head + "countdown:\n  add:\n    rings:\n      what: Rings\n      when: within 21 days of the wedding\n      " + lost + "\n", "note: x", "      "},
	}
	for _, row := range rows {
		t.Run(row.why, func(t *testing.T) {
			read := func(lines string) (*store.Document, []milestones.Question) {
				doc, err := store.ReadPlan("plan", []byte(strings.Replace(row.text, lost, lines, 1)))
				if err != nil {
					t.Fatalf("%v\n%s", err, lines)
				}
				return doc, milestones.Questions(doc.Plan, milestones.NoClosures{})
			}
			_, open := read(row.was)
			if len(open) != 1 || !open[0].Open() {
				t.Fatalf("%d questions: %v", len(open), open)
			}
			for _, r := range open[0].Readings {
				want := milestones.Answer{Reads: r.Key, Who: "june", On: milestones.Date{Year: 2026, Month: 11, Day: 20}, Says: `as "we" say: # always, [here]`}
				lines, err := store.Settling(open[0], want)
				if err != nil {
					t.Fatal(err)
				}
				doc, settled := read(strings.ReplaceAll(lines, "\n", "\n"+row.indent))
				if len(settled) != 1 || settled[0].Open() || *settled[0].Answer != want {
					t.Errorf("not settled by\n%s\n%+v", lines, settled)
				}
				if diff := cmp.Diff(doc.Plan, again(t, doc), everything); diff != "" {
					t.Errorf("written and read again (-was +is):\n%s", diff)
				}
			}
		})
	}
}

// What is wrong with an answer is said on its line.
func TestAnswerFaults(t *testing.T) {
	wantFaults(t, []faulty{
		{"list", hall + `    papers:
      - says: plan within 21 days of the wedding by midnight
        answer:
          - {reads: after, who: june, on: 2026-11-20}
          - {reads: end of dya, who: june, on: 2026-11-20}
          - {reads: end of day, who: june}
          - {reads: start of day, who: [june], on: soon, by: letter}
`, []string{
			`plan:13 agreements/hall/papers[1]/answer[2]/reads: "end of dya" is no reading of what is asked here; did you mean "end of day"? the readings are: before, after, start of day, end of day, on signing, as written`,
			`plan:14 agreements/hall/papers[1]/answer[3]/on: on is missing; write for instance on: 2026-11-20`,
			`plan:15 agreements/hall/papers[1]/answer[4]/by: "by" means nothing here; known here are: reads, who, on, says`,
			`plan:15 agreements/hall/papers[1]/answer[4]/who: one piece of text belongs here; phrases with commas stand in quotes`,
			`plan:15 agreements/hall/papers[1]/answer[4]/on: "soon" is no day of the calendar; write it as 2027-09-18`,
			`plan:15 agreements/hall/papers[1]/answer[4]: two answers settle one question, that of midnight; keep the one that holds`,
		}},
		{"form", hall + `    answers:
      leaving: nothing
      midnight:
`, []string{
			`plan:10 agreements/hall/answers/leaving: a set of key: value lines belongs here; write it as key: value lines`,
			`plan:11 agreements/hall/answers/midnight: the answer is missing; write it as {reads: before, who: june, on: 2026-11-20, says: "what they wrote"}`,
		}},
		{"answers of an appointment", head + `appointments:
  fitting: {what: Fitting, on: 2027-08-10, answers: {jun: {reads: comes, who: june, on: 2026-11-20}, june: {reads: come, who: june, on: 2026-11-20}}}
`, []string{
			`plan:5 appointments/fitting/answers/jun: nobody under people has the key "jun"; did you mean "june"?`,
			`plan:5 appointments/fitting/answers/june/reads: "come" is no reading of what is asked here; did you mean "comes"? the readings are: comes, misses it`,
		}},
	})
}
