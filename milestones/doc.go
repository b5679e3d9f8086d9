// Package milestones holds what was agreed for one wedding, and works out
// which dates and sums follow from it.
//
// Its one rule: it is pure. It opens no file, network or database, reads no
// clock and knows no local time zone; a plan and the closures of a region go
// in, items come out, and the same plan always gives the same items in the
// same order.
package milestones
