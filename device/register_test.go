package device

import (
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func register(t testing.TB, dir string, clock *time.Time) *Register {
	t.Helper()
	r, err := OpenRegister(dir, func() time.Time { return *clock })
	must(t, err)
	return r
}

func offered(t testing.TB, r *Register, role Role) string {
	t.Helper()
	code, _, err := r.Offer(role)
	must(t, err)
	return code
}

func paired(t testing.TB, r *Register, role Role, name string) (string, Device) {
	t.Helper()
	token, d, err := r.Pair(offered(t, r, role), name, "192.168.1.7")
	must(t, err)
	return token, d
}

func TestCodeWorksOnce(t *testing.T) {
	now := noon
	r := register(t, t.TempDir(), &now)
	code := offered(t, r, Helper)
	typed := strings.ToLower(strings.ReplaceAll(code, "-", " "))
	token, d, err := r.Pair(typed, "  Ada's\x00 phone ", "192.168.1.7")
	must(t, err)
	if d.Role != Helper || d.Name != "Ada's phone" || len(token) < 43 {
		t.Errorf("paired %+v with a token of %d signs", d, len(token))
	}
	if _, _, err := r.Pair(code, "another", "192.168.1.8"); !errors.Is(err, ErrCode) {
		t.Errorf("the code a second time: %v", err)
	}
	if got, err := r.Known(token, "192.168.1.7"); err != nil || got.ID != d.ID {
		t.Errorf("known as %+v, %v", got, err)
	}
}

func TestCodeGrowsOld(t *testing.T) {
	now := noon
	r := register(t, t.TempDir(), &now)
	code := offered(t, r, Household)
	now = now.Add(CodeLife)
	if _, _, err := r.Pair(code, "x", ""); !errors.Is(err, ErrCode) {
		t.Errorf("after ten minutes: %v", err)
	}
	code = offered(t, r, Household)
	now = now.Add(-3 * 365 * 24 * hours)
	if _, _, err := r.Pair(code, "x", ""); !errors.Is(err, ErrCode) {
		t.Errorf("a code from a clock that was years ahead: %v", err)
	}
}

func TestWrongCodesWithdrawTheRightOne(t *testing.T) {
	now := noon
	r := register(t, t.TempDir(), &now)
	code := offered(t, r, Household)
	for i := range mostWrong {
		if _, _, err := r.Pair("0000-000"+string(alphabet[i]), "thief", ""); !errors.Is(err, ErrCode) {
			t.Fatalf("try %d: %v", i, err)
		}
	}
	if _, _, err := r.Pair(code, "x", ""); !errors.Is(err, ErrCode) {
		t.Errorf("after %d wrong codes the right one answers %v", mostWrong, err)
	}
	if n, err := r.Waiting(); err != nil || n != 0 {
		t.Errorf("%d codes wait, %v", n, err)
	}
	for _, odd := range []string{"", "-", strings.Repeat("A", 1<<20), "\x00", "🙂🙂🙂🙂"} {
		offered(t, r, Helper)
		if _, _, err := r.Pair(odd, "x", ""); !errors.Is(err, ErrCode) {
			t.Errorf("%.10q pairs: %v", odd, err)
		}
	}
}

// TestOnlyHashesAreKept looks for codes and tokens in all that was written.
func TestOnlyHashesAreKept(t *testing.T) {
	now, dir := noon, t.TempDir()
	r := register(t, dir, &now)
	token, _ := paired(t, r, Household, "phone")
	code := offered(t, r, Helper)
	b, err := os.ReadFile(filepath.Join(dir, registerFile))
	must(t, err)
	for _, secret := range []string{token, code, tidyCode(code)} {
		if strings.Contains(string(b), secret) {
			t.Errorf("the file holds %s", secret)
		}
	}
	info, err := os.Stat(filepath.Join(dir, registerFile))
	must(t, err)
	if info.Mode().Perm() != 0o600 {
		t.Errorf("mode %o", info.Mode().Perm())
	}
}

func TestRevokedDeviceIsAStranger(t *testing.T) {
	now, dir := noon, t.TempDir()
	r := register(t, dir, &now)
	token, d := paired(t, r, Household, "lost phone")
	other, _ := paired(t, r, Helper, "kept phone")
	elsewhere := register(t, dir, &now) // as the command line does
	if _, err := elsewhere.Revoke(d.ID); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Known(token, ""); !errors.Is(err, ErrUnknown) {
		t.Errorf("a revoked device: %v", err)
	}
	if _, err := r.Known(other, ""); err != nil {
		t.Errorf("the other device: %v", err)
	}
	if _, err := r.Revoke(d.ID); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("revoked again: %v", err)
	}
	for _, bad := range []string{"", "x", token + "x", token[:42]} {
		if _, err := r.Known(bad, ""); !errors.Is(err, ErrUnknown) {
			t.Errorf("token %q: %v", bad, err)
		}
	}
}

func TestDevicesAwayTooLongAreForgotten(t *testing.T) {
	now := noon
	r := register(t, t.TempDir(), &now)
	tokens := map[Role]string{}
	for _, role := range Roles() {
		tokens[role], _ = paired(t, r, role, role.String())
	}
	know := func(role Role) bool { _, err := r.Known(tokens[role], "10.0.0.1"); return err == nil }
	for _, step := range []struct {
		after                    time.Duration
		visitor, helper, houshld bool
	}{{24 * hours, true, true, true}, {25 * hours, false, true, true}, {100 * 24 * hours, false, true, true}, {121 * 24 * hours, false, false, true}, {401 * 24 * hours, false, false, false}} {
		now = now.Add(step.after)
		if v, h, o := know(Visitor), know(Helper), know(Household); v != step.visitor || h != step.helper || o != step.houshld {
			t.Errorf("%s later: visitor %v, helper %v, household %v", step.after, v, h, o)
		}
	}
}

func TestWhenSeenIsKept(t *testing.T) {
	now, dir := noon, t.TempDir()
	r := register(t, dir, &now)
	token, _ := paired(t, r, Helper, "phone")
	before, err := os.Stat(filepath.Join(dir, registerFile))
	must(t, err)
	for range 20 {
		now = now.Add(time.Second)
		_, err := r.Known(token, "192.168.1.7")
		must(t, err)
	}
	after, err := os.Stat(filepath.Join(dir, registerFile))
	must(t, err)
	if !os.SameFile(before, after) {
		t.Error("every request writes the file")
	}
	now = now.Add(2 * hours)
	_, err = r.Known(token, "10.0.0.9")
	must(t, err)
	list, err := register(t, dir, &now).Devices()
	must(t, err)
	if len(list) != 1 || !list[0].Seen.Equal(now) || list[0].From != "10.0.0.9" {
		t.Errorf("kept %+v", list)
	}
}

// TestManyAtOnce: two processes pair and revoke on one file, and nothing is lost.
func TestManyAtOnce(t *testing.T) {
	now, dir := noon, t.TempDir()
	const each = 12
	var all sync.WaitGroup
	for range 2 {
		r := register(t, dir, &now)
		for range each {
			all.Go(func() {
				for {
					code, _, err := r.Offer(Household)
					if err != nil {
						t.Error(err)
						return
					}
					if _, _, err = r.Pair(code, "phone", ""); err == nil {
						return
					} else if !errors.Is(err, ErrCode) { // pushed out by five newer codes
						t.Error(err)
						return
					}
				}
			})
		}
	}
	all.Wait()
	list, err := register(t, dir, &now).Devices()
	must(t, err)
	if len(list) != 2*each {
		t.Errorf("%d devices, want %d", len(list), 2*each)
	}
}

func TestOneCodeOneDevice(t *testing.T) {
	now := noon
	r := register(t, t.TempDir(), &now)
	code := offered(t, r, Helper)
	var all sync.WaitGroup
	var mu sync.Mutex
	got := 0
	for range 9 {
		all.Go(func() {
			if _, _, err := r.Pair(code, "x", ""); err == nil {
				mu.Lock()
				got++
				mu.Unlock()
			}
		})
	}
	all.Wait()
	if got != 1 {
		t.Errorf("one code paired %d devices at once", got)
	}
}

func TestDamagedListIsTold(t *testing.T) {
	now := noon
	for _, text := range []string{"{", "[]", `{"form":2}`, `{"form":1,"devices":[{"role":"host"}]}`, `{"form":1,"devices":[{"token":"ab"}]}`, `{"form":1,"more":1}`, ""} {
		dir := t.TempDir()
		must(t, os.WriteFile(filepath.Join(dir, registerFile), []byte(text), 0o600))
		if _, err := OpenRegister(dir, func() time.Time { return now }); err == nil || !strings.Contains(err.Error(), registerFile) {
			t.Errorf("%s gives %v", text, err)
		}
	}
}

func TestLockLeftBehindIsTaken(t *testing.T) {
	now, dir := noon, t.TempDir()
	r := register(t, dir, &now)
	path := filepath.Join(dir, registerFile+".lock")
	must(t, os.WriteFile(path, nil, 0o600))
	old := time.Now().Add(-time.Minute)
	must(t, os.Chtimes(path, old, old))
	offered(t, r, Helper)
}

func TestTriesLockOut(t *testing.T) {
	var tries Tries
	now := noon
	for i := range freeTries - 1 {
		tries.Wrong("a", now)
		if w := tries.Wait("a", now); w != 0 {
			t.Fatalf("after %d wrong codes it waits %s", i+1, w)
		}
	}
	want := firstWait
	for range 20 {
		tries.Wrong("a", now)
		if w := tries.Wait("a", now); w != want {
			t.Fatalf("waits %s, want %s", w, want)
		}
		now = now.Add(want)
		want = min(2*want, longestOut)
	}
	if w := tries.Wait("b", now); w != 0 {
		t.Errorf("another address waits %s", w)
	}
	tries.Wrong("a", now)
	tries.Right("a")
	if w := tries.Wait("a", now); w != 0 {
		t.Errorf("after the right code it waits %s", w)
	}
	for i := range 3 * mostKept {
		tries.Wrong(strings.Repeat("x", i%7)+string(rune('a'+i%26))+time.Duration(i).String(), now)
	}
	if n := len(tries.by); n > mostKept {
		t.Errorf("%d addresses are remembered", n)
	}
}

// TestPace: over any time no key does more than its burst and what it is given back.
func TestPace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Pace{Burst: float64(rapid.IntRange(1, 50).Draw(t, "burst")), Second: rapid.Float64Range(0.1, 20).Draw(t, "second")}
		now, done := noon, 0
		for range rapid.IntRange(1, 200).Draw(t, "asks") {
			now = now.Add(time.Duration(rapid.IntRange(-1000, 1000).Draw(t, "ms")) * time.Millisecond)
			if p.Let("a", now) {
				done++
			}
		}
		// A clock that swings may give back for each swing, never more than for its length.
		if most := p.Burst + p.Second*200; float64(done) > most+1 {
			t.Fatalf("%d done, at most %g", done, most)
		}
	})
	p := Pace{Burst: 3, Second: 1}
	for i, want := range []bool{true, true, true, false, false} {
		if got := p.Let("a", noon); got != want {
			t.Errorf("ask %d: %v", i, got)
		}
	}
	if !p.Let("b", noon) || !p.Let("a", noon.Add(time.Second)) || p.Let("a", noon.Add(time.Second)) {
		t.Error("another key, or the next second")
	}
}

func TestRoles(t *testing.T) {
	for _, r := range Roles() {
		got, err := ParseRole(r.String())
		if err != nil || got != r {
			t.Errorf("%s reads as %s, %v", r, got, err)
		}
	}
	for _, text := range []string{"host", "nobody", "", "Household", "admin"} {
		if r, err := ParseRole(text); err == nil {
			t.Errorf("%q reads as %s", text, r)
		}
	}
	now := noon
	if _, _, err := register(t, t.TempDir(), &now).Offer(Host); err == nil {
		t.Error("a device can be paired as the host")
	}
}

func FuzzCode(f *testing.F) {
	f.Add("4F7K-Q2ZM")
	f.Add("oil-u 0")
	f.Add("0\v-")
	f.Fuzz(func(t *testing.T, text string) {
		if once := tidyCode(text); len(text) <= 64 && tidyCode(once) != once && len(once) <= 64 {
			t.Errorf("%q is tidied to %q and then to %q", text, once, tidyCode(once))
		}
	})
}

func FuzzRegister(f *testing.F) {
	f.Add([]byte(`{"form":1,"devices":[{"id":"a","name":"b","role":"helper","token":"` + strings.Repeat("ab", 32) + `","paired":"2026-11-25T12:00:00Z","seen":"2026-11-25T12:00:00Z","from":""}],"offers":[],"wrong":0}`))
	f.Add([]byte(`{"form":1,"devices":[{"role":"host"}]}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		k, err := parse(b)
		if err != nil {
			return
		}
		for _, d := range k.Devices {
			if d.Role >= Host {
				t.Error("a device is the host")
			}
		}
		if _, err := json.Marshal(k); err != nil && !strings.Contains(err.Error(), "year") {
			t.Error(err)
		}
	})
}
