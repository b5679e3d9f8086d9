package web

import (
	"fmt"
	"strings"

	goqr "github.com/piglig/go-qr"
)

// quietZone is the blank border that readers need around a code (ISO/IEC
// 18004: four modules).
const quietZone = 4

// QR is a text as a square that cameras read.
type QR struct {
	Size int    // in modules, the border included
	Path string // the dark modules, as data of an SVG path
}

// NewQR draws text row by row, a run of dark modules at a time.
func NewQR(text string) (QR, error) {
	code, err := goqr.EncodeText(text, goqr.Medium)
	if err != nil {
		return QR{}, err
	}
	var path strings.Builder
	for y := range code.Size() {
		for x := 0; x < code.Size(); x++ {
			run := 0
			for code.Module(x+run, y) { // false beyond the edge
				run++
			}
			if run > 0 {
				fmt.Fprintf(&path, "M%d %dh%dv1h-%dz", x+quietZone, y+quietZone, run, run)
				x += run
			}
		}
	}
	return QR{Size: code.Size() + 2*quietZone, Path: path.String()}, nil
}
