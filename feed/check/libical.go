package check

import (
	_ "embed"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
)

//go:embed readers/libical.c
var libicalC []byte

// compiled is the program that Libical runs: its path, made once a process.
var compiled = sync.OnceValues(compileLibical)

// workshop is the folder that the program is in.
var workshop string

// Tidy removes what Libical compiled. A TestMain calls it last.
func Tidy() error { return os.RemoveAll(workshop) }

// Libical holds a calendar to libical's parser and to its table of RFC 5546's
// restrictions, and returns what it objects to.
func Libical(b []byte) error {
	program, err := compiled()
	if err != nil {
		return err
	}
	out, err := run(b, "", "", program)
	if complaints := licErrors(out); complaints != "" {
		return fmt.Errorf("libical: %s", complaints)
	}
	return err
}

// licErrors picks the X-LIC-ERROR lines out of what libical printed.
func licErrors(out []byte) string {
	text := strings.NewReplacer("\r\n ", "", "\r\n", "\n").Replace(string(out))
	var found []string
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "X-LIC-ERROR") {
			found = append(found, strings.TrimSpace(line))
		}
	}
	return strings.Join(found, "; ")
}

func compileLibical() (string, error) {
	const hint = "apt-get install gcc libc6-dev pkg-config libical-dev"
	flags, err := run(nil, "", hint, "pkg-config", "--cflags", "--libs", "libical")
	if err != nil {
		return "", fmt.Errorf("libical %w: %s: %w", ErrMissing, hint, err)
	}
	dir, err := os.MkdirTemp("", "banns-check-")
	if err != nil {
		return "", err
	}
	workshop = dir
	program := filepath.Join(dir, "libical")
	args := append([]string{"-o", program, "-x", "c", "-"}, strings.Fields(string(flags))...)
	if _, err := run(libicalC, "", hint, "cc", args...); err != nil {
		return "", err
	}
	return program, nil
}
