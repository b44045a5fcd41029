package device

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"math/big"
	"net"
	"net/http"
	"net/netip"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"evenstead/outside"
)

var noon = time.Date(2026, time.November, 25, 12, 0, 0, 0, time.UTC)

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func authority(t testing.TB, now time.Time) *Authority {
	t.Helper()
	a, err := NewAuthority("Barn-Board.lan", now)
	must(t, err)
	return a
}

var houseIPs = []netip.Addr{netip.MustParseAddr("192.168.1.20"), netip.MustParseAddr("10.9.0.4"), netip.MustParseAddr("fd12:3456::7")}

// verified checks a leaf for a name at a moment the way a phone does.
func verified(a *Authority, leaf *x509.Certificate, name string, at time.Time) error {
	roots := x509.NewCertPool()
	roots.AddCert(a.cert)
	_, err := leaf.Verify(x509.VerifyOptions{Roots: roots, DNSName: name, CurrentTime: at, KeyUsages: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}})
	return err
}

func TestLeafIsBelievedForTheHouseAlone(t *testing.T) {
	a := authority(t, noon)
	leaf, err := a.Leaf([]string{"barn-board", "barn-board.local", "barn-board.home.arpa", "localhost", "bank.example"}, append(houseIPs, netip.MustParseAddr("203.0.113.9")), noon)
	must(t, err)
	for _, name := range []string{"barn-board", "barn-board.local", "barn-board.home.arpa", "localhost", "192.168.1.20", "10.9.0.4", "fd12:3456::7"} {
		if err := verified(a, leaf.Leaf, name, noon); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, name := range []string{"bank.example", "203.0.113.9", "192.168.1.21", "local"} {
		if err := verified(a, leaf.Leaf, name, noon); err == nil {
			t.Errorf("believed for %s", name)
		}
	}
	for _, at := range []time.Time{noon.Add(-3 * 24 * hours), noon.Add(leafLife + hours)} {
		if err := verified(a, leaf.Leaf, "localhost", at); err == nil {
			t.Errorf("believed at %s", at)
		}
	}
	if d := leaf.Leaf.NotAfter.Sub(leaf.Leaf.NotBefore); d > 825*24*hours {
		t.Errorf("it lives %s: phones refuse more than 825 days", d)
	}
	if _, err := a.Leaf([]string{"bank.example"}, []netip.Addr{netip.MustParseAddr("203.0.113.9")}, noon); err == nil {
		t.Error("a certificate for nobody's address was made")
	}
}

// forged is what a thief of the key would make: a certificate for any name.
func forged(t *testing.T, a *Authority, names []string, ips []net.IP, ca bool) *x509.Certificate {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	must(t, err)
	tmpl := &x509.Certificate{SerialNumber: big.NewInt(7), NotBefore: noon.Add(-hours), NotAfter: noon.Add(hours), DNSNames: names, IPAddresses: ips,
		ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}, IsCA: ca, BasicConstraintsValid: true}
	if ca {
		tmpl.KeyUsage = x509.KeyUsageCertSign
	}
	der, err := x509.CreateCertificate(rand.Reader, tmpl, a.cert, &key.PublicKey, a.key)
	must(t, err)
	c, err := x509.ParseCertificate(der)
	must(t, err)
	return c
}

var forgeries = []struct {
	name string
	dns  []string
	ip   []net.IP
}{
	{"bank.example", []string{"bank.example"}, nil},
	{"example.com", []string{"example.com"}, nil},
	{"notlocal", []string{"notlocal"}, nil},
	{"203.0.113.9", nil, []net.IP{net.ParseIP("203.0.113.9")}},
	{"172.32.0.1", nil, []net.IP{net.ParseIP("172.32.0.1")}},
	{"2001:db8::1", nil, []net.IP{net.ParseIP("2001:db8::1")}},
}

// TestStolenKeyReachesNoFurtherThanTheHouse: what the key signs for other names is
// refused by the constraints in the authority's own certificate.
func TestStolenKeyReachesNoFurtherThanTheHouse(t *testing.T) {
	a := authority(t, noon)
	for _, f := range forgeries {
		if err := verified(a, forged(t, a, f.dns, f.ip, false), f.name, noon); err == nil {
			t.Errorf("believed for %s", f.name)
		}
	}
	for _, name := range []string{"other.local", "x.home.arpa"} {
		if err := verified(a, forged(t, a, []string{name}, nil, false), name, noon); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	// An authority under it is none: the path may have no further step.
	under := forged(t, a, []string{"x.local"}, nil, true)
	if !a.cert.MaxPathLenZero || a.cert.MaxPathLen != 0 {
		t.Error("it may make further authorities")
	}
	if err := under.CheckSignatureFrom(a.cert); err != nil {
		t.Fatalf("the forgery is not signed: %v", err)
	}
}

// openssl runs openssl verify on a leaf with the host or address asked for.
func openssl(t *testing.T, a *Authority, leaf *x509.Certificate, name string) error {
	t.Helper()
	dir := t.TempDir()
	ca, crt := filepath.Join(dir, "ca.pem"), filepath.Join(dir, "leaf.pem")
	must(t, os.WriteFile(ca, a.Certificate(), 0o600))
	must(t, os.WriteFile(crt, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: leaf.Raw}), 0o600))
	how := "-verify_hostname"
	if net.ParseIP(name) != nil {
		how = "-verify_ip"
	}
	out, err := exec.Command("openssl", "verify", "-x509_strict", "-purpose", "sslserver", "-attime", "1795608000", how, name, "-CAfile", ca, crt).CombinedOutput()
	if err != nil {
		return errors.New(strings.TrimSpace(string(out)))
	}
	return nil
}

// TestOpenSSLAgrees holds the certificates to a second judge; 1795608000 is noon
// of 25 November 2026.
func TestOpenSSLAgrees(t *testing.T) {
	outside.Tool(t, "openssl")
	if noon.Unix() != 1795608000 {
		t.Fatalf("noon is %d", noon.Unix())
	}
	a := authority(t, noon)
	leaf, err := a.Leaf([]string{"barn-board", "barn-board.local"}, houseIPs, noon)
	must(t, err)
	for _, name := range []string{"barn-board", "barn-board.local", "192.168.1.20", "fd12:3456::7"} {
		if err := openssl(t, a, leaf.Leaf, name); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := openssl(t, a, leaf.Leaf, "elsewhere.local"); err == nil {
		t.Error("believed for a name it does not have")
	}
	for _, f := range forgeries {
		if err := openssl(t, a, forged(t, a, f.dns, f.ip, false), f.name); err == nil || !strings.Contains(err.Error(), "permitted subtree violation") {
			t.Errorf("%s: %v", f.name, err)
		}
	}
	later := noon.Add(authorityLife - authorityRenew + hours)
	next, err := a.Renewed(later)
	must(t, err)
	leaf, err = next.Leaf([]string{"barn-board.local"}, nil, noon.Add(hours))
	must(t, err)
	if err := openssl(t, a, leaf.Leaf, "barn-board.local"); err != nil {
		t.Errorf("phones with the old authority do not believe what the new one signs: %v", err)
	}
}

func TestAuthorityIsMadeAnewInTime(t *testing.T) {
	a := authority(t, noon)
	if same, err := a.Renewed(noon.Add(authorityLife - authorityRenew - hours)); err != nil || same != a {
		t.Errorf("made anew too early (%v)", err)
	}
	later := noon.Add(authorityLife - authorityRenew + hours)
	next, err := a.Renewed(later)
	must(t, err)
	if next == a || !next.Until().After(a.Until().Add(8*365*24*hours)) || next.Name() != a.Name() {
		t.Errorf("it holds until %s, the old one until %s", next.Until(), a.Until())
	}
	leaf, err := next.Leaf([]string{"barn-board.local"}, nil, later)
	must(t, err)
	for _, root := range []*Authority{a, next} {
		if err := verified(root, leaf.Leaf, "barn-board.local", later); err != nil {
			t.Errorf("after it was made anew: %v", err)
		}
	}
}

func TestClockNotSetIsTold(t *testing.T) {
	if _, err := NewAuthority("x", time.Date(1970, 1, 1, 0, 3, 0, 0, time.UTC)); !errors.Is(err, ErrClock) {
		t.Errorf("a board that woke in 1970 gives %v", err)
	}
}

func keeper(t testing.TB, dir string, clock *time.Time, ips *[]netip.Addr) *Keeper {
	t.Helper()
	k, err := OpenKeeper(dir, "barn-board", func() time.Time { return *clock }, func() []netip.Addr { return *ips })
	must(t, err)
	return k
}

// TestKeeperServes shakes hands as a phone does that believes the authority.
func TestKeeperServes(t *testing.T) {
	now, ips := time.Now(), houseIPs
	k := keeper(t, filepath.Join(t.TempDir(), "house.lan"), &now, &ips)
	l, err := tls.Listen("tcp", "127.0.0.1:0", k.TLS())
	must(t, err)
	defer l.Close()
	go func() { _ = http.Serve(l, http.NotFoundHandler()) }()
	roots := x509.NewCertPool()
	roots.AppendCertsFromPEM(k.Authority().Certificate())
	c := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots}}}
	res, err := c.Get("https://" + l.Addr().String() + "/")
	must(t, err)
	must(t, res.Body.Close())
	if res.TLS.Version < tls.VersionTLS12 {
		t.Errorf("TLS version %x", res.TLS.Version)
	}
	if _, err := tls.Dial("tcp", l.Addr().String(), &tls.Config{RootCAs: roots, MaxVersion: tls.VersionTLS11, MinVersion: tls.VersionTLS10}); err == nil {
		t.Error("an old TLS is spoken")
	}
	if _, err := (&http.Client{}).Get("https://" + l.Addr().String() + "/"); err == nil {
		t.Error("believed by one who has not installed the authority")
	}
}

func TestKeeperFollowsClockAndAddresses(t *testing.T) {
	now, ips := noon, houseIPs
	dir := filepath.Join(t.TempDir(), "house.lan")
	k := keeper(t, dir, &now, &ips)
	first, err := k.Certificate(nil)
	must(t, err)
	now = now.Add(hours)
	if same, err := k.Certificate(nil); err != nil || same != first {
		t.Errorf("made anew without need (%v)", err)
	}
	ips = append(houseIPs[:2:2], netip.MustParseAddr("192.168.7.9"), netip.MustParseAddr("203.0.113.9"))
	now = now.Add(hours)
	moved, err := k.Certificate(nil)
	must(t, err)
	if verified(k.Authority(), moved.Leaf, "192.168.7.9", now) != nil {
		t.Error("a new address is not in the certificate")
	}
	now = now.Add(61 * 24 * hours)
	renewed, err := k.Certificate(nil)
	must(t, err)
	if renewed == moved || renewed.Leaf.NotAfter.Sub(now) < leafLife-hours {
		t.Errorf("a month before its end it still holds until %s", renewed.Leaf.NotAfter)
	}
	old := k.Authority()
	now = now.Add(9 * 365 * 24 * hours)
	leaf, err := k.Certificate(nil)
	must(t, err)
	if k.Authority() == old || verified(old, leaf.Leaf, "localhost", now) != nil {
		t.Error("nine years on the authority is not made anew under the same key")
	}
	again := keeper(t, dir, &now, &ips)
	if again.Authority().Fingerprint() != k.Authority().Fingerprint() {
		t.Error("what was made anew was not kept")
	}
	now = now.Add(-5 * 365 * 24 * hours)
	if _, err := k.Certificate(nil); err != nil {
		t.Errorf("a clock put back by five years: %v", err)
	}
}

func FuzzReadAuthority(f *testing.F) {
	a, err := NewAuthority("x", noon)
	must(f, err)
	cert, key, err := a.PEM()
	must(f, err)
	f.Add(cert, key)
	f.Add(key, cert)
	f.Add([]byte("-----BEGIN CERTIFICATE-----\n-----END CERTIFICATE-----"), []byte{})
	f.Fuzz(func(t *testing.T, cert, key []byte) {
		a, err := ReadAuthority(cert, key)
		if err == nil && (a.cert == nil || a.key == nil) {
			t.Error("half an authority")
		}
	})
}
