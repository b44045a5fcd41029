package store

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenstead/book"
)

// pictured is a small PNG file of one shade.
func pictured(t testing.TB, shade uint8) []byte {
	t.Helper()
	var b bytes.Buffer
	must(t, png.Encode(&b, shaded(shade)))
	return b.Bytes()
}

func shaded(shade uint8) image.Image {
	img := image.NewGray(image.Rect(0, 0, 8, 8))
	for i := range img.Pix {
		img.Pix[i] = color.Gray{Y: shade}.Y
	}
	return img
}

func TestPhotosComeBackToTheByte(t *testing.T) {
	s, ctx := fresh(t), t.Context()
	must(t, s.Add(ctx, dips(1, 2)))
	var jpg bytes.Buffer
	must(t, jpeg.Encode(&jpg, shaded(9), nil))
	files := [][]byte{pictured(t, 3), jpg.Bytes()}
	for range 2 { // the same file sent twice is one
		for _, f := range files {
			_, err := s.AddPhoto(ctx, id(1, 0), f)
			must(t, err)
		}
	}
	list, err := s.Photos(ctx, id(1, 0))
	must(t, err)
	if len(list) != 2 || list[0].Media != "image/png" || list[1].Media != "image/jpeg" || list[0].Bytes != nil {
		t.Fatalf("photos: %+v", list)
	}
	for i, f := range files {
		got, err := s.Photo(ctx, list[i].Sum)
		if err != nil || !bytes.Equal(got.Bytes, f) || got.Entry != id(1, 0) {
			t.Errorf("photo %d: %d bytes of %d, %v", i, len(got.Bytes), len(f), err)
		}
	}
	if other, err := s.Photos(ctx, id(1, 1)); err != nil || len(other) != 0 {
		t.Errorf("another entry's photos: %v %v", other, err)
	}
}

func TestAddPhotoRefuses(t *testing.T) {
	s, ctx := fresh(t), t.Context()
	must(t, s.Add(ctx, dips(1, 1)))
	big := append(pictured(t, 1), make([]byte, MostPhoto)...)
	for _, c := range []struct {
		entry int
		file  []byte
		kind  error
		say   string
	}{
		{0, []byte("GIF89a and so on"), fs.ErrInvalid, "JPEG or PNG"},
		{0, []byte("<svg onload=alert(1)>"), fs.ErrInvalid, "JPEG or PNG"},
		{0, nil, fs.ErrInvalid, "JPEG or PNG"},
		{0, big, fs.ErrInvalid, "over 4 MB"},
		{7, pictured(t, 1), fs.ErrNotExist, "no entry"},
	} {
		_, err := s.AddPhoto(ctx, id(1, c.entry), c.file)
		told(t, err, c.kind, c.say)
	}
	_, err := s.Photo(ctx, [32]byte{1})
	told(t, err, fs.ErrNotExist, "no photo 01")
}

func TestPhotosCannotBeRewritten(t *testing.T) {
	s := filled(t)
	for _, q := range []string{"DELETE FROM photo", "UPDATE photo SET media = 'image/jpeg'", "INSERT INTO photo (entry, media, sum, bytes) SELECT zeroblob(16), media, sum, bytes FROM photo"} {
		if _, err := s.write.Exec(q); err == nil {
			t.Errorf("%s was let through", q)
		}
	}
}

func TestChangedPhotoIsFound(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stead.db")
	s := opened(t, path)
	must(t, s.Add(t.Context(), dips(1, 1)))
	p, err := s.AddPhoto(t.Context(), id(1, 0), pictured(t, 77))
	must(t, errors.Join(err, s.Close()))
	file, err := os.ReadFile(path)
	must(t, err)
	i := bytes.Index(file, []byte("IDAT"))
	file[i+6] ^= 1
	must(t, os.WriteFile(path, file, 0o600))
	s = opened(t, path)
	_, err = s.Photo(t.Context(), p.Sum)
	told(t, err, ErrCorrupt, "checksum")
	told(t, s.Verify(t.Context()), ErrCorrupt, "checksum")
	told(t, s.Export(t.Context(), &bytes.Buffer{}), ErrCorrupt, "checksum")
}

// TestImportOfPhotosIsChecked changes one part of the photo line of an export at a time.
func TestImportOfPhotosIsChecked(t *testing.T) {
	lines := strings.SplitAfter(exported(t, filled(t)), "\n")
	at := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, `{"photo"`) })
	for _, c := range []struct{ from, to, say string }{
		{`"media":"image/png"`, `"media":"image/jpeg"`, "does not match"},
		{`"sum":"`, `"sum":"zz`, "64 hexadecimal digits"},
		{`"bytes":"iVBOR`, `"bytes":"AAAAA`, "JPEG or PNG"},
		{`"entry":"`, `"entry":"0`, "not a line"},
		{id(2, 1).String(), id(9, 9).String(), "no entry"},
	} {
		bad := slices.Clone(lines)
		bad[at] = strings.Replace(bad[at], c.from, c.to, 1)
		s := fresh(t)
		err := s.Import(t.Context(), strings.NewReader(strings.Join(bad, "")))
		if err == nil || !strings.Contains(err.Error(), c.say) || len(read(t, s)) != 0 {
			t.Errorf("%s: want %q and nothing kept, got %v", c.from, c.say, err)
		}
	}
}

// TestBackupOfAnOlderForm restores a backup from before there were photos.
func TestBackupOfAnOlderForm(t *testing.T) {
	dir := t.TempDir()
	old := &Store{path: filepath.Join(dir, "old.db"), clock: ticking()}
	var err error
	old.write, err = connect(old.path, patience, "&_txlock=immediate", 1)
	must(t, err)
	for range 3 {
		must(t, old.within(t.Context(), "make", step))
	}
	must(t, errors.Join(old.Add(t.Context(), dips(1, 4)), old.write.Close()))
	back := filepath.Join(dir, "back.db")
	must(t, Restore(t.Context(), old.path, back))
	s := opened(t, back)
	if got := read(t, s); !slices.EqualFunc(got, dips(1, 4), book.Same) {
		t.Errorf("%d entries", len(got))
	}
	_, err = s.AddPhoto(t.Context(), id(1, 3), pictured(t, 5))
	must(t, err)
	must(t, s.Verify(t.Context()))
}
