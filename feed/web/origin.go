package web

import (
	"net/http"
	"net/url"
	"strings"
)

// OwnForms tells the forms of our own pages from those that another site has
// a browser send: by Fetch Metadata, or by Origin and Host where a browser
// sends none (RFC 6454). A proxy may have put its own name for Host, so what
// comes from the public address is ours under any.
func OwnForms(public string) *http.CrossOriginProtection {
	p := http.NewCrossOriginProtection()
	if u, err := url.Parse(strings.ToLower(public)); err == nil && u.Host != "" {
		host := u.Host
		if def := map[string]string{"http": "80", "https": "443"}[u.Scheme]; u.Port() == def { // browsers leave it out
			host = strings.TrimSuffix(host, ":"+def)
		}
		p.AddTrustedOrigin(u.Scheme + "://" + host) // one that is none trusts nobody
	}
	return p
}
