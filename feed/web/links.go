package web

import (
	"html/template"
	"net/http"
	"net/netip"
	"net/url"
	"strings"

	"banns/store"
)

// Links are the addresses that lead to one person's dates.
type Links struct {
	Page     string
	Calendar string
	Webcal   template.URL // of a scheme that html/template does not know to be safe
	Site
}

// Site is the server as its addresses name it.
type Site struct {
	Host  string // without its port
	Reach reach
}

// NewSite is the server whose addresses begin with base.
func NewSite(base string) (Site, error) {
	u, err := url.Parse(base)
	if err != nil {
		return Site{}, err
	}
	return Site{u.Hostname(), reachOf(u.Hostname())}, nil
}

// Unreached reports whether nobody but the machine itself can come to it.
func (s Site) Unreached() bool { return s.Reach == thisMachine }

// NewLinks are the addresses that a token opens, below the server's own.
func NewLinks(base, token string) (Links, error) {
	site, err := NewSite(base)
	if err != nil {
		return Links{}, err
	}
	l := Links{Page: base + "/p/" + token, Calendar: base + "/c/" + token + ".ics", Site: site}
	_, rest, _ := strings.Cut(l.Calendar, "://")
	l.Webcal = template.URL("webcal://" + rest)
	return l, nil
}

// Base is what links begin with: the public address, as told or as kept, or
// else the one that was asked. What a client says of a proxy before us is not believed: anybody
// can say it.
func Base(r *http.Request, public string, s *store.Store) (string, error) {
	if public != "" {
		return strings.TrimRight(public, "/"), nil
	}
	kept, err := s.Public(r.Context())
	if err != nil || kept != "" {
		return strings.TrimRight(kept, "/"), err
	}
	if r.TLS != nil {
		return "https://" + r.Host, nil
	}
	return "http://" + r.Host, nil
}

// reach is who can come to an address.
type reach string

const (
	anybody     reach = ""
	sameNetwork reach = "network" // those on the same network
	thisMachine reach = "machine" // nobody but the machine itself
)

// sharedSpace is the address space that providers share out behind their own
// gateways (RFC 6598).
var sharedSpace = netip.MustParsePrefix("100.64.0.0/10")

// reachOf tells who can come to a host, by its name alone.
func reachOf(host string) reach {
	host = strings.ToLower(strings.TrimSuffix(host, "."))
	if ip, err := netip.ParseAddr(host); err == nil {
		ip = ip.Unmap()
		switch {
		case ip.IsLoopback(), ip.IsUnspecified():
			return thisMachine
		case ip.IsPrivate(), ip.IsLinkLocalUnicast(), sharedSpace.Contains(ip.WithZone("")): // RFC 1918, 4193, 3927, 4291
			return sameNetwork
		}
		return anybody
	}
	name := host[strings.LastIndex(host, ".")+1:]
	switch {
	case name == "localhost": // RFC 6761 6.3
		return thisMachine
	case name == host, name == "local", name == "internal", strings.HasSuffix(host, ".home.arpa"): // RFC 6762, 8375
		return sameNetwork
	}
	return anybody
}
