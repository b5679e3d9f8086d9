package web

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"runtime/debug"
	"time"

	"github.com/go-chi/chi/v5"

	"banns/store"
)

// Options are what a Server is made of.
type Options struct {
	Store  *store.Store
	Now    func() time.Time
	Log    *slog.Logger
	Public string // the address under which the world reaches it; empty: as asked
}

// Server answers every URL.
type Server struct {
	Options
	shelf   *shelf
	handler http.Handler
}

// watchEvery is how often commits of other processes are looked for.
const watchEvery = 500 * time.Millisecond

// New makes a server that is ready to answer.
func New(ctx context.Context, o Options) (*Server, error) {
	s := &Server{Options: o, shelf: &shelf{store: o.Store, log: o.Log}}
	s.handler = s.routes()
	return s, s.shelf.refresh(ctx)
}

// Watch keeps what is served in step with the store until ctx ends.
func (s *Server) Watch(ctx context.Context) {
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
	r.Get("/c/{token}.ics", s.answer(s.calendar))
	r.Head("/c/{token}.ics", s.answer(s.calendar))
	r.Get("/p/{token}", s.answer(s.page))
	r.Post("/p/{token}/reminders", s.answer(s.reminders))
	r.Get("/", s.answer(s.front))
	r.Get("/healthz", s.answer(s.health))
	r.Get("/static/{file}", s.answer(s.static))
	r.NotFound(s.answer(func(w http.ResponseWriter, r *http.Request) error {
		return plain(w, http.StatusNotFound, "There is nothing at this address.")
	}))
	return r
}

// answer is where errors and panics become answers. Logs name the route, and
// never the path: it may hold an address.
func (s *Server) answer(do func(http.ResponseWriter, *http.Request) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if p := recover(); p != nil {
				s.Log.Error("panic", "route", route(r), "panic", p, "stack", string(debug.Stack()))
				plain(w, http.StatusInternalServerError, "Something failed here. Nothing of yours is lost; try again in a minute.")
			}
		}()
		if err := do(w, r); err != nil {
			s.fail(w, r, err)
		}
	}
}

func (s *Server) fail(w http.ResponseWriter, r *http.Request, err error) {
	switch {
	case errors.Is(err, store.ErrUnknown):
		plain(w, http.StatusNotFound, "There is nothing at this address. Ask whoever runs the wedding for your link.")
	case r.Context().Err() != nil: // the client has gone
	default:
		s.Log.Error("failed", "method", r.Method, "route", route(r), "error", err)
		plain(w, http.StatusInternalServerError, "Something failed here. Nothing of yours is lost; try again in a minute.")
	}
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
