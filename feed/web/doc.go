// Package web answers every URL: feeds, and the pages of those who subscribe
// to them.
//
// Its one rule: an address that opens a feed shows what that feed carries,
// and nothing else of any plan; and the address itself is never logged,
// referred to another site, or answered with anything but a calendar where a
// calendar was asked for.
package web
