package store

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/google/uuid"

	"evenstead/book"
)

// The test binary serves as a second process when asked to by these names.
const (
	actName    = "EVENSTEAD_TEST_ACT"    // "write" or "open"
	pathName   = "EVENSTEAD_TEST_PATH"   // the store
	writerName = "EVENSTEAD_TEST_WRITER" // number of the writer
	mostName   = "EVENSTEAD_TEST_MOST"   // entries to write; 0: until killed
)

func TestMain(m *testing.M) {
	if act := os.Getenv(actName); act != "" {
		if err := child(act); err != nil {
			fmt.Println("error:", err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

// child writes entries one by one and prints the number of each once Add has
// returned; or only opens the store.
func child(act string) error {
	writer, _ := strconv.Atoi(os.Getenv(writerName))
	most, _ := strconv.Atoi(os.Getenv(mostName))
	ctx := context.Background()
	s, err := Open(ctx, os.Getenv(pathName), time.Now)
	if err != nil || act == "open" {
		return err
	}
	for n := 0; most == 0 || n < most; n++ {
		if err := s.Add(ctx, []book.Entry{dip(writer, n)}); err != nil {
			return err
		}
		fmt.Println(n)
	}
	return s.Close()
}

// another starts the test binary as a second process.
func another(t *testing.T, program, act, path string, writer, most int) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(program)
	cmd.Env = append(os.Environ(), actName+"="+act, pathName+"="+path,
		writerName+"="+strconv.Itoa(writer), mostName+"="+strconv.Itoa(most))
	return cmd
}

func self(t *testing.T) string {
	t.Helper()
	path, err := os.Executable()
	must(t, err)
	return path
}

// TestAcknowledgedEntriesSurviveAKill kills a writing process at random moments
// and finds every entry it was told is kept, each once.
func TestAcknowledgedEntriesSurviveAKill(t *testing.T) {
	kills := 200
	if testing.Short() {
		kills = 20
	}
	const perStore = 20
	rng := rand.New(rand.NewPCG(2026, 11))
	for done := 0; done < kills; done += perStore {
		path := filepath.Join(t.TempDir(), "stead.db")
		kept := map[int]int{} // entries acknowledged, by writer
		for w := range perStore {
			kept[w] = killed(t, path, w, time.Duration(rng.Int64N(int64(40*time.Millisecond))))
		}
		compare(t, path, kept)
	}
}

// killed runs a writer, kills it some time after its first entry was acknowledged
// (or after it started, for every fourth) and returns how many were.
func killed(t *testing.T, path string, writer int, after time.Duration) (acknowledged int) {
	t.Helper()
	cmd := another(t, self(t), "write", path, writer, 0)
	out, err := cmd.StdoutPipe()
	must(t, err)
	must(t, cmd.Start())
	kill := func() { time.AfterFunc(after, func() { cmd.Process.Kill() }) }
	if writer%4 == 0 {
		kill()
	}
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		n, err := strconv.Atoi(lines.Text())
		if err != nil && lines.Text() != "" && lines.Text()[0] == 'e' {
			t.Fatalf("writer %d: %s", writer, lines.Text())
		}
		if err == nil && n == acknowledged {
			acknowledged++
		}
		if acknowledged == 1 && writer%4 != 0 {
			kill()
		}
	}
	cmd.Wait()
	return acknowledged
}

// compare checks that each writer's entries are there once: all that were
// acknowledged, and at most one more that was kept but not yet told.
func compare(t *testing.T, path string, kept map[int]int) {
	t.Helper()
	s := opened(t, path)
	must(t, s.Verify(t.Context()))
	times := map[uuid.UUID]int{}
	for _, e := range read(t, s) {
		times[e.ID]++
	}
	total := 0
	for w, n := range kept {
		total += n
		for i := range n {
			if times[id(w, i)] != 1 {
				t.Errorf("writer %d: entry %d of %d acknowledged is there %d times", w, i, n, times[id(w, i)])
			}
		}
	}
	if extra := len(times) - total; extra < 0 || extra > len(kept) {
		t.Errorf("%d entries, %d acknowledged by %d writers", len(times), total, len(kept))
	}
	if total == 0 {
		t.Error("no entry was acknowledged: the kills came too early to show anything")
	}
}

func TestTwoProcessesWriteAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stead.db")
	const each = 60
	var cmds []*exec.Cmd
	for w := range 2 {
		cmd := another(t, self(t), "write", path, w, each)
		must(t, cmd.Start())
		cmds = append(cmds, cmd)
	}
	for w, cmd := range cmds {
		if err := cmd.Wait(); err != nil {
			t.Errorf("writer %d: %v", w, err)
		}
	}
	compare(t, path, map[int]int{0: each, 1: each})
}
