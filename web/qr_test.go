package web

import (
	"encoding/xml"
	"image"
	"image/color"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	reader "github.com/makiuchi-d/gozxing/qrcode"
	"pgregory.net/rapid"
)

// fataler is a test, or one try of a property.
type fataler interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

// qrImage is a QR drawing as a reader's camera sees it: the path filled, at four
// dots to a module.
func qrImage(t fataler, drawing string) image.Image {
	t.Helper()
	var got struct {
		ViewBox string `xml:"viewBox,attr"`
		Title   string `xml:"title"`
		Paths   []struct {
			D string `xml:"d,attr"`
		} `xml:"path"`
	}
	if err := xml.Unmarshal([]byte(drawing), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Paths) != 1 || got.Title == "" {
		t.Fatalf("%d paths, title %q: want one path and a title", len(got.Paths), got.Title)
	}
	side, err := strconv.Atoi(got.ViewBox[strings.LastIndex(got.ViewBox, " ")+1:])
	if err != nil {
		t.Fatal(err)
	}
	const dots = 4
	img := image.NewGray(image.Rect(0, 0, side*dots, side*dots))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	x, y := 0, 0
	for _, m := range regexp.MustCompile(`M(\d+) (\d+)\.5|m(\d+) 0|h(\d+)`).FindAllStringSubmatch(got.Paths[0].D, -1) {
		n := func(i int) int {
			v, _ := strconv.Atoi(m[i])
			return v
		}
		if m[1] != "" {
			x, y = n(1), n(2)
		}
		x += n(3)
		for dy := range dots {
			for dx := range n(4) * dots {
				img.SetGray(x*dots+dx, y*dots+dy, color.Gray{})
			}
		}
		x += n(4)
	}
	return img
}

func readQR(t fataler, drawing string) string {
	t.Helper()
	bits, err := gozxing.NewBinaryBitmapFromImage(qrImage(t, drawing))
	if err != nil {
		t.Fatal(err)
	}
	// The picture is the code and nothing else; looking for it as in a photo
	// misjudges some.
	pure := map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_PURE_BARCODE: true}
	got, err := reader.NewQRCodeReader().Decode(bits, pure)
	if err != nil {
		t.Fatalf("the code can't be read: %v", err)
	}
	return got.GetText()
}

func TestQRReadsBack(t *testing.T) {
	for _, want := range []string{
		"http://192.168.1.20:8417/pair?code=K7QF-2M9D",
		"a", "ä €", strings.Repeat("http://stead.home/lot/", 40),
	} {
		drawing, err := qrCode(want, "Code")
		if err != nil {
			t.Fatal(err)
		}
		if got := readQR(t, string(drawing)); got != want {
			t.Errorf("read %q, want %q", got, want)
		}
	}
}

func TestQRReadsBackAnyAddress(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.StringMatching(`http://[a-z0-9.]{1,40}:[0-9]{2,5}/[A-Za-z0-9/?=&%_-]{0,120}`).Draw(t, "address")
		drawing, err := qrCode(want, "Code")
		if err != nil {
			t.Fatal(err)
		}
		if got := readQR(t, string(drawing)); got != want {
			t.Fatalf("read %q, want %q", got, want)
		}
	})
}

func TestQRTooMuchOrNothing(t *testing.T) {
	for _, content := range []string{"", strings.Repeat("x", 2332)} {
		if _, err := qrCode(content, "Code"); err == nil {
			t.Errorf("%d bytes made a code", len(content))
		}
	}
}

func TestQRTitleIsEscaped(t *testing.T) {
	drawing, err := qrCode("x", `<b>"lot" & more`)
	if err != nil || strings.Contains(string(drawing), "<b>") {
		t.Errorf("%v, %s", err, drawing)
	}
}
