package desk

import (
	"errors"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"banns/feed/web"
	"banns/store"
)

// Options are what a Desk is made of.
type Options struct {
	Store   *store.Store
	Now     func() time.Time
	Log     *slog.Logger
	Public  string // the address under which the world reaches it
	Private bool   // addresses of public events on private networks may be read
	Door    string // for a store of invented things: a secret that signs in whoever has it; empty: there is none
}

// Desk answers every URL under /desk.
type Desk struct {
	Options
	forms   *http.CrossOriginProtection
	plans   plans
	weighed latest[weighingKey, weighing]
	read    latest[readKey, sourcesRead]
	hand    hand
	handler http.Handler
}

// New makes a desk that is ready to answer.
func New(o Options) *Desk {
	d := &Desk{Options: o, forms: web.OwnForms(o.Public)}
	d.handler = d.routes()
	return d
}

// ServeHTTP answers one request.
func (d *Desk) ServeHTTP(w http.ResponseWriter, r *http.Request) { d.handler.ServeHTTP(w, r) }

// routes is every URL of the desk.
func (d *Desk) routes() http.Handler {
	r := chi.NewRouter()
	r.Use(polite, d.ours)
	r.NotFound(d.answer(nothing))

	// Anybody may ask for these.
	r.Get("/in", d.answer(d.signIn))
	r.Post("/in", d.answer(d.signedIn))
	r.Get("/in/{secret}", d.answer(d.invited))
	r.Post("/in/{secret}", d.answer(d.accepted))
	r.Get("/door/{secret}", d.answer(d.door))
	r.Get("/paper/{print}", d.answer(d.printed))

	r.Group(func(r chi.Router) {
		r.Use(d.signed)
		r.Get("/", d.answer(d.weddings))
		r.Post("/out", d.answer(d.signOut))
		r.Get("/me", d.answer(d.account))
		r.Post("/me/end", d.answer(d.endSession))
		r.Post("/me/passphrase", d.answer(d.passphrase))
		r.With(d.owners).Get("/new", d.answer(d.newWedding))
		r.With(d.owners).Post("/new", d.answer(d.begun))
		r.Route("/w/{wedding}", d.wedding)
	})
	return r
}

// wedding is every URL of one wedding.
func (d *Desk) wedding(r chi.Router) {
	r.Use(d.seen)
	r.Get("/", d.answer(d.front))
	r.Get("/day", d.answer(d.day))
	r.Post("/day", d.answer(d.saveDay))

	r.Get("/dates", d.answer(d.dates))
	r.Post("/away", d.answer(d.saveAway))
	r.Post("/away/end", d.answer(d.endAway))
	d.meetingRoutes(r)
	d.countdownRoutes(r)
	d.weighRoutes(r)
	d.eventsRoutes(r)
	r.Get("/licence", d.answer(d.licence))
	r.Post("/licence", d.answer(d.saveLicence))
	r.Get("/people", d.answer(d.people))
	r.Get("/add/person", d.answer(d.newPerson))
	r.Post("/add/person", d.answer(d.addPerson))
	r.Get("/people/{person}", d.answer(d.person))
	r.Post("/people/{person}", d.answer(d.editPerson))
	r.Get("/people/{person}/sees", d.answer(d.sees))
	r.Get("/people/{person}/out", d.answer(d.sureDrop))
	r.Post("/people/{person}/out", d.answer(d.drop))
	r.Get("/people/{person}/link", d.answer(d.link))
	r.Get("/people/{person}/link/new", d.answer(d.sureReissue))
	r.Post("/people/{person}/link/new", d.answer(d.reissue))
	r.Get("/people/{person}/link/close", d.answer(d.sureClose))
	r.Post("/people/{person}/link/close", d.answer(d.closeLink))
	r.With(d.planners).Get("/admits", d.answer(d.admits))
	r.With(d.planners).Post("/admits/invite", d.answer(d.invite))
	r.With(d.planners).Post("/admits/uninvite", d.answer(d.uninvite))
	r.With(d.planners).Get("/admits/{account}/dismiss", d.answer(d.sureDismiss))
	r.With(d.planners).Post("/admits/{account}/dismiss", d.answer(d.dismiss))
	r.Get("/add/agreement", d.answer(d.agreement))
	r.Post("/add/agreement", d.answer(d.changeAgreement))
	r.Post("/add/agreement/read", d.answer(d.readAgreement))
	r.Route("/agreements", d.agreementRoutes)
	r.Get("/leaving", d.answer(d.leaving))
	r.Get("/due", d.answer(d.due))
	r.Get("/questions", d.answer(d.questions))
	r.Get("/questions/{question}", d.answer(d.question))
	r.Post("/questions/{question}", d.answer(d.answerQuestion))
	r.Get("/history", d.answer(d.history))
	r.Get("/history/{version}/back", d.answer(d.goingBack))
	r.Post("/history/{version}/back", d.answer(d.goBack))
	r.Get("/paper/month", d.answer(d.paperMonth))
	r.Get("/paper/people", d.answer(d.paperPeople))
}

func (d *Desk) answer(do func(http.ResponseWriter, *http.Request) error) http.HandlerFunc {
	return web.Answer(d.Log, func(w http.ResponseWriter, r *http.Request) error {
		err := do(w, r)
		if errors.Is(err, store.ErrUnknown) {
			return nothing(w, r)
		}
		return err
	})
}

// nothing answers where there is nothing, or nothing for whoever asks: the
// two look the same.
func nothing(w http.ResponseWriter, r *http.Request) error {
	return web.Trouble(w, r, http.StatusNotFound, "There is nothing at this address",
		"It may have been taken out of the plan, or it is not yours to see.")
}

// bodyMost is the most that a form can come to, in bytes.
const bodyMost = 256 << 10

// ours refuses what another site has a browser send, and forms that are too
// long or cannot be read.
func (d *Desk) ours(next http.Handler) http.Handler {
	return d.answer(func(w http.ResponseWriter, r *http.Request) error {
		if d.forms.Check(r) != nil {
			return web.Trouble(w, r, http.StatusForbidden, "Nothing was changed",
				"This came from another site. Open the desk from its own address, and do it there.")
		}
		if takesFile(r) || takesEvents(r) {
			r.Body = http.MaxBytesReader(w, r.Body, wholeMost)
		} else {
			r.Body = http.MaxBytesReader(w, r.Body, bodyMost)
		}
		if err := r.ParseForm(); err != nil {
			return badForm(w, r, err)
		}
		next.ServeHTTP(w, r)
		return nil
	})
}

// polite sets what differs from the pages that anybody with a link may open.
// A form tells where it came from, so that ours can look; and a page may be
// kept for the back button, which brings back what was typed.
func polite(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Referrer-Policy", "same-origin")
		w.Header().Set("Cache-Control", "private, no-cache")
		w.Header().Set("Content-Security-Policy", web.Policy+"; connect-src 'self'") // for readings while typing
		next.ServeHTTP(w, r)
	})
}

// goTo sends the browser on to a page below the desk after a form was taken.
// The way is relative, since a proxy may put us under a path (RFC 9110
// 10.2.2).
func goTo(w http.ResponseWriter, r *http.Request, to string) error {
	up := strings.Repeat("../", max(0, strings.Count(r.URL.EscapedPath(), "/")-1))
	w.Header().Set("Location", up+"desk/"+strings.TrimPrefix(to, "/"))
	w.WriteHeader(http.StatusSeeOther)
	return nil
}
