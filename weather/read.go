package weather

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"io"
)

// Options say how a file is to be read.
type Options struct {
	Name     string // what the file is called in notes and errors
	Units    Units  // Auto: found from the values
	MaxBytes int64  // most bytes of text, unpacked; 0 means 256 MB
}

const (
	defaultMaxBytes = 256 << 20
	peekSize        = 64 << 10 // enough of the file to tell its form and its order of dates
	maxLine         = 64 << 10
)

// Read reads one station's daily record. It knows, plain or gzipped:
//
//	GHCN-Daily .dly    USW00012816196005PRCP    0  6    0  6 …
//	GHCN-Daily CSV     USW00012816,19600517,PRCP,0,,,0,
//	NCEI CSV           STATION,NAME,DATE,PRCP,TMAX,TMIN
//	plain CSV          date,rain_mm,tmin_c,tmax_c
//
// Fields may be parted by commas, semicolons or tabs, columns stand in any order,
// and dates are 2012-01-31, 20120131, 1/31/2012 or 31/1/2012. Memory does not
// grow with the file. Every error is a *Fault.
func Read(in io.Reader, o Options) (*Record, error) {
	r, err := read(in, o)
	if err == nil {
		return r, nil
	}
	var f *Fault
	if !errors.As(err, &f) {
		f = &Fault{What: "cannot be read: " + err.Error(), Mend: "check the file and try again", Err: err}
	}
	f.Source = o.Name
	return nil, f
}

func read(in io.Reader, o Options) (*Record, error) {
	text, err := openText(in, o.MaxBytes)
	if err != nil {
		return nil, err
	}
	s := newSheet()
	if err := s.parse(text); err != nil {
		return nil, err
	}
	if s.rows == 0 {
		return nil, faultAt(0, "check that it is the daily file and not only its heading", "the file holds no days")
	}
	return s.record(o)
}

// lines gives out the lines of a text, within bounds.
type lines struct {
	r    *bufio.Reader
	left int64
	max  int64
	n    int // lines given out
	gz   bool
}

// openText unpacks a gzip file and refuses what is not text.
func openText(in io.Reader, maxBytes int64) (*lines, error) {
	if maxBytes <= 0 {
		maxBytes = defaultMaxBytes
	}
	l := &lines{r: bufio.NewReaderSize(in, peekSize), left: maxBytes, max: maxBytes}
	head, _ := l.r.Peek(2)
	if bytes.Equal(head, []byte{0x1f, 0x8b}) {
		z, err := gzip.NewReader(l.r)
		if err != nil {
			return nil, damaged(err)
		}
		l.r, l.gz = bufio.NewReaderSize(z, peekSize), true
	}
	return l, l.check()
}

func (l *lines) check() error {
	head, err := l.r.Peek(peekSize)
	switch {
	case len(head) == 0 && l.gz && err != nil && err != io.EOF:
		return damaged(err)
	case len(head) == 0 && err != nil && err != io.EOF:
		return err
	case len(bytes.TrimSpace(head)) == 0 && len(head) < peekSize:
		return faultAt(0, "download it again", "the file is empty")
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return faultAt(0, "unpack it, or save the sheet as CSV", "this is a zip archive or a spreadsheet, not text")
	case bytes.HasPrefix(head, []byte{0xff, 0xfe}), bytes.HasPrefix(head, []byte{0xfe, 0xff}):
		return faultAt(0, "save it as CSV in UTF-8", "the text is in UTF-16")
	case bytes.IndexByte(head, 0) >= 0:
		return faultAt(0, "give the daily file as CSV or .dly", "this is not text")
	}
	if bytes.HasPrefix(head, []byte("\xef\xbb\xbf")) {
		_, err = l.r.Discard(3)
		return err
	}
	return nil
}

func damaged(err error) *Fault {
	f := faultAt(0, "download it again", "the gzip file is cut short or damaged")
	f.Err = err
	return f
}

// next returns the next line that is not blank and not a # comment, without its
// ending; io.EOF after the last. The bytes are good until the next call.
func (l *lines) next() ([]byte, error) {
	for {
		line, err := l.r.ReadSlice('\n')
		l.left -= int64(len(line))
		if len(line) > 0 {
			l.n++
		}
		switch {
		case l.left < 0:
			return nil, faultAt(l.n, "give one station, or fewer years", "the text is longer than %s MB", thousands(int(l.max>>20)))
		case errors.Is(err, bufio.ErrBufferFull):
			return nil, faultAt(l.n, "check that it is a daily weather file", "the line is longer than %s bytes", thousands(maxLine))
		case err != nil && err != io.EOF && l.gz:
			return nil, damaged(err)
		case err != nil && err != io.EOF:
			return nil, err
		}
		line = bytes.TrimRight(line, "\r\n \t\x1a")
		if len(line) > 0 && line[0] != '#' {
			return line, nil
		}
		if err == io.EOF {
			return nil, io.EOF
		}
	}
}

// ahead returns the text that can be seen without reading on.
func (l *lines) ahead() []byte {
	head, _ := l.r.Peek(peekSize)
	return head
}
