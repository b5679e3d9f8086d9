package web

import "context"

// Hold bounds what is kept ready to some bytes, for tests.
func (s *Server) Hold(most int) { s.shelf.most = most }

// Held is how many bytes are kept ready, as counted one by one.
func (s *Server) Held() (size int) {
	s.shelf.ready.Range(func(_, c any) bool {
		size += c.(*edition).size()
		return true
	})
	return size
}

// ShelfMost is the bound of what is kept ready.
const ShelfMost = shelfMost

// Look looks at what the store has committed, as Watch does in time.
func (s *Server) Look(ctx context.Context) error { return s.shelf.refresh(ctx) }
