package main

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// table prints lines of cells under a head, if there is one: names on the left
// and sums on the right of their columns. A column that is empty in every line
// is left out.
func (p printer) table(head []string, lines [][]string) {
	if head != nil {
		lines = append([][]string{head}, lines...)
	}
	for _, line := range lines {
		var s strings.Builder
		for i, cell := range line {
			wide, filled := 0, false
			for n, other := range lines {
				wide = max(wide, utf8.RuneCountInString(other[i]))
				filled = filled || other[i] != "" && (n > 0 || head == nil)
			}
			blank := strings.Repeat(" ", wide-utf8.RuneCountInString(cell))
			switch {
			case !filled:
			case i == 0:
				s.WriteString("  " + cell + blank)
			default:
				s.WriteString("  " + blank + cell)
			}
		}
		fmt.Fprintln(p.out, strings.TrimRight(s.String(), " "))
	}
}
