package store

import (
	"cmp"
	"context"
	"slices"
	"strings"
)

// Who is somebody of a wedding, or a joint feed.
type Who struct {
	Wedding string // its name; empty: Name is what commands call a joint feed
	Name    string
}

// names are people's names by who they are, as the newest plans have them.
type names struct {
	stores []*Store
	known  map[Reader]Who
}

func newNames(stores ...*Store) names { return names{stores, nil} }

// of are those whose feeds these are, and joint ones themselves, by wedding
// and name.
func (n *names) of(ctx context.Context, q querier, feeds []int64) ([]Who, error) {
	var all []Who
	for _, id := range feeds {
		f, err := feedByID(ctx, q, id)
		if err != nil {
			return nil, err
		}
		if f.joint() {
			all = append(all, Who{Name: f.name})
			continue
		}
		parts, err := carried(ctx, q, id)
		if err != nil {
			return nil, err
		}
		for _, at := range parts {
			who, err := n.who(ctx, at.Reader)
			if err != nil {
				return nil, err
			}
			all = append(all, who)
		}
	}
	slices.SortFunc(all, func(a, b Who) int {
		return cmp.Or(strings.Compare(a.Wedding, b.Wedding), strings.Compare(a.Name, b.Name))
	})
	return all, nil
}

func (n *names) who(ctx context.Context, r Reader) (Who, error) {
	if n.known == nil {
		if err := n.read(ctx); err != nil {
			return Who{}, err
		}
	}
	if who, ok := n.known[r]; ok {
		return who, nil
	}
	return Who{n.known[Reader{r.Wedding, ""}].Wedding, r.Person}, nil
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
	feeds, err := numbers(ctx, s.db, "select distinct feed from address where revoked_at = ''")
	if err != nil {
		return nil, err
	}
	n := newNames(s)
	return n.of(ctx, s.db, feeds)
}
