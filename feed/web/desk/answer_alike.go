package desk

import (
	"slices"
	"strings"

	"banns/milestones"
)

// alike is a question of another line, to which the answer may be the same.
type alike struct {
	milestones.Question
	answerForm
}

// alikePath is the field of those that are to be settled with one answer.
const alikePath = "too"

// alike are those of other lines that ask the same, and are open or answered
// as q is. Each line keeps an answer of its own.
func (s *sight) alike(q *milestones.Question, at string) (all []alike, err error) {
	ats := []string{at}
	for _, o := range s.asked() {
		same := o.Open()
		if !same && q.Answer != nil {
			was := *q.Answer
			was.Reads = o.Like(was.Reads)
			same = was == *o.Answer
		}
		if !same || !q.Alike(&o) {
			continue
		}
		one := alike{Question: o}
		if one.at, err = s.answerPath(&o, &one.answerForm); err != nil {
			return nil, err
		}
		if !slices.Contains(ats, one.at) { // one line may be asked twice
			ats, all = append(ats, one.at), append(all, one)
		}
	}
	return all, nil
}

// alikeField asks which of them the answer settles too.
func (s *sight) alikeField(all []alike) field {
	f := field{Path: alikePath, Label: "Lines of which the same is asked", Kind: manyKind,
		Hint: "One answer can settle them all: each line that is ticked gets it too"}
	var same []string
	for _, one := range all {
		row := s.questionRow("", one.Question)
		label := row.Words
		if one.Agreement == "" {
			label = row.Of + ": " + label
		}
		var gives []string
		for _, r := range row.Readings {
			if r.Gives != "" && !slices.Contains(gives, r.Gives) {
				gives = append(gives, r.Gives)
			}
		}
		if len(gives) > 0 {
			label += " (" + strings.Join(gives, ", or ") + ")"
		}
		f.Options = append(f.Options, option{row.Name, label})
		if !one.Open() {
			same = append(same, row.Name)
		}
	}
	f.Value = strings.Join(same, ", ")
	return f
}
