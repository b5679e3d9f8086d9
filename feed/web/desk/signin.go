package desk

import (
	"crypto/subtle"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"

	"banns/feed/web"
	"banns/store"
)

var (
	signInTemplate  = page("signin.html")
	invitedTemplate = page("invited.html")
	keptTemplate    = page("kept.html")
	accountTemplate = page("account.html")
)

// signInPage asks who somebody is.
type signInPage struct {
	web.Frame
	Form form
	Says string // why they are asked
	To   string // where they were going, below the desk
	Kept []pair // what they sent when they were not signed in
	File string // the name of a file that was among it; the file itself is not kept
}

// notIn is said above what is wrong with a form that lets somebody in.
const notIn = "You are not signed in yet."

// nameField asks for the name that somebody signs in with.
func nameField() field {
	return field{Path: "name", Label: "Your name", Must: true, Fill: "username"}
}

func signInForm() form {
	return form{Lead: notIn, Fields: []field{nameField(),
		{Path: "passphrase", Label: "Your passphrase", Kind: secretKind, Must: true, Fill: "current-password"}}}
}

// chosen asks for a passphrase that is new.
func chosen(path, label, more string) field {
	return field{Path: path, Label: label, Kind: secretKind, Must: true, Fill: "new-password", Least: store.PassphraseLeast,
		Hint: fmt.Sprintf("%d characters or more: four words of your own are good.%s", store.PassphraseLeast, more)}
}

// write has faults stand beside those fields of a form that are empty.
func (f *form) write(sent url.Values, paths ...string) {
	f.sets(sent)
	for _, path := range paths {
		f.missing(path, "nothing is written here", "write it")
	}
}

// pair is one value of a form.
type pair struct{ Name, Value string }

// keptPrefix stands before the names of what is kept of a form that came
// from somebody who was not signed in.
const keptPrefix = "kept:"

// pairs are the values of a form, so that another can carry them.
func pairs(form url.Values, prefix string) []pair {
	var all []pair
	for name, values := range form {
		if rest, ok := strings.CutPrefix(name, prefix); ok {
			for _, v := range values {
				all = append(all, pair{rest, v})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b pair) int { return strings.Compare(a.Name, b.Name) })
	return all
}

// below is the path of r below the desk.
func below(r *http.Request) string {
	_, rest, _ := strings.Cut(r.URL.EscapedPath(), "/desk/")
	if r.URL.RawQuery != "" {
		rest += "?" + r.URL.RawQuery
	}
	return rest
}

// askToSignIn stands in for a page or a form that needs somebody signed in.
// What a form held is carried along, and offered to be sent again.
func (d *Desk) askToSignIn(w http.ResponseWriter, r *http.Request) error {
	if r.Method != http.MethodPost {
		return goTo(w, r, "in?to="+url.QueryEscape(below(r)))
	}
	r.Body = http.MaxBytesReader(w, r.Body, strangerMost)
	sent, err := readFileForm(r, 0)
	says := "You were signed out in the meantime. Nothing you typed is lost: sign in, and send it again."
	if err != nil || sent.file != "" {
		says = "You were signed out in the meantime. What you typed is kept, but no file: sign in, choose the file once more, and send it again."
	}
	return web.Show(w, r, http.StatusUnauthorized, signInTemplate, signInPage{Frame: frame(r, "Sign in"), Form: signInForm(),
		To: below(r), Kept: pairs(sent.text, ""), File: sent.file, Says: says})
}

// badForm answers a form that cannot be read.
func badForm(w http.ResponseWriter, r *http.Request, err error) error {
	var long *http.MaxBytesError
	if errors.As(err, &long) {
		return web.Trouble(w, r, http.StatusRequestEntityTooLarge, "Nothing was changed", "What was sent is larger than can be taken. Go back, and send less.")
	}
	return web.Trouble(w, r, http.StatusBadRequest, "Nothing was changed", "What was sent could not be read. Go back, and try once more.")
}

// signIn answers GET of /in.
func (d *Desk) signIn(w http.ResponseWriter, r *http.Request) error {
	return web.Show(w, r, http.StatusOK, signInTemplate, signInPage{Frame: frame(r, "Sign in"), Form: signInForm(), To: r.URL.Query().Get("to")})
}

// signedIn answers POST of /in.
func (d *Desk) signedIn(w http.ResponseWriter, r *http.Request) error {
	p := signInPage{Frame: frame(r, "Sign in"), Form: signInForm(), To: r.PostForm.Get("to"), Kept: pairs(r.PostForm, keptPrefix), File: r.PostForm.Get("file")}
	p.Form.write(r.PostForm, "name", "passphrase")
	if p.Form.Faults != nil {
		return web.Show(w, r, http.StatusUnprocessableEntity, signInTemplate, p)
	}
	a, err := d.Store.SignIn(r.Context(), r.PostForm.Get("name"), r.PostForm.Get("passphrase"), d.Now())
	status, says := laterWords(err)
	switch {
	case says != "":
		p.Form.fault("", says, "")
		return web.Show(w, r, status, signInTemplate, p)
	case errors.Is(err, store.ErrWrong):
		p.Form.fault("passphrase", "the name and the passphrase do not belong together", "nobody can tell you which is wrong: try both again")
		return web.Show(w, r, http.StatusUnauthorized, signInTemplate, p)
	case err != nil:
		return err
	}
	if err := d.begin(w, r, a); err != nil {
		return err
	}
	if len(p.Kept) > 0 || p.File != "" {
		p.Title = "You are signed in again"
		return web.Show(w, r, http.StatusOK, keptTemplate, p)
	}
	return goTo(w, r, local(p.To))
}

// laterWords tells why a sign-in was not looked at, and is empty where it was.
func laterWords(err error) (status int, fault string) {
	var soon store.TooSoon
	switch {
	case errors.As(err, &soon):
		return http.StatusTooManyRequests, "Too many tries have failed. Wait until " + soon.Until.UTC().Format("15:04:05") + " UTC, then try again."
	case errors.Is(err, store.ErrBusy):
		return http.StatusServiceUnavailable, "Very many are signing in just now. Wait a minute, then try again."
	}
	return 0, ""
}

// local is a way below the desk, and nowhere else.
func local(to string) string {
	if u, err := url.Parse(to); err == nil && u.Scheme == "" && u.Host == "" && !strings.Contains(to, "..") {
		return strings.TrimLeft(to, "/\\")
	}
	return ""
}

// begin gives the browser a session of a. The cookie goes over TLS alone
// where the world comes to us by it.
func (d *Desk) begin(w http.ResponseWriter, r *http.Request, a store.Account) error {
	secret, err := d.Store.Begin(r.Context(), a.ID, r.UserAgent(), d.Now())
	if err != nil {
		return err
	}
	http.SetCookie(w, &http.Cookie{Name: cookie, Value: secret, Path: "/", MaxAge: int(store.SessionMost.Seconds()),
		HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: d.secure(r)})
	return nil
}

func (d *Desk) secure(r *http.Request) bool {
	return r.TLS != nil || strings.HasPrefix(d.Public, "https://")
}

// invitedPage lets somebody in by a one-time link.
type invitedPage struct {
	web.Frame
	Form   form
	Secret string
}

// invited answers GET of /in/SECRET. Looking does not spend the link.
func (d *Desk) invited(w http.ResponseWriter, r *http.Request) error {
	p := d.invitedPage(r)
	switch err := d.Store.Invited(r.Context(), p.Secret, d.Now()); {
	case errors.Is(err, store.ErrSpent):
		return web.Trouble(w, r, http.StatusGone, "This link lets nobody in", spent)
	case err != nil:
		return err
	}
	return web.Show(w, r, http.StatusOK, invitedTemplate, p)
}

// tooShort is what is wrong with a new passphrase, and how to mend it.
var tooShort = [2]string{"this has fewer than twelve characters", "choose a longer one: four words of your own are good"}

const (
	spent = "This link was used already, or is older than a week. Ask whoever sent it for another; if you have been here before, sign in instead."
	// nameMost is how many bytes the name has that somebody signs in with.
	nameMost = 100
)

func (d *Desk) invitedPage(r *http.Request) invitedPage {
	f := form{Lead: notIn, Fields: []field{nameField(), chosen("passphrase", "A passphrase", "")}}
	return invitedPage{Frame: frame(r, "Come in"), Secret: chi.URLParam(r, "secret"), Form: f}
}

// accepted answers POST of /in/SECRET: with a new name and passphrase, or,
// from somebody who signs in already, with theirs.
func (d *Desk) accepted(w http.ResponseWriter, r *http.Request) error {
	p := d.invitedPage(r)
	again := func(status int, path, says, mend string) error {
		p.Form.fault(path, says, mend)
		return web.Show(w, r, status, invitedTemplate, p)
	}
	p.Form.write(r.PostForm, "name", "passphrase")
	name, passphrase := strings.TrimSpace(r.PostForm.Get("name")), r.PostForm.Get("passphrase")
	// Whoever has no link has no passphrase tried: this is no second way to guess.
	switch err := d.Store.Invited(r.Context(), p.Secret, d.Now()); {
	case errors.Is(err, store.ErrSpent):
		return web.Trouble(w, r, http.StatusGone, "This link lets nobody in", spent)
	case err != nil:
		return err
	case len(name) > nameMost:
		return again(http.StatusUnprocessableEntity, "name", "this is longer than a hundred letters", "write the name that you want to sign in with")
	case p.Form.Faults != nil:
		return web.Show(w, r, http.StatusUnprocessableEntity, invitedTemplate, p)
	}
	var as int64
	known, err := d.Store.SignIn(r.Context(), name, passphrase, d.Now())
	if status, says := laterWords(err); says != "" {
		return again(status, "", says, "")
	}
	if err == nil {
		as = known.ID
	} else if !errors.Is(err, store.ErrWrong) {
		return err
	}
	a, err := d.Store.Accept(r.Context(), p.Secret, as, name, passphrase, d.Now())
	switch {
	case errors.Is(err, store.ErrSpent):
		return web.Trouble(w, r, http.StatusGone, "This link lets nobody in", spent)
	case errors.Is(err, store.ErrPassphrase):
		return again(http.StatusUnprocessableEntity, "passphrase", tooShort[0], tooShort[1])
	case errors.Is(err, store.ErrNameTaken):
		return again(http.StatusConflict, "name", "somebody signs in with that name already", "if it is you, write your own passphrase; if not, choose another name")
	case err != nil:
		return err
	}
	if err := d.begin(w, r, a); err != nil {
		return err
	}
	return goTo(w, r, "")
}

// door answers GET of /door/SECRET: it lets whoever has the secret in to a
// store of invented things, as an owner that nobody else can be.
func (d *Desk) door(w http.ResponseWriter, r *http.Request) error {
	if d.Door == "" || subtle.ConstantTimeCompare([]byte(d.Door), []byte(chi.URLParam(r, "secret"))) != 1 {
		return nothing(w, r)
	}
	a, err := d.Store.FirstOwner(r.Context(), d.Now())
	if err != nil {
		return err
	}
	if err := d.begin(w, r, a); err != nil {
		return err
	}
	return goTo(w, r, "")
}

// signOut answers POST of /out.
func (d *Desk) signOut(w http.ResponseWriter, r *http.Request) error {
	v := visitorOf(r)
	if err := d.Store.End(r.Context(), v.ID, v.session); err != nil {
		return err
	}
	http.SetCookie(w, &http.Cookie{Name: cookie, Path: "/", MaxAge: -1, HttpOnly: true, SameSite: http.SameSiteLaxMode, Secure: d.secure(r)})
	return goTo(w, r, "in")
}
