//go:build unix

package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestReadOnlyFileIsTold opens a store that may not be written. The superuser
// may write anything, so there another process tries as a user without rights.
func TestReadOnlyFileIsTold(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stead.db")
	must(t, opened(t, path).Close())
	must(t, os.Chmod(path, 0o444))
	if os.Geteuid() != 0 {
		_, err := Open(t.Context(), path, ticking())
		told(t, err, fs.ErrPermission, "make the file and its folder writable")
		return
	}
	must(t, os.Chmod(filepath.Dir(filepath.Dir(path)), 0o755))
	program := filepath.Join(t.TempDir(), "open.test")
	binary, err := os.ReadFile(self(t))
	must(t, errors.Join(err, os.WriteFile(program, binary, 0o755)))
	cmd := another(t, program, "open", path, 0, 0)
	cmd.Dir = filepath.Dir(path)
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	out, err := cmd.CombinedOutput()
	if err == nil || !strings.Contains(string(out), "permission denied; make the file and its folder writable") {
		t.Errorf("%v: %s", err, out)
	}
}

func TestReadOnlyConnectionIsTold(t *testing.T) {
	s := fresh(t)
	_, err := s.read.Exec("INSERT INTO plan VALUES ('a', 1, '{}')")
	told(t, s.fail("save the plan", err), fs.ErrPermission, "writable")
}
