package web

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"runtime/debug"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"

	"banns/store"
)

// Options are what a Server is made of.
type Options struct {
	Store  *store.Store
	Now    func() time.Time
	Log    *slog.Logger
	Public string       // the address under which the world reaches it; empty: as asked
	Desk   http.Handler // answers what is under /desk; may be nil
	// Compare is what a link shows that puts days side by side, and
	// store.ErrUnknown where there is none; nil: there are no such links.
	Compare func(ctx context.Context, token string) (Comparison, error)
}

// Server answers every URL.
type Server struct {
	Options
	shelf   *shelf
	asked   chan int64 // feeds that a calendar program has asked for
	forms   *http.CrossOriginProtection
	handler http.Handler
}

// watchEvery is how often commits of other processes are looked for.
const watchEvery = 500 * time.Millisecond

// New makes a server that is ready to answer.
func New(ctx context.Context, o Options) (*Server, error) {
	s := &Server{Options: o, shelf: &shelf{store: o.Store, log: o.Log, most: shelfMost}, asked: make(chan int64, askedMost), forms: OwnForms(o.Public)}
	s.handler = s.routes()
	return s, s.shelf.refresh(ctx)
}

// Watch keeps what is served in step with the store until ctx ends, and notes
// there what was asked for.
func (s *Server) Watch(ctx context.Context) {
	go s.noteAsked(ctx)
	for ctx.Err() == nil {
		err := s.Store.Watch(ctx, watchEvery, s.shelf.refresh)
		if ctx.Err() == nil {
			s.Log.Error("looking for changes in the store; trying again", "error", err)
			select {
			case <-ctx.Done():
			case <-time.After(watchEvery):
			}
		}
	}
}

// ServeHTTP answers one request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.handler.ServeHTTP(w, r) }

// routes is every URL there is.
func (s *Server) routes() http.Handler {
	r := chi.NewRouter()
	get := func(path string, do func(http.ResponseWriter, *http.Request) error) {
		r.Get(path, s.answer(do))
		r.Head(path, s.answer(do))
	}
	get("/c/{token}.ics", s.calendar)
	get("/p/{token}", s.page)
	r.Post("/p/{token}/reminders", s.answer(s.reminders))
	get("/", s.front)
	get("/healthz", s.health)
	get("/static/{file}", s.static)
	if s.Compare != nil {
		get("/d/{token}", s.comparison)
	}
	if s.Desk != nil {
		r.Mount("/desk", s.Desk)
	}
	r.NotFound(s.answer(nothing))
	return r
}

func (s *Server) answer(do func(http.ResponseWriter, *http.Request) error) http.HandlerFunc {
	return Answer(s.Log, do)
}

// Answer is where errors and panics become answers. Logs name the route, and
// never the path: it may hold an address.
func Answer(log *slog.Logger, do func(http.ResponseWriter, *http.Request) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if p := recover(); p != nil {
				log.Error("panic", "route", route(r), "panic", p, "stack", string(debug.Stack()))
				sorry(w, r)
			}
		}()
		switch err := do(w, r); {
		case err == nil:
		case errors.Is(err, store.ErrUnknown):
			nothing(w, r)
		case r.Context().Err() != nil: // the client has gone
		default:
			log.Error("failed", "method", r.Method, "route", route(r), "error", err)
			sorry(w, r)
		}
	}
}

// nothing answers where there is nothing.
func nothing(w http.ResponseWriter, r *http.Request) error {
	return Trouble(w, r, http.StatusNotFound, "There is nothing at this address",
		"Open the link once more from the message it came in: a letter may be missing at its end.",
		"If that does not help, ask whoever runs the wedding for your link.")
}

// closed answers where something was until its address was revoked.
func closed(w http.ResponseWriter, r *http.Request) error {
	return Trouble(w, r, http.StatusGone, "This address was closed",
		"Ask whoever runs the wedding for your new link, and open that one instead.",
		"A calendar that is subscribed to the old address shows nothing new any more. Remove it, and subscribe again from your new page.")
}

// sorry answers where something failed.
func sorry(w http.ResponseWriter, r *http.Request) {
	Trouble(w, r, http.StatusInternalServerError, "Something failed here",
		"Nothing of yours is lost. Try again in a minute.")
}

// Trouble says what is wrong, and what to do: in a page to people, and in
// plain text to calendars, which take HTML for an empty calendar.
func Trouble(w http.ResponseWriter, r *http.Request, status int, title string, says ...string) error {
	if strings.HasPrefix(r.URL.Path, "/c/") {
		return plain(w, status, title+".\n"+strings.Join(says, "\n"))
	}
	return Show(w, r, status, troubleTemplate, troublePage{NewFrame(r, title), says, strings.HasPrefix(r.URL.Path, "/desk/")})
}

func route(r *http.Request) string {
	if c := chi.RouteContext(r.Context()); c != nil {
		return c.RoutePattern()
	}
	return ""
}

func (s *Server) health(w http.ResponseWriter, _ *http.Request) error {
	return plain(w, http.StatusOK, "ok")
}
