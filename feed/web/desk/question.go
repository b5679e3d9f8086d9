package desk

import (
	"cmp"
	"net/http"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"

	"banns/feed/web"
	"banns/milestones"
)

var (
	questionsTemplate = page("questions.html", "question_words.html")
	questionTemplate  = page("question.html", "question_words.html")
)

// questionsPage is what the plan leaves open, and what of it was settled.
type questionsPage struct {
	pageFrame
	Open, Settled []questionRow
	Whole         bool // nothing is hidden from the visitor
}

// questionRow is a question, with what each reading would mean.
type questionRow struct {
	Name     string // in addresses
	Of       string // the vendor, or what it is about
	To       string // where that is written, or empty
	Words    string // the contract's phrase
	Wording  string // its own sentence
	Says     string
	Readings []readingRow
	Settles  bool // one of the readings can answer it
	Mend     string
	Answered string // who settled it, on which day, and how
	Quote    string // in what words
}

// readingRow is one thing that the words may mean.
type readingRow struct {
	Key    string
	Says   string
	Gives  string // its day and its sum
	Taken  bool   // what the plan follows until it is answered
	Chosen bool
}

// questions answers GET of the questions.
func (d *Desk) questions(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	p := questionsPage{pageFrame: newPageFrame(r, "Questions", "questions"), Whole: s.planner()}
	for _, q := range s.asked() {
		row := s.questionRow(p.At, q)
		if q.Open() {
			p.Open = append(p.Open, row)
		} else {
			p.Settled = append(p.Settled, row)
		}
	}
	return web.Show(w, r, http.StatusOK, questionsTemplate, p)
}

// asked are the questions that the visitor may know of, open and settled.
func (s *sight) asked() []milestones.Question {
	seen := map[string]bool{}
	for n := range s.entries {
		seen[s.entries[n].ID] = true
	}
	return slices.DeleteFunc(milestones.Questions(s.doc.Plan, s.closures), func(q milestones.Question) bool {
		return !s.mayAsk(&q, seen)
	})
}

// open are those that nobody has settled yet.
func (s *sight) open() []milestones.Question {
	return slices.DeleteFunc(s.asked(), func(q milestones.Question) bool { return !q.Open() })
}

// mayAsk reports whether the visitor may know of q. What is asked of a whole
// agreement names its lines, and their sums: nobody sees it from whom one of
// them is hidden.
func (s *sight) mayAsk(q *milestones.Question, seen map[string]bool) bool {
	if s.planner() {
		return true
	}
	if q.Agreement == "" {
		_, known := s.plan.Person(q.Under)
		return seen[q.Path] && (known || q.Doubt != milestones.DoubtAway)
	}
	a, ok := s.plan.Agreement(q.Agreement)
	if !ok {
		return false
	}
	line := lineOfQuestion(q)
	if line == "" || q.Doubt == milestones.DoubtGap || q.Doubt == milestones.DoubtOverlap {
		return s.sumsOf(q.Agreement)
	}
	return slices.ContainsFunc(a.Lines(), func(l *milestones.Line) bool { return l.Key == line })
}

// lineOfQuestion is the key of the agreement's line that q is about, or empty
// where it is about the whole.
func lineOfQuestion(q *milestones.Question) string {
	if strings.HasPrefix(q.Path, "agreements/") {
		return ""
	}
	parts := strings.Split(q.Path, "/") // of an item: shuttle/change-1, or venue/pay-4/back
	return parts[min(1, len(parts)-1)]
}

func (s *sight) questionRow(at string, q milestones.Question) questionRow {
	row := questionRow{Name: questionName(q.ID), Words: q.Words, Wording: q.Wording, Says: sentence(q.Says), Settles: q.Settles(), Mend: q.Mend}
	if row.Settles && row.Mend != "" {
		row.Mend = sentence(row.Mend)
	}
	if a, ok := s.plan.Agreement(q.Agreement); ok {
		row.Of, row.To = a.With, at+"agreements/"+a.Key
	} else if n := slices.IndexFunc(s.items, func(i milestones.Item) bool { return i.ID == q.Path }); n >= 0 {
		row.Of = s.items[n].Title
	}
	for _, one := range q.Readings {
		row.Readings = append(row.Readings, readingRow{Key: one.Key, Says: one.Says, Gives: s.gives(one),
			Taken: one.Taken && q.Open(), Chosen: q.Answer != nil && q.Answer.Reads == one.Key})
	}
	if a := q.Answer; a != nil {
		row.Answered, row.Quote = "Settled by "+s.nameOf(a.Who)+" on "+a.On.Words(), a.Says
	}
	return row
}

// gives is the day and the sum that a reading gives.
func (s *sight) gives(r milestones.Reading) string {
	var parts []string
	if day := r.Date.Words(); day != "" {
		parts = append(parts, day)
	}
	if r.Clock != nil {
		parts = append(parts, r.Clock.String())
	}
	if r.Amount.Known {
		parts = append(parts, s.words(r.Amount))
	}
	return strings.Join(parts, ", ")
}

// nameOf is somebody's name, by key or as it was written.
func (s *sight) nameOf(who string) string {
	if known, ok := s.plan.Person(who); ok {
		return known.Name
	}
	return who
}

// sentence begins with a capital and ends.
func sentence(says string) string {
	if says = strings.ToUpper(says[:1]) + says[1:]; strings.HasSuffix(says, "?") {
		return says
	}
	return says + "."
}

// questionPage asks for the answer to one question.
type questionPage struct {
	pageFrame
	Question questionRow
	Form     form
	Reads    field // which reading holds
	Answered bool
}

// question answers GET of one question.
func (d *Desk) question(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	q := s.questionCalled(chi.URLParam(r, "question"))
	if q == nil || !q.Settles() {
		return nothing(w, r)
	}
	a, err := s.answerForm(q)
	if err != nil {
		return err
	}
	return d.showQuestion(w, r, http.StatusOK, q, a.form)
}

func (d *Desk) showQuestion(w http.ResponseWriter, r *http.Request, status int, q *milestones.Question, f form) error {
	s := sightOf(r)
	p := questionPage{pageFrame: newPageFrame(r, "A question", "questions"), Reads: f.Fields[0], Answered: !q.Open()}
	p.Question = s.questionRow(p.At, *q)
	p.Title = cmp.Or(p.Question.Of, p.Title)
	for n := range p.Question.Readings {
		one := &p.Question.Readings[n]
		one.Chosen = one.Key == p.Reads.Value
	}
	f.Fields = f.Fields[1:]
	p.Form = f
	return web.Show(w, r, status, questionTemplate, p)
}

// questionName is an id as the last part of an address.
func questionName(id string) string { return strings.NewReplacer("/", ".", "#", ".").Replace(id) }

// questionCalled is the question of that name, or nil where the visitor may not
// know of one.
func (s *sight) questionCalled(name string) *milestones.Question {
	all := s.asked()
	if n := slices.IndexFunc(all, func(q milestones.Question) bool { return questionName(q.ID) == name }); n >= 0 {
		return &all[n]
	}
	return nil
}
