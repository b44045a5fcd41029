package device

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"time"
)

// alphabet of codes: no letter that is taken for another or for a digit.
const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// Bounds of pairing.
const (
	CodeLife  = 10 * time.Minute
	codeSize  = 8  // signs of 5 bits: 40 bits, with at most mostWrong tries
	mostCodes = 5  // open at once
	mostWrong = 10 // wrong tries, from anywhere, that withdraw every open code
)

// newCode makes a code: "4F7K-Q2ZM".
func newCode() (string, error) {
	b := make([]byte, codeSize)
	if _, err := rand.Read(b); err != nil {
		return "", fmt.Errorf("make a code: %w", err)
	}
	for i := range b {
		b[i] = alphabet[b[i]%byte(len(alphabet))] // 256 is a multiple of 32: no sign is likelier
	}
	return string(b[:codeSize/2]) + "-" + string(b[codeSize/2:]), nil
}

// tidyCode is a code as it is kept, however it was typed: letter case and what is
// neither letter nor digit do not count, and signs that look alike are one.
func tidyCode(text string) string {
	if len(text) > 64 {
		return ""
	}
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' {
			r -= 'a' - 'A'
		}
		switch {
		case r == 'O':
			return '0'
		case r == 'I' || r == 'L':
			return '1'
		case r == 'U':
			return 'V'
		case r >= 'A' && r <= 'Z' || r >= '0' && r <= '9':
			return r
		}
		return -1
	}, text)
}

// tokenSize is 256 bits.
const tokenSize = 32

// newToken makes what a device shows ever after, in signs that a cookie may hold.
func newToken() (string, error) {
	b := make([]byte, tokenSize)
	if _, err := rand.Read(b); err != nil {
		return "", fmt.Errorf("make a token: %w", err)
	}
	return base64.RawURLEncoding.EncodeToString(b), nil
}

// A sum is the SHA-256 of a code or a token: all that is kept of it. Codes live
// ten minutes and tokens have 256 bits, so that no slower sum is called for.
type sum [sha256.Size]byte

func sumOf(text string) sum { return sha256.Sum256([]byte(text)) }

// is compares in a time that tells nothing.
func (s sum) is(o sum) bool { return subtle.ConstantTimeCompare(s[:], o[:]) == 1 }

// MarshalText writes hexadecimal digits.
func (s sum) MarshalText() ([]byte, error) { return []byte(hex.EncodeToString(s[:])), nil }

// UnmarshalText reads them.
func (s *sum) UnmarshalText(text []byte) error {
	if n, err := hex.Decode(s[:], text[:min(len(text), 2*len(s))]); err != nil || n != len(s) || len(text) != 2*len(s) {
		return errors.New("a sum is the SHA-256 of a text, 64 hexadecimal digits")
	}
	return nil
}
