package desk

import "sync"

// latest keeps what costs too much to be worked out for each page. What is
// kept works itself out when it is first asked.
type latest[K comparable, V any] struct {
	mu  sync.Mutex
	all map[K]*V
}

// latestMost is how many are kept; when there are more, all are dropped and
// worked out again as they are asked for.
const latestMost = 32

// at is what is kept under a key, or an empty one to be filled.
func (l *latest[K, V]) at(k K) *V {
	l.mu.Lock()
	defer l.mu.Unlock()
	if v := l.all[k]; v != nil {
		return v
	}
	if l.all == nil || len(l.all) >= latestMost {
		l.all = map[K]*V{}
	}
	v := new(V)
	l.all[k] = v
	return v
}
