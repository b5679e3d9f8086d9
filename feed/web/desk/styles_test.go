package desk_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var (
	remark   = regexp.MustCompile(`(?s)/\*.*?\*/`)
	rule     = regexp.MustCompile(`([^{};]+)\{`)
	dotted   = regexp.MustCompile(`\.([a-zA-Z][\w-]*)`)
	classes  = regexp.MustCompile(`class="((?:\{\{[^}]*\}\}|[^"{])*)"`)
	template = regexp.MustCompile(`\{\{[^}]*\}\}`)
	made     = regexp.MustCompile(`^(column|in|of|v)-[\w]+$`) // by Go, of a number or a word
)

// texts are the files that patterns match, but for tests, in one.
func texts(t *testing.T, patterns ...string) string {
	t.Helper()
	var all strings.Builder
	for _, pattern := range patterns {
		files, err := filepath.Glob(filepath.FromSlash(pattern))
		if err != nil || len(files) == 0 {
			t.Fatalf("no file is like %s: %v", pattern, err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			all.Write(text)
		}
	}
	return all.String()
}

// Every class that a sheet has a rule for is on some page, and every class of
// a page has a rule, or a script that looks for it.
func TestStyles(t *testing.T) {
	ruled, used := map[string]bool{}, map[string]bool{}
	for _, head := range rule.FindAllStringSubmatch(remark.ReplaceAllString(texts(t, "../static/*.css"), ""), -1) {
		for _, class := range dotted.FindAllStringSubmatch(head[1], -1) {
			ruled[class[1]] = true
		}
	}
	pages := texts(t, "templates/*.html", "../templates/*.html")
	for _, found := range classes.FindAllStringSubmatch(pages, -1) {
		for _, class := range strings.Fields(template.ReplaceAllString(found[1], " ")) {
			used[class] = true
		}
	}
	if len(ruled) < 50 || len(used) < 50 {
		t.Fatalf("only %d classes have a rule, and %d are used", len(ruled), len(used))
	}
	code, scripts := texts(t, "*.go", "../*.go"), texts(t, "../static/*.js")
	for class := range ruled {
		if !used[class] && !made.MatchString(class) && !strings.Contains(code, `"`+class+`"`) {
			t.Errorf("no page has the class %q that a sheet has a rule for", class)
		}
	}
	for class := range used {
		if !ruled[class] && !strings.HasSuffix(class, "-") && !strings.Contains(scripts, "."+class) {
			t.Errorf("no sheet has a rule for the class %q", class)
		}
	}
}
