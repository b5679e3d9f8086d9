package fetch

import (
	"errors"
	"fmt"
	"net/netip"
	"net/url"
	"strings"
	"syscall"
)

// Address reads the address of a calendar and gives it as it is kept: http or
// https, webcal being https, without a fragment.
func Address(text string) (string, error) {
	u, err := url.Parse(strings.TrimSpace(text))
	if err != nil {
		return "", errors.New("it is no address; write one that begins with https://")
	}
	switch strings.ToLower(u.Scheme) {
	case "webcal", "webcals":
		u.Scheme = "https"
	case "http", "https":
	default:
		return "", errors.New("it is no address of the web; write one that begins with https:// or webcal://")
	}
	switch {
	case u.Hostname() == "":
		return "", errors.New("it names no server; write for instance https://town.example.org/events.ics")
	case u.User != nil:
		return "", errors.New("it has a name or password in it, so it is not public")
	}
	u.Fragment = ""
	return u.String(), nil
}

// Is reports whether a text is meant as an address, and not as a file's name.
func Is(text string) bool {
	scheme, _, ok := strings.Cut(strings.ToLower(strings.TrimSpace(text)), "://")
	return ok && len(scheme) > 1 && strings.Trim(scheme, "abcdefghijklmnopqrstuvwxyz") == ""
}

// ErrPrivate is a server that stands on no public network.
var ErrPrivate = errors.New("its server is on a private network or on this machine, which is not read unless that is allowed")

// notPublic are the networks that are not reachable from everywhere: the
// IANA special-purpose address registries (RFC 6890 and what came after), and
// those that stand for an IPv4 address inside an IPv6 one.
var notPublic = prefixes(
	"0.0.0.0/8", "10.0.0.0/8", "100.64.0.0/10", "127.0.0.0/8", "169.254.0.0/16", "172.16.0.0/12",
	"192.0.0.0/24", "192.0.2.0/24", "192.88.99.0/24", "192.168.0.0/16", "198.18.0.0/15", "198.51.100.0/24",
	"203.0.113.0/24", "224.0.0.0/4", "240.0.0.0/4",
	"::/96", "64:ff9b::/96", "64:ff9b:1::/48", "100::/64", "2001::/23", "2001:db8::/32", "2002::/16",
	"3fff::/20", "5f00::/16", "fc00::/7", "fe80::/10", "fec0::/10", "ff00::/8",
)

func prefixes(texts ...string) (all []netip.Prefix) {
	for _, s := range texts {
		all = append(all, netip.MustParsePrefix(s))
	}
	return all
}

func public(a netip.Addr) bool {
	a = a.Unmap().WithZone("")
	for _, p := range notPublic {
		if p.Contains(a) {
			return false
		}
	}
	return a.IsValid()
}

// guard looks at the address that is about to be dialled, after the name was
// resolved: at the first as after every redirect, and whatever the name will
// resolve to next.
func guard(_, address string, _ syscall.RawConn) error {
	at, err := netip.ParseAddrPort(address)
	if err != nil {
		return fmt.Errorf("dial: %w", err)
	}
	if !public(at.Addr()) {
		return ErrPrivate
	}
	return nil
}
