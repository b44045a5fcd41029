//go:build unix

package device

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestKeysAreKeptFromOthers: where files have modes, those of keys are for the owner
// alone, and a key that others can read is refused.
func TestKeysAreKeptFromOthers(t *testing.T) {
	now, ips := noon, houseIPs
	dir := filepath.Join(t.TempDir(), "house.lan")
	k := keeper(t, dir, &now, &ips)
	if again := keeper(t, dir, &now, &ips); again.Authority().Fingerprint() != k.Authority().Fingerprint() {
		t.Error("a second start makes another authority")
	}
	for name, want := range map[string]os.FileMode{dir: 0o700, filepath.Join(dir, keyFile): 0o600, filepath.Join(dir, certFile): 0o600} {
		info, err := os.Stat(name)
		must(t, err)
		if info.Mode().Perm() != want {
			t.Errorf("%s has mode %o, want %o", name, info.Mode().Perm(), want)
		}
	}
	must(t, os.Chmod(filepath.Join(dir, keyFile), 0o644))
	open := func() error {
		_, err := OpenKeeper(dir, "x", func() time.Time { return now }, Addresses)
		return err
	}
	if err := open(); err == nil || !strings.Contains(err.Error(), "chmod 600") {
		t.Errorf("a key that all can read gives %v", err)
	}
	must(t, os.Chmod(filepath.Join(dir, keyFile), 0o600))
	must(t, os.WriteFile(filepath.Join(dir, certFile), authority(t, noon).Certificate(), 0o600))
	if err := open(); err == nil {
		t.Error("the certificate of another key is taken")
	}
	must(t, os.Remove(filepath.Join(dir, certFile)))
	if err := open(); err == nil {
		t.Error("a key without its certificate is taken, or made anew behind the owner's back")
	}
}
