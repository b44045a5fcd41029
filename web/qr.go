package web

import (
	"fmt"
	"html/template"
	"strconv"
	"strings"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/qr"
)

// quietZone is the white border a reader needs round a code, in modules
// (ISO/IEC 18004:2015, 6.3.8).
const quietZone = 4

// qrCode draws a QR code of the content, black on white in every theme: one
// path, of one unit to a module, at the size its style gives it. Level M
// restores about 15 % of what is soiled. title is what a screen reader says. It
// fails on an empty content and on one of more than 2,331 bytes.
func qrCode(content, title string) (template.HTML, error) {
	if content == "" {
		return "", fmt.Errorf("QR code of %q: nothing to show", title)
	}
	code, err := qr.Encode(content, qr.M, qr.Unicode)
	if err != nil {
		return "", fmt.Errorf("QR code of %d bytes: %w", len(content), err)
	}
	side := code.Bounds().Dx() + 2*quietZone
	box := fmt.Sprintf("0 0 %d %d", side, side)
	var s svg
	s.open("svg", "class", "qr", "viewBox", box, "role", "img", "shape-rendering", "crispEdges")
	s.text("title", title)
	s.leaf("rect", "width", side, "height", side, "fill", "#fff")
	s.leaf("path", "d", qrRuns(code), "stroke", "#000")
	s.end("svg")
	return s.html(), nil
}

// qrRuns is the path of the dark modules: along the middle of each row a stroke of
// one module's width for each run.
func qrRuns(code barcode.Barcode) string {
	var b strings.Builder
	side := code.Bounds().Dx()
	for y := range side {
		at := -1 // the end of the run before in this row; -1: none yet
		for x := 0; x < side; x++ {
			from := x
			for x < side && dark(code, x, y) {
				x++
			}
			switch {
			case x == from:
				continue
			case at < 0:
				b.WriteString("M" + strconv.Itoa(from+quietZone) + " " + strconv.Itoa(y+quietZone) + ".5")
			default:
				b.WriteString("m" + strconv.Itoa(from-at) + " 0")
			}
			b.WriteString("h" + strconv.Itoa(x-from))
			at = x
		}
	}
	return b.String()
}

func dark(code barcode.Barcode, x, y int) bool {
	r, _, _, _ := code.At(x, y).RGBA()
	return r == 0
}
