package desk

import (
	"context"
	"errors"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/go-chi/chi/v5"

	"banns/conflicts"
	"banns/feed"
	"banns/milestones"
	"banns/store"
)

// cookie is the name of the cookie that holds a session's secret.
const cookie = "banns-desk"

// visitor is whoever is signed in.
type visitor struct {
	store.Account
	session int64
}

// sight is one wedding as the visitor sees it.
type sight struct {
	store.Admits
	doc      *store.Document // whole: what is hidden is in it
	plan     *milestones.Plan
	items    []milestones.Item
	entries  []feed.Entry // what the visitor sees of the items, in their order
	closures milestones.Closures
	met      *met
	key      string // who the visitor is in the plan, or empty for a planner
	today    milestones.Date
	gone     *gone // what was taken out of the plan, and stands in it here as it was last
}

type visitorKey struct{}
type sightKey struct{}

func visitorOf(r *http.Request) visitor { return r.Context().Value(visitorKey{}).(visitor) }
func sightOf(r *http.Request) *sight    { return r.Context().Value(sightKey{}).(*sight) }

// signed lets nobody pass who is not signed in. Whoever was about to read
// something is sent there after signing in; whoever sent a form finds it kept.
func (d *Desk) signed(next http.Handler) http.Handler {
	return d.answer(func(w http.ResponseWriter, r *http.Request) error {
		v, err := d.visitor(r)
		if errors.Is(err, store.ErrUnknown) {
			return d.askToSignIn(w, r)
		} else if err != nil {
			return err
		}
		next.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), visitorKey{}, v)))
		return nil
	})
}

// visitor is whoever is signed in. ErrUnknown where nobody is.
func (d *Desk) visitor(r *http.Request) (visitor, error) {
	c, err := r.Cookie(cookie)
	if err != nil {
		return visitor{}, store.ErrUnknown
	}
	a, session, err := d.Store.SignedIn(r.Context(), c.Value, d.Now())
	return visitor{a, session}, err
}

// seen lets nobody pass to a wedding that is not theirs to see.
func (d *Desk) seen(next http.Handler) http.Handler {
	return d.answer(func(w http.ResponseWriter, r *http.Request) error {
		all, err := d.Store.Admitted(r.Context(), visitorOf(r).Account)
		if err != nil {
			return err
		}
		n := slices.IndexFunc(all, func(a store.Admits) bool { return a.Name == chi.URLParam(r, "wedding") })
		if n < 0 {
			return nothing(w, r)
		}
		s, err := d.look(r.Context(), all[n])
		if err != nil {
			return err
		}
		next.ServeHTTP(w, seeing(r, s))
		return nil
	})
}

// seeing is a request of whoever sees that.
func seeing(r *http.Request, s *sight) *http.Request {
	return r.WithContext(context.WithValue(r.Context(), sightKey{}, s))
}

// look is a wedding as one that is admitted to it sees it.
func (d *Desk) look(ctx context.Context, a store.Admits) (*sight, error) {
	p, err := d.plans.get(ctx, d.Store, a.Wedding)
	if err != nil {
		return nil, err
	}
	return p.seenBy(a, d.Now())
}

// seenBy is a plan as one that is admitted to its wedding sees it.
func (p *dated) seenBy(a store.Admits, now time.Time) (*sight, error) {
	s := &sight{Admits: a, doc: p.doc, plan: p.doc.Plan, items: p.items, closures: p.closures, met: &p.met}
	s.today = milestones.DateOf(now.In(s.plan.Wedding.Location()))
	if a.Person == "" {
		for i := range p.items {
			s.entries = append(s.entries, feed.Whole(s.plan, &p.items[i]))
		}
		return s, nil
	}
	for _, who := range s.plan.People {
		if who.ID() == a.Person && runsIt(who.Part) {
			s.key = who.Key
		}
	}
	if s.key == "" { // has left the plan, or has another part in it now
		return nil, store.ErrUnknown
	}
	s.entries = feed.View(s.plan, p.items, s.key)
	s.plan = feed.Seen(s.plan, s.key)
	return s, nil
}

// runsIt reports whether somebody of that part may sign in at the desk.
func runsIt(part milestones.Part) bool {
	return part == milestones.Couple || part == milestones.Planner
}

// planner reports whether nothing is hidden from the visitor: they hold the
// plan itself.
func (s *sight) planner() bool { return s.key == "" }

// at is the path of a page of the wedding below the desk.
func (s *sight) at(page string) string { return "w/" + s.Name + "/" + strings.TrimPrefix(page, "/") }

// plans are the newest plans of weddings, read and dated: a page is asked for
// far more often than a plan is changed.
type plans struct {
	mu  sync.Mutex
	all map[string]*dated // by the wedding's id
}

// dated is a plan and its items.
type dated struct {
	doc      *store.Document
	items    []milestones.Item
	closures milestones.Closures
	met      met
}

func newDated(doc *store.Document) *dated {
	d := &dated{doc: doc}
	d.closures, _ = conflicts.ClosuresFor(doc.Plan.Wedding.Region)
	d.items = milestones.Schedule(doc.Plan, d.closures)
	return d
}

func (p *plans) get(ctx context.Context, s *store.Store, w store.Wedding) (*dated, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if d := p.all[w.ID]; d != nil && d.doc.Plan.Version == w.Version {
		return d, nil
	}
	doc, err := s.Load(ctx, w.ID)
	if err != nil {
		return nil, err
	}
	d := newDated(doc)
	if p.all == nil {
		p.all = map[string]*dated{}
	}
	p.all[w.ID] = d
	return d, nil
}
