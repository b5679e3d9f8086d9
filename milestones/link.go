package milestones

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"
)

// ref is what a Timing can be anchored to: the id of an item, or, with @ in
// front, the signing or a named date of an agreement.
type ref string

const weddingRef ref = "wedding"

func signingRef(a *Agreement) ref           { return ref("@signing/" + a.Key) }
func dateRef(a *Agreement, name string) ref { return ref("@date/" + a.Key + "/" + name) }
func termRef(a *Agreement, key string) ref  { return ref(a.Key + "/" + key) }
func partRef(a *Agreement, p Payment, n int) ref {
	return termRef(a, fmt.Sprintf("%s/%d", p.Key, n))
}

// name folds what people call a thing, so that "the Final Headcount" finds
// "final headcount".
func name(s string) string {
	s = strings.ToLower(strings.Trim(s, `"“”,;. `))
	if !strings.ContainsFunc(s, unicode.IsSpace) {
		return s
	}
	words := strings.Fields(s)
	for len(words) > 1 && (words[0] == "our" || slices.Contains(idle, words[0])) {
		words = words[1:]
	}
	return strings.Join(words, " ")
}

// scope is what can be named from one place of the plan.
type scope map[string][]ref

func (s scope) add(as string, r ref) {
	if as = name(as); as != "" && !slices.Contains(s[as], r) {
		s[as] = append(s[as], r)
	}
}

// own is what can be named inside agreement a.
func (a *Agreement) own() scope {
	s := scope{}
	for _, word := range []string{"signing", "execution"} {
		s.add(word, signingRef(a))
	}
	for _, d := range a.Dates {
		s.add(d.Name, dateRef(a, d.Name))
	}
	a.payments(s)
	for _, t := range a.Change {
		s.add(t.Key, termRef(a, t.Key))
		s.add(t.label(t.Label), termRef(a, t.Key))
	}
	for _, t := range a.Papers {
		s.add(t.Key, termRef(a, t.Key))
		s.add(t.label(t.Label), termRef(a, t.Key))
	}
	for _, t := range a.Cancel {
		if t.Until != nil {
			s.add(t.Key, termRef(a, t.Key))
		}
	}
	return s
}

// payments names the payments.
func (a *Agreement) payments(s scope) {
	var order []ref // security apart
	for _, p := range a.Pay {
		r := termRef(a, p.Key)
		switch p.Form {
		case Security:
			s.add("security", r)
			s.add("security back", r+"/back")
		case Equal:
			for i := range p.Times {
				order = append(order, partRef(a, p, i+1))
			}
			r = partRef(a, p, 1)
		case Balance:
			s.add("balance", r)
			order = append(order, r)
		default:
			order = append(order, r)
		}
		s.add(p.Key, r)
		s.add(p.What, r)
	}
	s.ordinals(order)
}

// ordinals names payments by their order in the agreement.
func (s scope) ordinals(order []ref) {
	for i, r := range order[:min(len(order), len(ordinalWords))] {
		s.add(ordinalWords[i]+" payment", r)
		s.add(ordinalFigures[i]+" payment", r)
	}
	if last := len(order) - 1; last >= 0 {
		s.add("deposit", order[0])
		s.add("final payment", order[last])
		s.add("last payment", order[last])
	}
}

// scopes are what can be named inside each agreement, and from anywhere.
func (p *Plan) scopes() (own []scope, shared scope) {
	own = make([]scope, len(p.Agreements))
	for i := range own {
		own[i] = p.Agreements[i].own()
	}
	return own, p.shared(own)
}

// scope is what can be named from anywhere in the plan.
func (p *Plan) scope() scope {
	_, shared := p.scopes()
	return shared
}

// shared is what can be named from anywhere, where own can be inside each
// agreement.
func (p *Plan) shared(own []scope) scope {
	s := scope{}
	for _, as := range []string{"wedding", "day", "wedding day", "wedding date", "day of the wedding", "date of the wedding", "day itself"} {
		s.add(as, weddingRef)
	}
	for _, m := range p.meetings() {
		s.add(m.Key, m.ref)
		s.add(m.What, m.ref)
		s.add(string(m.ref), m.ref)
	}
	for i := range p.Agreements {
		a := &p.Agreements[i]
		for _, t := range a.Change {
			s.add(t.label(t.Label), termRef(a, t.Key))
		}
		for _, t := range a.Papers {
			s.add(t.label(t.Label), termRef(a, t.Key))
		}
		for as, refs := range own[i] {
			for _, r := range refs {
				if !strings.HasPrefix(string(r), "@") {
					s.add(a.Key+"/"+as, r)
				}
			}
		}
	}
	return s
}

// meeting is an appointment or an occasion with its ref and path.
type meeting struct {
	*Meeting
	ref  ref
	kind Kind
}

func (m meeting) path() string { return string(m.ref) }

func (p *Plan) meetings() []meeting {
	var all []meeting
	for i := range p.Appointments {
		m := &p.Appointments[i].Meeting
		all = append(all, meeting{m, ref("appointments/" + m.Key), KindAppointment})
	}
	for i := range p.Occasions {
		m := &p.Occasions[i].Meeting
		all = append(all, meeting{m, ref("occasions/" + m.Key), KindOccasion})
	}
	return all
}

// linker turns the words of anchors into refs.
type linker struct {
	shared scope
	faults *[]Fault
	unread []Fault // of the phrases: what they would have named is not known
}

// unknown reports whether nothing can be said of the name as at path: the
// phrase itself was not understood, or another that may hold the name was not.
func (l linker) unknown(as, path string) bool {
	return slices.ContainsFunc(l.unread, func(f Fault) bool {
		return f.Path == path || strings.Contains(strings.ToLower(f.Says), as)
	})
}

// link finds what t counts from; own may be nil.
func (l linker) link(t *Timing, own scope, path string) {
	if t == nil || t.Says == "" || !t.Anchor.Date.IsZero() {
		return
	}
	as := name(t.Anchor.Says)
	switch refs := l.refs(as, own); {
	case len(refs) == 1:
		t.Anchor.ref = refs[0]
		return
	case len(refs) > 1:
		*l.faults = append(*l.faults, Fault{path,
			fmt.Sprintf("%q could be any of %s", t.Anchor.Says, joinRefs(refs)),
			"name it by its key, as " + string(refs[0])})
		return
	}
	if l.unknown(as, path) {
		return
	}
	known := slices.Sorted(maps.Keys(own))
	known = append(known, slices.Sorted(maps.Keys(l.shared))...)
	*l.faults = append(*l.faults, Fault{path,
		fmt.Sprintf("%q: nothing here is called %q", t.Says, t.Anchor.Says), Nearest(as, known)})
}

// refs are what a name may stand for: what is nearest is meant.
func (l linker) refs(as string, own scope) []ref {
	as = name(as)
	if refs := own[as]; len(refs) > 0 {
		return refs
	}
	return l.shared[as]
}

func joinRefs(refs []ref) string {
	var words []string
	for _, r := range refs {
		words = append(words, string(r))
	}
	return strings.Join(words, " or ")
}
