package web

import (
	"encoding/json"
	"fmt"
	"image/png"
	"net/http"
	"testing"
)

// TestManifestNamesWhatIsThere reads the manifest as a browser does and fetches
// every icon it names.
func TestManifestNamesWhatIsThere(t *testing.T) {
	h := newSite(t, Options{})
	w := get(t, h, "GET", "/manifest.webmanifest")
	if media := w.Header().Get("Content-Type"); media != "application/manifest+json" {
		t.Errorf("sent as %s", media)
	}
	var m struct {
		Name  string
		Start string `json:"start_url"`
		Icons []struct{ Src, Sizes, Type string }
	}
	must(t, json.Unmarshal(w.Body.Bytes(), &m))
	if m.Name != "Evenstead" || m.Start != "/" || len(m.Icons) != len(iconSizes)+1 {
		t.Errorf("the manifest: %+v", m)
	}
	for _, icon := range m.Icons {
		w := get(t, h, "GET", icon.Src)
		if w.Code != http.StatusOK {
			t.Errorf("%s answers %d", icon.Src, w.Code)
		}
		if icon.Type != "image/png" {
			continue
		}
		img, err := png.Decode(w.Body)
		must(t, err)
		if size := fmt.Sprintf("%dx%d", img.Bounds().Dx(), img.Bounds().Dy()); size != icon.Sizes {
			t.Errorf("%s is %s, said to be %s", icon.Src, size, icon.Sizes)
		}
	}
}

// TestIconIsTheMark: white below the middle, ink above it, and nothing near the
// edge that a mask would cut.
func TestIconIsTheMark(t *testing.T) {
	for _, size := range iconSizes {
		img := icon(size)
		bright := func(x, y float64) bool {
			r, _, _, _ := img.At(int(x*float64(size)), int(y*float64(size))).RGBA()
			return r > 0x8000
		}
		if !bright(0.5, 0.6) || bright(0.5, 0.4) || !bright(0.2, 0.5) || bright(0.2, 0.4) {
			t.Errorf("%d px: not the mark", size)
		}
		for i := range 100 {
			at := float64(i) / 100
			if bright(at, 0.05) || bright(at, 0.95) || bright(0.05, at) || bright(0.95, at) {
				t.Errorf("%d px: drawn too near the edge", size)
				break
			}
		}
	}
}
