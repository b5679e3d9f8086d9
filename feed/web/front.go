package web

import "net/http"

// frontPage says what this is. It lists no wedding: an address is private.
type frontPage struct {
	Frame
	Desk bool // there is one
}

// front answers GET and HEAD of /.
func (s *Server) front(w http.ResponseWriter, r *http.Request) error {
	return Show(w, r, http.StatusOK, frontTemplate, frontPage{NewFrame(r, "banns"), s.Desk != nil})
}
