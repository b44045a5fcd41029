package device

import (
	"crypto/tls"
	"errors"
	"fmt"
	"io/fs"
	"net/netip"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"
	"time"
)

// Names of the files in a folder.
const (
	keyFile      = "ca.key"
	certFile     = "ca.crt"
	registerFile = "devices.json"
)

// FolderOf is the folder that goes with a stead's file: house.stead.lan beside
// house.stead.
func FolderOf(stead string) string { return stead + ".lan" }

// A Keeper holds the house's authority in its folder and makes the certificates
// that the server shows. Its methods may be called at the same time.
type Keeper struct {
	dir   string
	host  string
	clock func() time.Time
	ips   func() []netip.Addr

	mu    sync.Mutex
	ca    *Authority
	leaf  *tls.Certificate
	names []string
	at    []netip.Addr // the leaf's
	next  time.Time    // when the addresses are looked at again
}

// OpenKeeper opens the folder, and makes it and the authority when they are not
// there. host is the machine's name; ips are its addresses at any moment.
func OpenKeeper(dir, host string, clock func() time.Time, ips func() []netip.Addr) (*Keeper, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("make the folder of the house's keys: %w", err)
	}
	k := &Keeper{dir: dir, host: hostName(host), clock: clock, ips: ips}
	var err error
	if k.ca, err = readAuthority(dir); errors.Is(err, fs.ErrNotExist) {
		if k.ca, err = NewAuthority(host, clock()); err == nil {
			err = writeAuthority(dir, k.ca)
		}
	}
	if err != nil {
		return nil, fmt.Errorf("the house's authority in %s: %w", dir, err)
	}
	return k, nil
}

// readAuthority wraps fs.ErrNotExist when there is no key.
func readAuthority(dir string) (*Authority, error) {
	path := filepath.Join(dir, keyFile)
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if info.Mode().Perm()&0o077 != 0 && runtime.GOOS != "windows" {
		return nil, fmt.Errorf("others can read %s: take that from them with chmod 600, or delete the folder, which pairs every phone anew", path)
	}
	key, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	cert, err := os.ReadFile(filepath.Join(dir, certFile))
	if err != nil {
		return nil, fmt.Errorf("the key has lost its certificate; delete the folder, which pairs every phone anew: %v", err)
	}
	return ReadAuthority(cert, key)
}

// writeAuthority writes the certificate first, so that a key never stands alone.
func writeAuthority(dir string, a *Authority) error {
	cert, key, err := a.PEM()
	if err != nil {
		return err
	}
	if err := replace(filepath.Join(dir, certFile), cert); err != nil {
		return err
	}
	return replace(filepath.Join(dir, keyFile), key)
}

// replace puts a whole new file, which its owner alone can read, in the place of
// an old one: written beside it, brought to disk, then renamed.
func replace(path string, b []byte) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"-*") // made with mode 0600
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(f.Name()))
		}
	}()
	_, err = f.Write(b)
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	return err
}

// Authority is the house's authority as it stands.
func (k *Keeper) Authority() *Authority {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.ca
}

// Names are the names and addresses by which the server may be called.
func (k *Keeper) Names() ([]string, []netip.Addr) {
	k.mu.Lock()
	defer k.mu.Unlock()
	return slices.Clone(k.names), slices.Clone(k.at)
}

// look is how often the machine's addresses are looked at again.
const look = time.Minute

// Certificate is the server's certificate at this moment, for tls.Config. It is
// made anew in good time, and when the machine's addresses have changed.
func (k *Keeper) Certificate(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	now := k.clock()
	if k.leaf != nil && now.Before(k.next) && now.After(k.next.Add(-2*look)) {
		return k.leaf, nil
	}
	ips := k.private()
	if k.leaf != nil && slices.Equal(ips, k.at) && k.leaf.Leaf.NotAfter.Sub(now) > leafRenew && !now.Before(k.leaf.Leaf.NotBefore) {
		k.next = now.Add(look)
		return k.leaf, nil
	}
	if err := k.renew(ips, now); err != nil {
		return nil, err
	}
	k.next = now.Add(look)
	return k.leaf, nil
}

// renew makes a new leaf, and a new authority first when its time has come. k.mu
// is held.
func (k *Keeper) renew(ips []netip.Addr, now time.Time) error {
	ca, err := k.ca.Renewed(now)
	if err != nil {
		return err
	}
	if ca != k.ca {
		if err := writeAuthority(k.dir, ca); err != nil {
			return fmt.Errorf("keep the house's authority made anew: %w", err)
		}
		k.ca = ca
	}
	names := []string{"localhost"}
	if k.host != "" && k.host != "localhost" {
		names = append(names, k.host, k.host+".local", k.host+".home.arpa")
	}
	leaf, err := k.ca.Leaf(names, ips, now)
	if err != nil {
		return err
	}
	k.leaf, k.at, k.names = leaf, ips, leaf.Leaf.DNSNames
	return nil
}

// private are the machine's own private addresses, in order, this machine's loopback
// with them.
func (k *Keeper) private() []netip.Addr {
	list := []netip.Addr{netip.MustParseAddr("127.0.0.1"), netip.IPv6Loopback()}
	for _, ip := range k.ips() {
		if ip = ip.Unmap().WithZone(""); Private(ip) && !ip.IsLoopback() && !(ip.Is6() && ip.IsLinkLocalUnicast()) {
			list = append(list, ip)
		}
	}
	slices.SortFunc(list, netip.Addr.Compare)
	return slices.Compact(list)
}

// TLS is the server's side of a connection: TLS 1.2 or later.
func (k *Keeper) TLS() *tls.Config {
	return &tls.Config{MinVersion: tls.VersionTLS12, GetCertificate: k.Certificate, NextProtos: []string{"http/1.1"}}
}
