package main

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"net/url"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/google/uuid"
)

// A bill lists what is in a release, in the form of CycloneDX 1.6 (ECMA-424).
type bill struct {
	Format       string       `json:"bomFormat"`
	Spec         string       `json:"specVersion"`
	Serial       string       `json:"serialNumber"` // of the content, so that the same release has the same
	Version      int          `json:"version"`
	Metadata     metadata     `json:"metadata"`
	Components   []component  `json:"components"`
	Dependencies []dependency `json:"dependencies"`
}

type metadata struct {
	Component component `json:"component"`
}

// A component is a module, or the program.
type component struct {
	Type       string     `json:"type"`
	Ref        string     `json:"bom-ref"`
	Name       string     `json:"name"`
	Version    string     `json:"version"`
	PURL       string     `json:"purl"`
	Properties []property `json:"properties,omitempty"`
}

type property struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

type dependency struct {
	Ref string   `json:"ref"`
	On  []string `json:"dependsOn,omitempty"`
}

// billOf lists the modules of all programs of a release, and the Go they were
// built with, once each.
func billOf(version string, infos []*debug.BuildInfo) ([]byte, error) {
	program := component{Type: "application", Name: "evenstead", Version: version, PURL: purl("evenstead", version)}
	program.Ref = program.PURL
	of := map[string]component{}
	for _, info := range infos {
		std := component{Type: "library", Name: "std", Version: info.GoVersion, PURL: purl("std", strings.TrimPrefix(info.GoVersion, "go"))}
		of[std.PURL] = std
		for _, m := range info.Deps {
			if m.Replace != nil {
				m = m.Replace
			}
			c := component{Type: "library", Name: m.Path, Version: m.Version, PURL: purl(m.Path, m.Version)}
			if m.Sum != "" {
				c.Properties = []property{{"go.sum", m.Sum}}
			}
			of[c.PURL] = c
		}
	}
	b := bill{Format: "CycloneDX", Spec: "1.6", Version: 1, Metadata: metadata{program}}
	on := dependency{Ref: program.Ref}
	for _, c := range of {
		c.Ref = c.PURL
		b.Components = append(b.Components, c)
	}
	slices.SortFunc(b.Components, func(x, y component) int { return cmp.Compare(x.Ref, y.Ref) })
	for _, c := range b.Components {
		on.On = append(on.On, c.Ref)
	}
	b.Dependencies = []dependency{on}
	return b.write()
}

// write names the bill by what it says.
func (b *bill) write() ([]byte, error) {
	text, err := json.Marshal(b)
	if err != nil {
		return nil, err
	}
	b.Serial = "urn:uuid:" + uuid.NewSHA1(uuid.NameSpaceURL, text).String()
	text, err = json.MarshalIndent(b, "", "  ")
	return append(text, '\n'), err
}

// purl is a package URL of a Go module (github.com/package-url/purl-spec).
func purl(path, version string) string {
	parts := strings.Split(path, "/")
	for i := range parts {
		parts[i] = url.PathEscape(parts[i])
	}
	return "pkg:golang/" + strings.Join(parts, "/") + "@" + url.QueryEscape(version)
}

// sumsOf are the SHA-256 of files, as sha256sum writes them.
func sumsOf(files []string) (string, error) {
	var b strings.Builder
	for _, name := range files {
		sum, err := sumOf(name)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(&b, "%s  %s\n", sum, filepath.Base(name))
	}
	return b.String(), nil
}

func sumOf(name string) (string, error) {
	f, err := os.Open(name) // #nosec G304 -- a file we have just made
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}
