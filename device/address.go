package device

import (
	"net"
	"net/netip"
)

// Addresses are those of the machine now; none when they can't be had.
func Addresses() []netip.Addr {
	found, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	var list []netip.Addr
	for _, a := range found {
		if n, ok := a.(*net.IPNet); ok {
			if ip, ok := netip.AddrFromSlice(n.IP); ok {
				list = append(list, ip.Unmap())
			}
		}
	}
	return list
}
