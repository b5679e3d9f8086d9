package desk

import (
	"net/http"

	"banns/feed/web"
)

var frontTemplate = page("front.html", "duty.html")

// frontPage is what has to be known of a wedding first: what to do next, what
// it costs to miss, what falls due, what is open and what is missing.
type frontPage struct {
	pageFrame
	First     *duty
	Then      []duty
	Later     int // how many more are late
	Stakes    []stake
	Money     moneyTable
	Questions []questionRow
	Asked     int // how many there are
	Missing   []lack
	Steps     []firstStep // of a plan that is only begun
}

const (
	nextMost     = 6
	questionMost = 3
)

// front answers GET of a wedding.
func (d *Desk) front(w http.ResponseWriter, r *http.Request) error {
	s := sightOf(r)
	p := frontPage{pageFrame: newPageFrame(r, s.plan.Wedding.Title, "front")}
	p.Wedding = "The day is still open" // the name stands below it
	if day := s.plan.Wedding.Date; !day.IsZero() {
		p.Wedding = day.Words() + ", " + until(day, s.today)
	}
	p.next(s.duties(p.At))
	p.Stakes = s.stakes(p.At)
	p.Money = s.money()
	asked := s.open()
	p.Asked = len(asked)
	for _, q := range asked[:min(questionMost, p.Asked)] {
		p.Questions = append(p.Questions, s.questionRow(p.At, q))
	}
	phone, err := d.phone(r)
	if err != nil {
		return err
	}
	p.Steps = s.firstSteps(p.At, phone)
	p.Missing = s.lacks(p.At, p.Steps == nil, phone)
	return web.Show(w, r, http.StatusOK, frontTemplate, p)
}

// next takes the first few of what is late and of what comes.
func (p *frontPage) next(late, coming []duty) {
	shown := min(len(late), nextMost-1)
	p.Later = len(late) - shown
	all := append(late[:shown:shown], coming[:min(len(coming), max(1, nextMost-shown))]...)
	tellCosts(all)
	if len(all) > 0 {
		p.First, p.Then = &all[0], all[1:]
	}
}
