// Package outside finds the programs that tests ask for a second opinion: a browser, a
// broker, a judge of certificates. It is for tests alone.
package outside

import (
	"os"
	"os/exec"
	"strings"
	"testing"
)

// Tool is where the first of some programs stands, by name or path. Where none does the
// test is skipped on a workbench, and fails in CI, which installs them all.
func Tool(tb testing.TB, names ...string) string {
	tb.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	missing := strings.Join(names, " or ") + " is not here"
	if os.Getenv("CI") == "true" {
		tb.Fatal(missing + "; CI must have it")
	}
	tb.Skip(missing + ": nothing was asked of it")
	return ""
}
