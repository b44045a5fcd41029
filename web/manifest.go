package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"net/http"
	"strconv"
	"sync"
)

// barColor is the ground of the icon and of the browser's own bar: the screens'
// bar by day.
const barColor = "#131b1e"

// iconSizes are those that phones and desktops ask for, px.
var iconSizes = []int{180, 192, 512}

func iconName(size int) string { return "icon-" + strconv.Itoa(size) + ".png" }

// iconFiles are the icons by name, drawn once.
var iconFiles = sync.OnceValues(func() (map[string][]byte, error) {
	icons := map[string][]byte{}
	for _, size := range iconSizes {
		var b bytes.Buffer
		if err := png.Encode(&b, icon(size)); err != nil {
			return nil, fmt.Errorf("icon of %d px: %w", size, err)
		}
		icons[iconName(size)] = b.Bytes()
	}
	return icons, nil
})

// icon draws the mark, a disc on a line with its lower half full, white on the
// bar's ink. It keeps within the middle four fifths, which no mask cuts.
func icon(size int) image.Image {
	ink, paper := color.Gray{Y: 0x1a}, color.Gray{Y: 0xff}
	img := image.NewPaletted(image.Rect(0, 0, size, size), greys(ink, paper))
	for y := range size {
		for x := range size {
			img.SetColorIndex(x, y, uint8(math.Round(iconShare(x, y, size)*float64(len(img.Palette)-1))))
		}
	}
	return img
}

// greys are the shades from one to another, for smooth edges.
func greys(from, to color.Gray) color.Palette {
	const steps = 15
	var p color.Palette
	for i := range steps + 1 {
		p = append(p, color.Gray{Y: uint8((int(from.Y)*(steps-i) + int(to.Y)*i) / steps)})
	}
	return p
}

// iconShare is the share of a pixel that the mark covers, of 16 points in it.
func iconShare(x, y, size int) float64 {
	const fine = 4
	hit := 0
	for i := range fine * fine {
		u := (float64(x)+(float64(i%fine)+0.5)/fine)/float64(size) - 0.5
		v := (float64(y)+(float64(i/fine)+0.5)/fine)/float64(size) - 0.5
		if inMark(u, v) {
			hit++
		}
	}
	return float64(hit) / (fine * fine)
}

// inMark tells whether a point of the unit square about its middle is on the mark.
func inMark(u, v float64) bool {
	const radius, stroke, reach = 0.19, 0.05, 0.37
	r := math.Hypot(u, v)
	switch {
	case r < radius-stroke:
		return v > 0
	case r < radius:
		return true
	}
	return math.Abs(v) < stroke/2 && math.Abs(u) < reach
}

// manifest tells a browser how to keep the pages as an app where it allows that.
func (s *site) manifest(w http.ResponseWriter, _ *http.Request) {
	type picture struct {
		Src     string `json:"src"`
		Sizes   string `json:"sizes"`
		Type    string `json:"type"`
		Purpose string `json:"purpose"`
	}
	var icons []picture
	for _, size := range iconSizes {
		sizes := fmt.Sprintf("%dx%d", size, size)
		icons = append(icons, picture{s.assets.hashed[iconName(size)], sizes, "image/png", "any maskable"})
	}
	icons = append(icons, picture{s.assets.hashed["mark.svg"], "any", "image/svg+xml", "any"})
	b, err := json.Marshal(map[string]any{
		"name": s.words.say("brand"), "short_name": s.words.say("brand"), "description": s.words.say("manifest.description"),
		"lang": s.words.say("lang"), "dir": "ltr", "id": "/", "start_url": "/", "scope": "/", "display": "minimal-ui",
		"background_color": "#ffffff", "theme_color": barColor, "icons": icons,
	})
	if err != nil {
		http.Error(w, "the manifest could not be written: "+err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/manifest+json")
	// A reader that has gone away is no fault of the manifest.
	_, _ = w.Write(b)
}
