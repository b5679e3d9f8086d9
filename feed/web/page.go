package web

import (
	"net/http"
)

func (s *Server) page(w http.ResponseWriter, r *http.Request) error      { return nil }
func (s *Server) reminders(w http.ResponseWriter, r *http.Request) error { return nil }
func (s *Server) front(w http.ResponseWriter, r *http.Request) error     { return nil }
func (s *Server) static(w http.ResponseWriter, r *http.Request) error    { return nil }
