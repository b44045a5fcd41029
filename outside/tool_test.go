package outside

import (
	"path/filepath"
	"testing"
)

// judged notes how a test would end.
type judged struct {
	testing.TB
	failed, skipped bool
}

func (j *judged) Helper()      {}
func (j *judged) Fatal(...any) { j.failed = true; panic(j) }
func (j *judged) Skip(...any)  { j.skipped = true; panic(j) }

func asked(names ...string) (j *judged, path string) {
	j = new(judged)
	defer func() { _ = recover() }()
	path = Tool(j, names...)
	return j, path
}

func TestTool(t *testing.T) {
	if j, path := asked("no-such-tool", "go"); j.failed || j.skipped || filepath.Base(path) == "" {
		t.Errorf("%+v, %s", j, path)
	}
	for _, ci := range []string{"true", ""} {
		t.Setenv("CI", ci)
		if j, _ := asked("no-such-tool"); j.failed != (ci == "true") || j.skipped == j.failed {
			t.Errorf("CI %q: %+v", ci, j)
		}
	}
}
