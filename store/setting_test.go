package store

import (
	"errors"
	"io/fs"
	"slices"
	"strings"
	"testing"
)

func TestSettingsAreReplacedByName(t *testing.T) {
	s, ctx := fresh(t), t.Context()
	if got, err := s.Settings(ctx); err != nil || len(got) != 0 {
		t.Errorf("a new file has %v, %v", got, err)
	}
	must(t, s.SaveSettings(ctx, []Setting{{"units", "us"}, {"clock", "12"}}))
	must(t, s.SaveSettings(ctx, []Setting{{"units", ""}}))
	got, err := s.Settings(ctx)
	if want := []Setting{{"clock", "12"}, {"units", ""}}; err != nil || !slices.Equal(got, want) {
		t.Errorf("got %v, %v, want %v", got, err, want)
	}
}

func TestSettingsRefuseAllOfABadLot(t *testing.T) {
	s, ctx := fresh(t), t.Context()
	for _, bad := range []Setting{{"", "x"}, {strings.Repeat("n", longestName+1), "x"}, {"n", strings.Repeat("é", longestValue+1)}, {"n\x00", "x"}, {"n", "\xff"}} {
		if err := s.SaveSettings(ctx, []Setting{{"units", "us"}, bad}); !errors.Is(err, fs.ErrInvalid) {
			t.Errorf("%q: %v", bad, err)
		}
	}
	must(t, s.SaveSettings(ctx, []Setting{{strings.Repeat("é", longestName), strings.Repeat("é", longestValue)}}))
	if got, err := s.Settings(ctx); err != nil || len(got) != 1 {
		t.Errorf("kept %d settings, %v", len(got), err)
	}
}
