package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"evenstead/outside"
)

// TestServiceUnit: what the unit starts is a command with flags that there are, and
// systemd finds nothing wrong with it.
func TestServiceUnit(t *testing.T) {
	text, err := os.ReadFile("../../packaging/evenstead.service")
	if err != nil {
		t.Fatal(err)
	}
	start := regexp.MustCompile(`(?m)^ExecStart=/usr/local/bin/evenstead (\w+) (.*)$`).FindSubmatch(text)
	if start == nil {
		t.Fatal("the unit does not start evenstead")
	}
	var flags bytes.Buffer
	if status := run(context.Background(), []string{"help", string(start[1])}, nil, &flags, &flags); status != ok {
		t.Fatalf("%s is not a command", start[1])
	}
	for word := range strings.FieldsSeq(string(start[2])) {
		if name, flag := strings.CutPrefix(word, "--"); flag && !strings.Contains(flags.String(), "  -"+name+" ") {
			t.Errorf("%s has no flag %s", start[1], word)
		}
	}
	for _, line := range []string{"DynamicUser=yes", "NoNewPrivileges=yes", "ProtectSystem=strict", "UMask=0077"} {
		if !bytes.Contains(text, []byte("\n"+line+"\n")) {
			t.Errorf("the unit has no %s", line)
		}
	}
	tool := outside.Tool(t, "systemd-analyze")
	copied := filepath.Join(t.TempDir(), "evenstead.service")
	here := bytes.Replace(text, []byte("/usr/local/bin/evenstead "), []byte("/bin/echo "), 1)
	if err := os.WriteFile(copied, here, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(tool, "verify", "--man=no", copied).CombinedOutput(); err != nil {
		t.Errorf("%v: %s", err, out)
	}
}
