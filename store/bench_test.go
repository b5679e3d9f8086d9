package store_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"banns/conflicts"
	"banns/feed"
	"banns/milestones"
	"banns/store"
	"banns/testdata"
)

// BenchmarkEdit is one edit of the demo, and of ten times the demo: the plan
// file read, saved as a version, published, committed. Every edit moves one
// payment. x-of-pure is its time as a multiple of what it takes to read the
// plan and to write everybody's calendar without a store, in turns with it.
func BenchmarkEdit(b *testing.B) {
	for _, times := range []int{1, 10} {
		b.Run(fmt.Sprintf("x%d", times), func(b *testing.B) {
			s, text := openedIn(b, b.TempDir()), testdata.Manifold(testdata.Demo, times)
			now := start
			var ours, pure time.Duration
			for n := 0; b.Loop(); n++ {
				edited := moved(text, n)
				begun := time.Now()
				now = now.Add(time.Minute)
				saved(b, s, store.Import{Over: true}, string(edited), now)
				ours += time.Since(begun)
				begun = time.Now()
				unstored(b, edited, now)
				pure += time.Since(begun)
			}
			b.ReportMetric(ours.Seconds()/pure.Seconds(), "x-of-pure")
			b.ReportMetric(float64(ours.Nanoseconds())/float64(b.N), "ns/edit")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// moved is a plan with one payment moved, to and fro.
func moved(text []byte, n int) []byte {
	return bytes.Replace(text, []byte("25% 6 months"), fmt.Appendf(nil, "25%% %d months", 5+n%2), 1)
}

// unstored reads a plan and writes everybody's calendar.
func unstored(b *testing.B, text []byte, now time.Time) {
	b.Helper()
	doc := document(b, string(text))
	closures, _ := conflicts.ClosuresFor(doc.Plan.Wedding.Region)
	items := milestones.Schedule(doc.Plan, closures)
	for _, who := range doc.Plan.People {
		entries := feed.Publishable(feed.View(doc.Plan, items, who.Key), "id", who.ID(), "", feed.ByAlarm)
		for i := range entries {
			entries[i].Changed = now
		}
		feed.Encode(feed.Calendar{Name: doc.Plan.Wedding.Title, Published: entries})
	}
}

// manyWeddings is a store of 100 weddings like the demo, with 2,200 feeds.
func manyWeddings(b *testing.B) *store.Store {
	b.Helper()
	s := openedIn(b, b.TempDir())
	for n := range 100 {
		saved(b, s, store.Import{Over: true}, string(titled(testdata.Demo, n)), start)
	}
	return s
}

func titled(text []byte, n int) []byte {
	return bytes.Replace(text, []byte("title: Maren and Theo"), fmt.Appendf(nil, "title: Wedding %d", n), 1)
}

// BenchmarkTick is the minute's work of a server of 100 weddings. With
// nothing due it is set beside one read of a setting, in turns; with one
// withdrawn entry due, beside the edit that withdrew it.
func BenchmarkTick(b *testing.B) {
	s := manyWeddings(b)
	b.Run("nothing due", func(b *testing.B) {
		inTurns(b, "x-of-read", func(ctx context.Context) error { return s.Tick(ctx, start.AddDate(0, 1, 0)) },
			func(ctx context.Context) error { _, err := s.Public(ctx); return err })
	})
	b.Run("one due", func(b *testing.B) {
		now, whole := start, titled(testdata.Demo, 50)
		less := bytes.Replace(whole, []byte("  brunch: "), []byte("  # brunch: "), 1)
		inTurns(b, "x-of-edit", func(ctx context.Context) error {
			now = now.AddDate(0, 0, 1)
			return s.Tick(ctx, now.Add(feed.WithdrawnFor))
		}, func(context.Context) error {
			saved(b, s, store.Import{Over: true}, string(whole), now)
			saved(b, s, store.Import{Over: true}, string(less), now)
			return nil
		})
	})
}

// inTurns measures ours and theirs, theirs first.
func inTurns(b *testing.B, name string, ours, theirs func(context.Context) error) {
	b.Helper()
	var us, them time.Duration
	for b.Loop() {
		begun := time.Now()
		if err := theirs(b.Context()); err != nil {
			b.Fatal(err)
		}
		between := time.Now()
		if err := ours(b.Context()); err != nil {
			b.Fatal(err)
		}
		them, us = them+between.Sub(begun), us+time.Since(between)
	}
	b.ReportMetric(us.Seconds()/them.Seconds(), name)
	b.ReportMetric(float64(us.Nanoseconds())/float64(b.N), "ns/tick")
	b.ReportMetric(0, "ns/op")
}

// BenchmarkVersions is what 500 versions of the demo take on the disk, beside
// the plan file itself.
func BenchmarkVersions(b *testing.B) {
	const versions = 500
	for b.Loop() {
		dir := b.TempDir()
		s := openedIn(b, dir)
		saved(b, s, store.Import{Over: true}, string(testdata.Demo), start)
		first := onDisk(b, s, dir)
		for n := range versions {
			saved(b, s, store.Import{Over: true}, string(moved(testdata.Demo, n)), start.Add(time.Duration(n)*time.Minute))
		}
		each := float64(onDisk(b, s, dir)-first) / versions
		b.ReportMetric(each, "B/version")
		b.ReportMetric(each/float64(len(testdata.Demo)), "x-of-file")
		b.ReportMetric(float64(first), "B-at-first")
	}
	b.ReportMetric(0, "ns/op")
}

// onDisk is the size of a store once its log is worked in.
func onDisk(b *testing.B, s *store.Store, dir string) (size int64) {
	b.Helper()
	if _, err := s.DB().ExecContext(b.Context(), "pragma wal_checkpoint(truncate)"); err != nil {
		b.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil {
		b.Fatal(err)
	}
	for _, name := range files {
		info, err := os.Stat(name)
		if err != nil {
			b.Fatal(err)
		}
		size += info.Size()
	}
	return size
}
