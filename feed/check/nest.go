package check

import "strings"

// component is what stands between a BEGIN and its END (RFC 5545 3.6).
type component struct {
	n     int // of its BEGIN
	name  string
	props []property
	kids  []*component
}

func (c *component) first(name string) (property, bool) {
	for _, p := range c.props {
		if p.name == name {
			return p, true
		}
	}
	return property{}, false
}

// maxDepth is far beyond VCALENDAR, VEVENT, VALARM. A stream nested deeper is
// an attack on its reader, and is read no further.
const maxDepth = 8

// nester holds the components that are open, outermost first.
type nester struct {
	*report
	open    []*component
	root    *component
	strayed bool // a property stood outside, which is said once
}

// nest builds the one VCALENDAR of the stream, or returns nil where none begins.
func (r *report) nest(props []property) *component {
	s := nester{report: r}
	for _, p := range props {
		switch {
		case p.name == "BEGIN" && len(s.open) == maxDepth:
			s.add(p.n, "nested deeper than %d", maxDepth)
			return s.root
		case p.name == "BEGIN":
			s.begin(p)
		case p.name == "END":
			s.end(p)
		case len(s.open) == 0:
			s.stray(p)
		default:
			top := s.open[len(s.open)-1]
			top.props = append(top.props, p)
		}
	}
	for _, c := range s.open {
		s.add(c.n, "BEGIN:%s has no END (RFC 5545 3.6)", clip(c.name))
	}
	return s.root
}

func (s *nester) stray(p property) {
	if !s.strayed {
		s.add(p.n, "%s stands outside VCALENDAR (RFC 5545 3.4)", clip(p.name))
	}
	s.strayed = true
}

func (s *nester) begin(p property) {
	c := &component{n: p.n, name: strings.ToUpper(p.value)}
	switch {
	case len(s.open) > 0:
		top := s.open[len(s.open)-1]
		top.kids = append(top.kids, c)
	case s.root != nil:
		s.add(p.n, "a second calendar in the stream, a feed is one")
	case c.name != "VCALENDAR":
		s.add(p.n, "the stream begins with %s, not VCALENDAR (RFC 5545 3.4)", show(p.value))
	default:
		s.root = c
	}
	s.open = append(s.open, c)
}

// end closes the innermost component of that name, and with it any that was
// left open inside: their missing END is the fault, not each line after it.
func (s *nester) end(p property) {
	name := strings.ToUpper(p.value)
	for i := len(s.open) - 1; i >= 0; i-- {
		if s.open[i].name != name {
			continue
		}
		for _, inner := range s.open[i+1:] {
			s.add(p.n, "END:%s before the END of %s, begun on line %d (RFC 5545 3.6)", clip(name), clip(inner.name), inner.n)
		}
		s.open = s.open[:i]
		return
	}
	s.add(p.n, "END:%s has no BEGIN (RFC 5545 3.6)", clip(name))
}
