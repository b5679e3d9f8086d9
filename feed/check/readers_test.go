package check

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"testing"
)

func TestMain(m *testing.M) {
	code := m.Run()
	if err := Tidy(); err != nil {
		panic(err)
	}
	os.Exit(code)
}

// goodEvents is what every reader must make of good.
var goodEvents = []Event{
	{
		UID:         "pay-2@banns.example.org",
		Summary:     "Hollow Oak Table, Crêperie: balance",
		Description: "Zwölf Gäste äßen gern Crêpes; die übrigen möchten Käse und Brötchen.\nhttps://banns.example.org/p/abc",
		Start:       "2027-09-04",
		End:         "2027-09-05",
		Status:      "CONFIRMED",
		AllDay:      true,
	},
	{
		UID:      "wedding@banns.example.org",
		Summary:  "Wedding",
		Location: "The Net Loft, Alder Harbor",
		Start:    "2027-09-18T16:30:00[America/Detroit]",
		End:      "2027-09-18T23:30:00[America/Detroit]",
		Status:   "TENTATIVE",
	},
	{
		UID:     "return@banns.example.org",
		Summary: "Return the van",
		Start:   "2027-11-07T01:30:00[America/Detroit]",
		End:     "2027-11-07T06:30:00Z",
		Status:  "CANCELLED",
	},
}

var readers = []struct {
	name string
	read func([]byte) ([]Event, error)
}{
	{"ical.js", ICalJS},
	{"python3-icalendar", PythonICalendar},
}

func TestReadersAgree(t *testing.T) {
	for _, reader := range readers {
		t.Run(reader.name, func(t *testing.T) {
			got, err := reader.read([]byte(crlf(good)))
			Need(t, err)
			if !slices.Equal(got, goodEvents) {
				t.Errorf("got\n%+v\nwant\n%+v", got, goodEvents)
			}
		})
	}
}

func TestReadersRefuse(t *testing.T) {
	for _, reader := range readers {
		t.Run(reader.name, func(t *testing.T) {
			_, err := reader.read(mutated(t, "DTSTART;VALUE=DATE:20270904", "DTSTART;VALUE=DATE"))
			if errors.Is(err, ErrMissing) {
				Need(t, err)
			}
			if err == nil {
				t.Error("read a line without a colon")
			}
		})
	}
}

func TestLibical(t *testing.T) {
	Need(t, Libical([]byte(crlf(good))))
}

// TestLibicalObjects names seeded faults that libical sees. It is the strictest
// of the three, and passes over most: hence the check of bytes.
func TestLibicalObjects(t *testing.T) {
	Need(t, Libical([]byte(crlf(good))))
	sees := []string{
		"no colon", "parameter without value", "wrong type", "place", "misspelt", "misplaced",
		"no END", "no BEGIN", "no version", "PRODID twice", "SUMMARY twice", "METHOD", "length twice",
	}
	for _, row := range seeded {
		if slices.Contains(sees, row.name) && Libical(mutated(t, row.old, row.new)) == nil {
			t.Errorf("libical passes over %s", row.name)
		}
	}
}

func TestMissing(t *testing.T) {
	t.Setenv("BANNS_NODE_MODULES", t.TempDir())
	if _, err := ICalJS([]byte(crlf(good))); !errors.Is(err, ErrMissing) {
		t.Errorf("without ical.js: %v", err)
	}
	if _, err := run(nil, "", "install it", "banns-no-such-program"); !errors.Is(err, ErrMissing) {
		t.Errorf("without a program: %v", err)
	}
	if _, err := run(nil, "", "install it", "sh", "-c", "exit 69"); !errors.Is(err, ErrMissing) {
		t.Errorf("without a library: %v", err)
	}
}

// ending is a test that only remembers how it ended.
type ending string

func (*ending) Helper()                 {}
func (e *ending) Skipf(string, ...any)  { *e = "skipped" }
func (e *ending) Fatalf(string, ...any) { *e = "failed" }

func TestNeed(t *testing.T) {
	missing := fmt.Errorf("reader %w: install it", ErrMissing)
	for _, row := range []struct {
		ci   string
		err  error
		want ending
	}{
		{"", nil, ""},
		{"true", nil, ""},
		{"", missing, "skipped"},
		{"true", missing, "failed"},
		{"", io.ErrUnexpectedEOF, "failed"},
	} {
		t.Setenv("CI", row.ci)
		var got ending
		if Need(&got, row.err); got != row.want {
			t.Errorf("CI=%q, %v: got %q, want %q", row.ci, row.err, got, row.want)
		}
	}
}
