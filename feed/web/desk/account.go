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
	Fault    string
	Kept     bool
	Least    int
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
	return d.showAccount(w, r, http.StatusOK, "")
}

func (d *Desk) showAccount(w http.ResponseWriter, r *http.Request, status int, fault string) error {
	v := visitorOf(r)
	all, err1 := d.Store.Sessions(r.Context(), v.ID, d.Now())
	sealed, err2 := d.Store.Sealed(r.Context(), v.ID)
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	p := accountPage{Frame: frame(r, "You"), Name: v.Name, Fault: fault, Kept: r.URL.Query().Has("kept"), Least: store.PassphraseLeast, Sealed: sealed}
	for _, one := range all {
		p.Sessions = append(p.Sessions, sessionRow{one.ID, deviceWords(one.Device), one.Began.Format("Mon 2 Jan 2006"), one.Seen.Format("Mon 2 Jan 2006"), one.ID == v.session})
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

// passphrase answers POST of /me/passphrase.
func (d *Desk) passphrase(w http.ResponseWriter, r *http.Request) error {
	v := visitorOf(r)
	err := d.Store.ChangePassphrase(r.Context(), v.Account, r.PostFormValue("old"), r.PostFormValue("new"), v.session, d.Now())
	if status, fault := laterWords(err); fault != "" {
		return d.showAccount(w, r, status, fault)
	}
	switch {
	case errors.Is(err, store.ErrWrong):
		return d.showAccount(w, r, http.StatusUnprocessableEntity, "The passphrase you have now is another. Nothing was changed.")
	case errors.Is(err, store.ErrPassphrase):
		return d.showAccount(w, r, http.StatusUnprocessableEntity, "Choose a passphrase of twelve characters or more: four words of your own are good.")
	case err != nil:
		return err
	}
	return goTo(w, r, "me?kept")
}
