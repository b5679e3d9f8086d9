package desk

import "github.com/go-chi/chi/v5"

// Routes are all routes of the desk, for tests that walk them.
func (d *Desk) Routes() chi.Routes { return d.handler.(chi.Routes) }
