package store

import (
	"cmp"
	"context"
	"slices"
	"strings"
)

// Who is somebody of a wedding.
type Who struct {
	Wedding string // its name
	Name    string
}

// names are people's names by who they are, as the newest plans have them.
type names struct {
	stores []*Store
	known  map[Reader]Who
}

func newNames(stores ...*Store) names { return names{stores, nil} }

// of are those whom the query gives, by wedding and name.
func (n *names) of(ctx context.Context, q querier, query string) ([]Who, error) {
	readers, err := scanReaders(q.QueryContext(ctx, query))
	if err != nil {
		return nil, err
	}
	if n.known == nil {
		if err := n.read(ctx); err != nil {
			return nil, err
		}
	}
	var all []Who
	for _, r := range readers {
		who, ok := n.known[r]
		if !ok {
			who = Who{n.known[Reader{r.Wedding, ""}].Wedding, r.Person}
		}
		all = append(all, who)
	}
	slices.SortFunc(all, func(a, b Who) int {
		return cmp.Or(strings.Compare(a.Wedding, b.Wedding), strings.Compare(a.Name, b.Name))
	})
	return all, nil
}

// read reads the plans; one that this program cannot read gives no names.
func (n *names) read(ctx context.Context) error {
	n.known = map[Reader]Who{}
	for _, s := range n.stores {
		all, err := s.Weddings(ctx)
		if err != nil {
			return err
		}
		for _, w := range all {
			n.note(Reader{w.ID, ""}, Who{w.Name, ""})
			doc, err := s.Load(ctx, w.ID)
			if err != nil {
				continue
			}
			for _, p := range doc.Plan.People {
				n.note(Reader{w.ID, p.ID()}, Who{w.Name, p.Name})
			}
		}
	}
	return nil
}

func (n *names) note(r Reader, who Who) {
	if _, ok := n.known[r]; !ok {
		n.known[r] = who
	}
}

// linked are all whose links open something.
func (s *Store) linked(ctx context.Context) ([]Who, error) {
	n := newNames(s)
	return n.of(ctx, s.db, "select distinct wedding, person from address join carries using (feed) where revoked_at = ''")
}
