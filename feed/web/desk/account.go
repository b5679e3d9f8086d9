package desk

import (
	"errors"
	"net/http"
	"strconv"

	"banns/feed/web"
	"banns/store"
)

// accountPage is about whoever is signed in: where, and by what passphrase.
type accountPage struct {
	web.Frame
	Name     string
	Sessions []sessionRow
	Form     form // of another passphrase
	Kept     bool
	Sealed   bool // there is a passphrase
}

type sessionRow struct {
	ID     int64
	Device string
	Began  string
	Seen   string
	Here   bool
}

// account answers GET of /me.
func (d *Desk) account(w http.ResponseWriter, r *http.Request) error {
	return d.showAccount(w, r, http.StatusOK, passphraseForm())
}

func (d *Desk) showAccount(w http.ResponseWriter, r *http.Request, status int, f form) error {
	v := visitorOf(r)
	all, err1 := d.Store.Sessions(r.Context(), v.ID, d.Now())
	sealed, err2 := d.Store.Sealed(r.Context(), v.ID)
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	p := accountPage{Frame: frame(r, "You"), Name: v.Name, Form: f, Kept: r.URL.Query().Has("kept"), Sealed: sealed}
	for _, one := range all {
		p.Sessions = append(p.Sessions, sessionRow{one.ID, deviceWords(one.Device), one.Began.UTC().Format("Mon 2 Jan 2006, 15:04 UTC"), one.Seen.UTC().Format("Mon 2 Jan 2006"), one.ID == v.session})
	}
	return web.Show(w, r, status, accountTemplate, p)
}

// endSession answers POST of /me/end.
func (d *Desk) endSession(w http.ResponseWriter, r *http.Request) error {
	id, err := strconv.ParseInt(r.PostFormValue("session"), 10, 64)
	if err != nil {
		return store.ErrUnknown
	}
	if err := d.Store.End(r.Context(), visitorOf(r).ID, id); err != nil {
		return err
	}
	return goTo(w, r, "me")
}

// passphraseForm asks for another passphrase.
func passphraseForm() form {
	return form{Lead: "Nothing was changed.", Fields: []field{
		{Path: "old", Label: "The one you have now", Kind: secretKind, Must: true, Fill: "current-password"},
		chosen("new", "The one you want", " Every other browser is then signed out."),
	}}
}

// passphrase answers POST of /me/passphrase.
func (d *Desk) passphrase(w http.ResponseWriter, r *http.Request) error {
	v, f := visitorOf(r), passphraseForm()
	f.write(r.PostForm, "old", "new")
	if f.Faults != nil {
		return d.showAccount(w, r, http.StatusUnprocessableEntity, f)
	}
	err := d.Store.ChangePassphrase(r.Context(), v.Account, r.PostForm.Get("old"), r.PostForm.Get("new"), v.session, d.Now())
	status, says := laterWords(err)
	switch {
	case says != "":
		f.fault("", says, "")
		return d.showAccount(w, r, status, f)
	case errors.Is(err, store.ErrWrong):
		f.fault("old", "the passphrase you have now is another", "write the one that you signed in with")
		return d.showAccount(w, r, http.StatusUnprocessableEntity, f)
	case errors.Is(err, store.ErrPassphrase):
		f.fault("new", tooShort[0], tooShort[1])
		return d.showAccount(w, r, http.StatusUnprocessableEntity, f)
	case err != nil:
		return err
	}
	return goTo(w, r, "me?kept")
}
