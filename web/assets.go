package web

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"time"
)

//go:embed static templates words script
var files embed.FS

// assets are the static files under names that carry a hash of their content.
type assets struct {
	hashed map[string]string // "style.css": "/static/style.1a2b3c4d5e6f.css"
	body   map[string][]byte // by hashed name without folder
}

func readAssets() (assets, error) {
	a := assets{map[string]string{}, map[string][]byte{}}
	list, err := fs.ReadDir(files, "static")
	if err != nil {
		return a, fmt.Errorf("static files: %w", err)
	}
	var sheets []byte
	for _, e := range list {
		b, err := files.ReadFile("static/" + e.Name())
		switch {
		case err != nil:
			return a, fmt.Errorf("static files: %w", err)
		case e.Name() == sheet:
			sheets = append(append([]byte(nil), b...), sheets...)
		case path.Ext(e.Name()) == ".css":
			sheets = append(sheets, b...)
		default:
			a.add(e.Name(), b)
		}
	}
	a.add(sheet, sheets)
	code, err := script("outbox", "page")
	if err != nil {
		return a, fmt.Errorf("the pages' script: %w", err)
	}
	a.add(scriptName, code)
	icons, err := iconFiles()
	for name, b := range icons {
		a.add(name, b)
	}
	return a, err
}

// sheet is the style sheet of all pages, which those of single pages follow in
// one file: a visitor asks once.
const sheet = "style.css"

func (a assets) add(name string, b []byte) {
	sum := sha256.Sum256(b)
	ext := path.Ext(name)
	hashed := strings.TrimSuffix(name, ext) + "." + hex.EncodeToString(sum[:6]) + ext
	a.hashed[name] = "/static/" + hashed
	a.body[hashed] = b
}

// url is the way to a static file, for templates.
func (a assets) url(name string) (string, error) {
	u, ok := a.hashed[name]
	if !ok {
		return "", fmt.Errorf("no static file %q", name)
	}
	return u, nil
}

// static serves a file whose name changes with its content, so it may be kept for ever.
func (s *site) static(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("file")
	b, ok := s.assets.body[name]
	if !ok {
		s.sayMissing(w, http.StatusNotFound)
		return
	}
	w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(b))
}
