package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// TestSecret: a word is made once, kept for its owner alone, and read again.
func TestSecret(t *testing.T) {
	name := filepath.Join(t.TempDir(), "token")
	first, err := secret(name, true)
	if err != nil || len(first) < 26 {
		t.Fatalf("%q, %v", first, err)
	}
	again, err := secret(name, true)
	if err != nil || again != first {
		t.Errorf("%q, then %q (%v)", first, again, err)
	}
	if info, err := os.Stat(name); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("%v, %v", info.Mode(), err)
	}
	if other, err := secret(filepath.Join(t.TempDir(), "token"), true); err != nil || other == first {
		t.Errorf("another file has the same word (%v)", err)
	}
	if word, err := secret("", true); word != "" || err != nil {
		t.Errorf("no file gives %q, %v", word, err)
	}
	if _, err := secret(name+"x", false); err == nil {
		t.Error("a password that is not there is made")
	}
}

func TestSecretRefuses(t *testing.T) {
	name := filepath.Join(t.TempDir(), "token")
	for text, say := range map[string]string{"short": "5 letters", strings.Repeat("x", 201): "201 letters"} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := secret(name, true); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%.10q: %v", text, err)
		}
	}
	if runtime.GOOS == "windows" {
		return
	}
	if err := os.WriteFile(name, []byte("long enough"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(name, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := secret(name, true); err == nil || !strings.Contains(err.Error(), "chmod 600") {
		t.Errorf("a word that others can read: %v", err)
	}
}
