// Package conflicts knows what else happens on a day: the holidays that close
// offices, and whatever in the city gets in a wedding's way.
//
// Its one rule: it is pure. It opens no file, network or database, reads no
// clock, and answers the same in every time zone.
package conflicts
