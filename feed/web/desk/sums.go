package desk

import "banns/milestones"

// sumTable is sums under each other: a table where there is room, and one
// block a row on a phone.
type sumTable struct {
	ID      string
	Caption string
	Head    []string // of the cells; the rows' names have none
	Rows    []sumRow
}

// sumRow is one row. Its cells say nothing where nothing stands.
type sumRow struct {
	Name  string
	To    string // where its name leads, or empty
	Cells []sumCell
	Total bool
}

type sumCell struct {
	Head  string // of its column, for a phone
	Says  string
	Late  bool
	Again bool // says what the only other one of its row does
}

// add puts a row into t.
func (t *sumTable) add(name string, cells ...string) *sumRow {
	row := sumRow{Name: name}
	for n, says := range cells {
		row.Cells = append(row.Cells, sumCell{Head: t.Head[n], Says: says})
	}
	t.Rows = append(t.Rows, row)
	return &t.Rows[len(t.Rows)-1]
}

// sumsOf reports whether the visitor sees all of which the sums of an
// agreement are made. Where a payment or a step is hidden, a sum would tell
// of it.
func (s *sight) sumsOf(agreement string) bool {
	if s.planner() {
		return true
	}
	seen, ok := s.plan.Agreement(agreement)
	whole, there := s.doc.Plan.Agreement(agreement)
	return ok && there && len(seen.Pay) == len(whole.Pay) && len(seen.Cancel) == len(whole.Cancel)
}

func (s *sight) words(a milestones.Amount) string { return s.plan.Wedding.Currency.Range(a) }

// some is a sum, or nothing where it is none.
func (s *sight) some(a milestones.Amount) string {
	if a == milestones.Exactly(0) {
		return ""
	}
	return s.words(a)
}
