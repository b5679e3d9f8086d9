// Package store keeps what must not be lost: the versions of every plan,
// what has been published of it, and the feeds.
//
// Its one rule: everything is written through Update and Publish, each in
// one transaction, and a plan with faults is never written.
package store
