package book

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"time"

	"evenstead/day"
)

// chainHead is what the chain begins with: the name and number of its form.
const chainHead = "evenstead book 1"

// A Proof is the end of the hash chain over a book: whoever has it can tell later
// whether any of the entries were changed, left out or put in another order.
type Proof struct {
	Sum     string  `json:"sum"` // 64 hexadecimal digits
	Entries int     `json:"entries"`
	Last    day.Day `json:"last"` // the latest day of an entry; 0 without entries
}

// Digest chains entries in their order, which should be that of arrival:
//
//	h0 = SHA-256("evenstead book 1"),  hi = SHA-256(h(i-1) || line i)
//
// with SHA-256 of FIPS 180-4. A line is that of Entry.Line without received, so
// that a book exported and imported again has the same digest. Struck entries
// and strikes count like every other.
func Digest(entries []Entry) (Proof, error) {
	p, _, err := follow(entries, "")
	return p, err
}

// Since finds the digest that a book had earlier: how many of its first entries
// give sum, and the proof of those; ok is false when none do. Capitals and blanks
// around the digits do not matter.
func Since(entries []Entry, sum string) (p Proof, ok bool, err error) {
	sum = strings.ToLower(strings.TrimSpace(sum))
	if raw, bad := hex.DecodeString(sum); bad != nil || len(raw) != sha256.Size {
		return Proof{}, false, fmt.Errorf("%q is not a digest: it has 64 digits from 0 to 9 and a to f", sum)
	}
	return follow(entries, sum)
}

// follow carries the chain to its end, or to where it comes to sum.
func follow(entries []Entry, sum string) (p Proof, found bool, err error) {
	h := sha256.Sum256([]byte(chainHead))
	for i := 0; ; i++ {
		p.Sum, p.Entries = hex.EncodeToString(h[:]), i
		if p.Sum == sum {
			return p, true, nil
		}
		if i == len(entries) {
			return p, false, nil
		}
		if h, err = link(h, entries[i]); err != nil {
			return Proof{}, false, err
		}
		if i == 0 || entries[i].Day > p.Last {
			p.Last = entries[i].Day
		}
	}
}

// link is the chain one entry on.
func link(h [sha256.Size]byte, e Entry) ([sha256.Size]byte, error) {
	e.Received = time.Time{}
	line, err := e.Line()
	if err != nil {
		return h, err
	}
	return sha256.Sum256(append(h[:], line...)), nil
}
