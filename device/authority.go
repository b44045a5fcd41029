package device

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha1" // #nosec G505 -- the name of a key (RFC 5280, 4.2.1.2), not a proof
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"fmt"
	"math/big"
	"net"
	"net/netip"
	"regexp"
	"slices"
	"strings"
	"time"
)

// Lives of certificates. Phones refuse a server's certificate of more than 825
// days (CA/Browser Forum, Baseline Requirements 1.7, section 6.3.2); those here
// are made anew long before.
const (
	authorityLife  = 10 * 365 * 24 * hours
	authorityRenew = 365 * 24 * hours // what is left of it when it is made anew
	leafLife       = 90 * 24 * hours
	leafRenew      = 30 * 24 * hours
	backdate       = 48 * hours // for phones whose clocks are slow
)

// An Authority is a certificate authority whose certificates phones believe for
// the addresses of a house's own network and for nothing else: that is written
// into its own certificate as name constraints (RFC 5280, section 4.2.1.10).
type Authority struct {
	cert *x509.Certificate
	key  *ecdsa.PrivateKey
}

// networks are the addresses that no one outside a house can have: RFC 1918,
// RFC 3927, RFC 4193 and the machine itself.
var networks = []netip.Prefix{
	netip.MustParsePrefix("10.0.0.0/8"), netip.MustParsePrefix("172.16.0.0/12"), netip.MustParsePrefix("192.168.0.0/16"),
	netip.MustParsePrefix("169.254.0.0/16"), netip.MustParsePrefix("127.0.0.0/8"),
	netip.MustParsePrefix("fc00::/7"), netip.MustParsePrefix("fe80::/10"), netip.MustParsePrefix("::1/128"),
}

// domains are the names that no one outside a house can have: RFC 6762 (.local),
// RFC 8375 (.home.arpa), RFC 6761 (localhost).
var domains = []string{"local", "home.arpa", "localhost"}

// Private reports whether an address is one of a house's own network.
func Private(ip netip.Addr) bool {
	ip = ip.Unmap().WithZone("")
	return slices.ContainsFunc(networks, func(p netip.Prefix) bool { return p.Contains(ip) })
}

// oldest is before this program was written: a clock that shows less was never set.
var oldest = time.Date(2026, time.January, 1, 0, 0, 0, 0, time.UTC)

// ErrClock says that the machine's clock can't be right.
var ErrClock = errors.New("the clock of this machine is not set")

// NewAuthority makes an authority for the network that a host is in. host is its
// name, with which phones may call it; "" leaves that out.
func NewAuthority(host string, now time.Time) (*Authority, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, fmt.Errorf("make the key of the house's authority: %w", err)
	}
	may := slices.Clone(domains)
	if host = hostName(host); host != "" && !slices.Contains(may, host) {
		may = append(may, host)
	}
	return sign(key, "Evenstead of this house "+hex.EncodeToString(keyID(&key.PublicKey)[:3]), may, now)
}

// sign makes the authority's own certificate.
func sign(key *ecdsa.PrivateKey, name string, may []string, now time.Time) (*Authority, error) {
	if now.Before(oldest) {
		return nil, fmt.Errorf("%w: it says %s; set it and start again", ErrClock, now.Format("2 January 2006"))
	}
	serial, err := newSerial()
	if err != nil {
		return nil, err
	}
	t := &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: name},
		NotBefore: now.Add(-backdate).UTC(), NotAfter: now.Add(authorityLife).UTC(),
		IsCA: true, BasicConstraintsValid: true, MaxPathLenZero: true,
		KeyUsage:                    x509.KeyUsageCertSign,
		ExtKeyUsage:                 []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		SubjectKeyId:                keyID(&key.PublicKey),
		PermittedDNSDomainsCritical: true, PermittedDNSDomains: may,
	}
	for _, p := range networks {
		t.PermittedIPRanges = append(t.PermittedIPRanges, &net.IPNet{IP: p.Addr().AsSlice(), Mask: net.CIDRMask(p.Bits(), p.Addr().BitLen())})
	}
	der, err := x509.CreateCertificate(rand.Reader, t, t, &key.PublicKey, key)
	if err != nil {
		return nil, fmt.Errorf("make the certificate of the house's authority: %w", err)
	}
	cert, err := x509.ParseCertificate(der)
	return &Authority{cert, key}, err
}

// keyID is the first of the two ways of RFC 5280, section 4.2.1.2: a name, not a
// proof.
func keyID(pub *ecdsa.PublicKey) []byte {
	b, err := pub.Bytes()
	if err != nil { // a key made or read here is on its curve
		return make([]byte, sha1.Size)
	}
	sum := sha1.Sum(b) // #nosec G401 -- the name of a key (RFC 5280, 4.2.1.2), not a proof
	return sum[:]
}

func newSerial() (*big.Int, error) {
	b := make([]byte, 16)
	if _, err := rand.Read(b); err != nil {
		return nil, fmt.Errorf("make a serial number: %w", err)
	}
	b[0] = b[0]&0x7f | 0x40 // positive, and always of 16 bytes
	return new(big.Int).SetBytes(b), nil
}

var label = regexp.MustCompile(`^[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?$`)

// hostName is the first label of a machine's name as certificates hold it; "" when
// it can't be one.
func hostName(host string) string {
	host, _, _ = strings.Cut(strings.ToLower(host), ".")
	if !label.MatchString(host) {
		return ""
	}
	return host
}

// ReadAuthority reads the two texts that PEM writes.
func ReadAuthority(cert, key []byte) (*Authority, error) {
	c, _ := pem.Decode(cert)
	k, _ := pem.Decode(key)
	if c == nil || c.Type != "CERTIFICATE" || k == nil || k.Type != "EC PRIVATE KEY" {
		return nil, errors.New("the certificate or the key is not in its form (PEM)")
	}
	a := &Authority{}
	var err error
	if a.cert, err = x509.ParseCertificate(c.Bytes); err != nil {
		return nil, fmt.Errorf("read the certificate: %w", err)
	}
	if a.key, err = x509.ParseECPrivateKey(k.Bytes); err != nil {
		return nil, fmt.Errorf("read the key: %w", err)
	}
	if !a.key.PublicKey.Equal(a.cert.PublicKey) || !a.cert.IsCA {
		return nil, errors.New("the key is not that of the certificate")
	}
	return a, nil
}

// PEM writes the certificate, which may be given to anyone, and the key, which
// must not.
func (a *Authority) PEM() (cert, key []byte, err error) {
	der, err := x509.MarshalECPrivateKey(a.key)
	if err != nil {
		return nil, nil, fmt.Errorf("write the key: %w", err)
	}
	return a.Certificate(), pem.EncodeToMemory(&pem.Block{Type: "EC PRIVATE KEY", Bytes: der}), nil
}

// Certificate is what phones install, as PEM.
func (a *Authority) Certificate() []byte {
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: a.cert.Raw})
}

// DER is the same in the form that some phones want.
func (a *Authority) DER() []byte { return a.cert.Raw }

// Name is how phones list it.
func (a *Authority) Name() string { return a.cert.Subject.CommonName }

// Until is the last moment at which phones believe it.
func (a *Authority) Until() time.Time { return a.cert.NotAfter }

// Fingerprint is the SHA-256 of the certificate as phones show it, in pairs.
func (a *Authority) Fingerprint() string {
	sum := sha256.Sum256(a.cert.Raw)
	var pairs []string
	for _, b := range sum {
		pairs = append(pairs, fmt.Sprintf("%02X", b))
	}
	return strings.Join(pairs, ":")
}

// Renewed returns the authority to use at a moment: itself, or one of the same
// key and name made anew when a year or less is left. What the new one signs is
// believed by phones that have the old one, for as long as that holds.
func (a *Authority) Renewed(now time.Time) (*Authority, error) {
	if a.cert.NotAfter.Sub(now) > authorityRenew && !now.Before(a.cert.NotBefore) {
		return a, nil
	}
	return sign(a.key, a.cert.Subject.CommonName, a.cert.PermittedDNSDomains, now)
}

// May reports whether phones will believe the authority for a name.
func (a *Authority) May(name string) bool {
	return slices.ContainsFunc(a.cert.PermittedDNSDomains, func(d string) bool { return name == d || strings.HasSuffix(name, "."+d) })
}

// Leaf makes the certificate of a server by its names and addresses. Those that
// the authority may not vouch for are left out; none left is an error.
func (a *Authority) Leaf(names []string, ips []netip.Addr, now time.Time) (*tls.Certificate, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, fmt.Errorf("make a server's key: %w", err)
	}
	serial, err := newSerial()
	if err != nil {
		return nil, err
	}
	t := &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: "Evenstead"},
		NotBefore: now.Add(-backdate).UTC(), NotAfter: now.Add(leafLife).UTC(),
		BasicConstraintsValid: true, KeyUsage: x509.KeyUsageDigitalSignature,
		ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
	}
	if t.NotAfter.After(a.cert.NotAfter) {
		t.NotAfter = a.cert.NotAfter
	}
	for _, n := range names {
		if a.May(n) {
			t.DNSNames = append(t.DNSNames, n)
		}
	}
	for _, ip := range ips {
		if Private(ip) {
			t.IPAddresses = append(t.IPAddresses, ip.Unmap().WithZone("").AsSlice())
		}
	}
	if len(t.DNSNames)+len(t.IPAddresses) == 0 {
		return nil, fmt.Errorf("none of %v and %v is an address of a house's own network: connect to one", names, ips)
	}
	der, err := x509.CreateCertificate(rand.Reader, t, a.cert, &key.PublicKey, a.key)
	if err != nil {
		return nil, fmt.Errorf("make a server's certificate: %w", err)
	}
	leaf, err := x509.ParseCertificate(der)
	return &tls.Certificate{Certificate: [][]byte{der}, PrivateKey: key, Leaf: leaf}, err
}
