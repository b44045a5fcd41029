// Package device lets the phones of a house reach its stead: a certificate
// authority of the house's own, pairing by a code that works once, and the list
// of paired devices with what each may do.
//
// What it keeps lies in one folder beside the stead's file, readable by its
// owner alone: ca.key, ca.crt and devices.json. It belongs to the machine, not
// to the stead: no backup or export holds it. Of codes and tokens only hashes
// are kept. It knows nothing of pages (package web).
package device
