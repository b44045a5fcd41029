package main

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"slices"
	"strings"
	"testing"

	"evenstead/outside"
)

func info(t *testing.T) *debug.BuildInfo {
	t.Helper()
	return &debug.BuildInfo{GoVersion: "go1.26.0", Deps: []*debug.Module{
		{Path: "example.org/b", Version: "v1.2.0+incompatible", Sum: "h1:abc="},
		{Path: "example.org/a/v2", Version: "v2.0.1", Sum: "h1:def="},
		{Path: "example.org/c", Version: "v0.1.0", Replace: &debug.Module{Path: "example.org/d", Version: "v0.2.0", Sum: "h1:ghi="}},
	}}
}

// TestBillIsCycloneDX holds the list to what CycloneDX 1.6 requires of every
// document (schema bom-1.6.schema.json): bomFormat and specVersion; of a component
// type and name; references that are unique and lead somewhere; a serial number of
// the pattern it gives.
func TestBillIsCycloneDX(t *testing.T) {
	text, err := billOf("1.0.0", []*debug.BuildInfo{info(t), info(t)})
	if err != nil {
		t.Fatal(err)
	}
	var got bill
	dec := json.NewDecoder(bytes.NewReader(text))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&got); err != nil {
		t.Fatal(err)
	}
	if got.Format != "CycloneDX" || got.Spec != "1.6" || got.Version < 1 {
		t.Errorf("%q %q version %d", got.Format, got.Spec, got.Version)
	}
	if !regexp.MustCompile(`^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$`).MatchString(got.Serial) {
		t.Errorf("serial number %q", got.Serial)
	}
	refs := map[string]bool{}
	for _, c := range append(got.Components, got.Metadata.Component) {
		if !slices.Contains([]string{"application", "library"}, c.Type) || c.Name == "" || c.Version == "" || !strings.HasPrefix(c.PURL, "pkg:golang/") {
			t.Errorf("component %+v", c)
		}
		if refs[c.Ref] || c.Ref == "" {
			t.Errorf("reference %q is there twice, or none", c.Ref)
		}
		refs[c.Ref] = true
	}
	if len(got.Components) != 4 {
		t.Errorf("%d components", len(got.Components))
	}
	for _, d := range got.Dependencies {
		for _, r := range append(d.On, d.Ref) {
			if !refs[r] {
				t.Errorf("reference %q leads nowhere", r)
			}
		}
	}
	if !refs["pkg:golang/example.org/b@v1.2.0%2Bincompatible"] || !refs["pkg:golang/example.org/d@v0.2.0"] {
		t.Errorf("references %v", refs)
	}
}

// TestTheSameReleaseIsTheSameBytes: neither order nor time shows in the list.
func TestTheSameReleaseIsTheSameBytes(t *testing.T) {
	a, b := info(t), info(t)
	slices.Reverse(b.Deps)
	first, err := billOf("1.0.0", []*debug.BuildInfo{a})
	if err != nil {
		t.Fatal(err)
	}
	second, err := billOf("1.0.0", []*debug.BuildInfo{b, a})
	if err != nil || !bytes.Equal(first, second) {
		t.Errorf("two lists of one release (%v)", err)
	}
	if third, _ := billOf("1.0.1", []*debug.BuildInfo{a}); bytes.Equal(first, third) {
		t.Error("another version has the same list")
	}
}

// TestSumsAreChecked by the tool that people check them with.
func TestSumsAreChecked(t *testing.T) {
	dir := t.TempDir()
	var files []string
	for _, name := range []string{"one", "two"} {
		files = append(files, filepath.Join(dir, name))
		if err := os.WriteFile(files[len(files)-1], []byte(name), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	sums, err := sumsOf(files)
	if err != nil {
		t.Fatal(err)
	}
	// SHA-256 of "one", by openssl dgst -sha256.
	if !strings.HasPrefix(sums, "7692c3ad3540bb803c020b3aee66cd8887123234ea0c6e7143c0add73ff431ed  one\n") {
		t.Errorf("sums\n%s", sums)
	}
	tool := outside.Tool(t, "sha256sum")
	if err := os.WriteFile(filepath.Join(dir, "SHA256SUMS"), []byte(sums), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(tool, "-c", "--strict", "SHA256SUMS")
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%v: %s", err, out)
	}
}

func TestMachines(t *testing.T) {
	var names []string
	for _, m := range targets() {
		names = append(names, m.file("1.0.0"))
	}
	want := []string{"evenstead-1.0.0-linux-amd64", "evenstead-1.0.0-linux-arm64", "evenstead-1.0.0-linux-armv6",
		"evenstead-1.0.0-darwin-amd64", "evenstead-1.0.0-darwin-arm64", "evenstead-1.0.0-windows-amd64.exe"}
	if !slices.Equal(names, want) {
		t.Errorf("%v", names)
	}
	for _, bad := range []job{{version: "a b", out: t.TempDir()}, {version: "", out: t.TempDir()}, {version: "../x", out: t.TempDir()}, {version: "1", only: "moon", out: t.TempDir()}} {
		bad.say = io.Discard
		if err := bad.run(t.Context()); err == nil {
			t.Errorf("%+v is built", bad)
		}
	}
}
