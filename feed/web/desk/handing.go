package desk

import (
	"html/template"
	"net/url"

	"banns/feed/web"
	"banns/milestones"
)

// handing is how an address gets to whoever it is for.
type handing struct {
	Address string
	Site    web.Site
	QR      web.QR
	Message string
	Text    template.URL // sends the message to their telephone, where there is one
	Mail    template.URL // sends it to their mail address
	Then    string       // what they do on the page that it opens
}

// newHanding is that of an address below base, with a message that has it.
func newHanding(base, address, message, then string) (h handing, err error) {
	h = handing{Address: address, Message: message, Then: then}
	if h.Site, err = web.NewSite(base); err != nil {
		return h, err
	}
	h.QR, err = web.NewQR(address)
	return h, err
}

// to is h with the ways to send it to somebody.
func (h handing) to(who *milestones.Person, subject string) handing {
	if number := dialled(who.Phone); number != "" {
		h.Text = texting(number, h.Message)
	}
	if who.Email != "" {
		h.Mail = template.URL("mailto:" + url.PathEscape(who.Email) + "?subject=" + escaped(subject) + "&body=" + escaped(h.Message))
	}
	return h
}
