// Package fetch reads public calendars by address.
//
// Its one rule: an address is somebody's word, not a door. Nothing that it
// names, redirects to or resolves to is reached unless it is public, and what
// comes back is bounded in size and time.
package fetch
